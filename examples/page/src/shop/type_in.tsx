// Numbers typed in: any row of the stock in its own form, checked by the core before it is kept.
import { signal, useSignal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { goTo } from "../ask/answer/notes";
import { FillingContext } from "../ask/context";
import { Fields } from "../ask/form/fields";
import { Question } from "../ask/question";
import { rowOf, rowsOf } from "../model/catalogue";
import { isRecord } from "../model/node";
import type { Stock } from "../model/nodes";
import { checkerOf, checking, refusal, shelves, type Checker } from "./check";
import { keep } from "./own";

/** The row whose form is open, by its shelf and name. */
const open = signal<{ shelf: string; name: string } | undefined>(undefined);

/** Opens the form of a row and goes there. */
export function typing(shelf: string, name = rowsOf(shelf)[0]?.name ?? ""): void {
  open.value = { shelf, name };
  requestAnimationFrame(() => {
    const select = document.getElementById("row-typed");
    select?.focus();
    select?.scrollIntoView({ block: "start" });
  });
}

export function TypeIn() {
  const at = open.value;
  const checker = at && checkerOf(at.shelf);
  const choose = (value: string) => {
    const [shelf = "", name = ""] = value.split("/");
    open.value = value === "" ? undefined : { shelf, name };
  };
  return (
    <li class="stop">
      <h2>Type a number in</h2>
      <div class="typed">
        <div class="field">
          <label class="label" for="row-typed">Of which</label>
          <select id="row-typed" value={at === undefined ? "" : `${at.shelf}/${at.name}`} onChange={({ currentTarget }) => choose(currentTarget.value)}>
            <option value="">choose</option>
            {[...shelves()].map(([shelf, { field }]) => (
              <optgroup key={shelf} label={field.label}>{rowsOf(shelf).map(({ name, label }) => <option key={name} value={`${shelf}/${name}`}>{label}</option>)}</optgroup>
            ))}
          </select>
        </div>
        {at !== undefined && checker !== undefined && <RowForm key={`${at.shelf}/${at.name}`} {...at} checker={checker} />}
      </div>
    </li>
  );
}

function RowForm({ shelf, name, checker }: { shelf: string; name: string; checker: Checker }) {
  const form = useMemo(() => new Question(checker.entry, checking(checker, name, {}), true), []);
  const stock = form.root.part(checker.field.name) as Stock;
  const part = useMemo(() => stock.layOut(), []);
  const said = useSignal("");
  const label = rowOf(shelf, name)?.label ?? name;
  useEffect(() => () => form.end(), []);
  // What is kept stands in the form as what is usual.
  const given = stock.given.value;
  useEffect(() => {
    if (stock.isStale()) form.vary(() => stock.follow());
  }, [given]);
  const values = part.read();
  const count = isRecord(values) ? Object.keys(values).length : 0;
  const take = async () => {
    const now = part.read();
    if (!isRecord(now) || Object.keys(now).length === 0) {
      said.value = "Nothing was typed yet.";
      return;
    }
    const why = await refusal(shelf, name, now);
    if (why !== undefined) {
      said.value = `Not kept: ${why}.`;
      if (form.wrong.peek()?.leadsTo(stock)) goTo(form.wrong.peek()!);
      return;
    }
    keep(shelf, name, now, { at: Date.now() });
    part.clear();
    said.value = `Kept for ${label}.`;
  };
  return (
    <FillingContext.Provider value={form}>
      <form noValidate aria-label={label} onSubmit={(event) => {
        event.preventDefault();
        void take();
      }}>
        <Fields node={part} />
        <button type="submit" class="plain">{count > 0 ? `Keep ${count === 1 ? "this number" : `these ${count} numbers`}` : "Keep what is typed"}</button> <output>{said}</output>
      </form>
    </FillingContext.Provider>
  );
}
