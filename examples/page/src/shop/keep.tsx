// Beside the answer of a measurement: keeping it in the place of the built-in number, and taking it out again.
import { useSignal } from "@preact/signals";
import { useEffect, useMemo, useRef } from "preact/hooks";
import { sentence, told, isQuantity } from "../ask/answer/value";
import { goTo } from "../ask/answer/notes";
import { FillingContext, useQuestion } from "../ask/context";
import { FieldView } from "../ask/form/fields";
import { Question } from "../ask/question";
import { rowOf } from "../model/catalogue";
import { isRecord, type Members } from "../model/node";
import { nodeAt, Stock } from "../model/nodes";
import type { Json } from "../model/numbers";
import { linkToShop } from "../shell/place";
import { unkept } from "../shell/store";
import { checkerOf, checking, fieldsIn, refusal, type Checker } from "./check";
import { measureOf, type Measure } from "./measures";
import { keep, keepReading, lasting, ownRows, readings, takeOut, takeOutReading } from "./own";
import { same } from "./spread";
import { membersOf, rowsFor, taken } from "./take";
import { dayOf, labelIn, listed } from "./words";

/** How safe it is here, and what to do about it. */
export function Lasting() {
  const words = unkept.value ? "Nothing can be kept on this device: storage is full or forbidden. Your numbers last until this page is closed: export them."
    : lasting.value ? "This browser keeps them until its data are cleared." : "This browser may clear them when space is short: export them.";
  return <p class="lasting" role="status">{words}</p>;
}

export function Keep() {
  const question = useQuestion();
  const measure = measureOf(question.entry.id);
  const answer = question.answer.value;
  const chosen = useSignal(0);
  if (measure === undefined || answer === undefined || question.isExample.value) return null;
  if (Object.keys(measure.takes).length === 0) return <KeepReadings id={measure.id} request={question.sent.value} />;
  const rows = rowsFor(measure, question.root);
  const row = rows[chosen.value] ?? rows[0];
  const checker = row && checkerOf(row.shelf);
  if (row === undefined || checker === undefined) return null;
  return (
    <>
      {rows.length > 1 && (
        <label class="field measured-on">Keep it for <select value={String(chosen.value)} onChange={({ currentTarget }) => (chosen.value = Number(currentTarget.value))}>
          {rows.map(({ shelf, name }, index) => <option key={name} value={String(index)}>{rowOf(shelf, name)?.label}</option>)}
        </select></label>
      )}
      <KeepFor key={`${row.shelf}/${row.name}`} measure={measure} {...row} checker={checker} values={taken(measure, question.sent.value, answer, rowOf(row.shelf, row.name)?.values ?? {})} />
    </>
  );
}

/** What is pressed goes away when it is kept: the focus goes to what stands in its place. */
function useNext(isKept: boolean) {
  const box = useRef<HTMLDivElement>(null);
  const pressed = useRef(false);
  useEffect(() => {
    if (pressed.current) box.current?.querySelector("button")?.focus();
    pressed.current = false;
  }, [isKept]);
  return { box, press: ({ target }: Event) => (pressed.current = target instanceof HTMLButtonElement) };
}

function KeepReadings({ id, request }: { id: string; request: Members }) {
  const kept = readings.value[id];
  const isKept = kept !== undefined && same(kept.request, request);
  const { box, press } = useNext(isKept);
  return (
    <div class="keep" ref={box} onClick={press}>
      <p>No built-in number is replaced by these readings: they are kept with their date, and show in <a href={linkToShop}>Your numbers</a> and at the questions of their kind.</p>
      {isKept
        ? <p role="status">Kept, {dayOf(kept.at)}. <button type="button" class="link" onClick={() => takeOutReading(id)}>Take them out again</button></p>
        : <button type="button" class="plain" onClick={() => keepReading(id, request)}>{kept === undefined ? "Keep these readings" : `Keep these readings in place of those of ${dayOf(kept.at)}`}</button>}
      {isKept && <Lasting />}
    </div>
  );
}

const isScalar = (value: Json | undefined): boolean => value !== undefined && value !== null && (typeof value !== "object" || isQuantity(value));
/** Whether what was measured is what is kept. */
const covers = (kept: Json | undefined, value: Json): boolean =>
  isRecord(value) && !isQuantity(value) && isRecord(kept) ? Object.entries(value).every(([name, part]) => same(kept[name], part)) : same(kept, value);

interface Row { measure: Measure; shelf: string; name: string; checker: Checker; values: Members }

function KeepFor(row: Row) {
  const question = useQuestion();
  const asking = useSignal(false);
  const said = useSignal("");
  const { measure, shelf, name, checker, values } = row;
  const stock = rowOf(shelf, name);
  const own = ownRows.value[shelf]?.[name]?.values ?? {};
  const members = Object.keys(values);
  const stale = membersOf(measure).filter((member) => own[member] !== undefined && values[member] === undefined);
  const isKept = stale.length === 0 && members.every((member) => covers(own[member], values[member]!));
  const { box, press } = useNext(isKept);
  if (members.length + stale.length === 0) return null;
  const what = members.map((member) => {
    const [now, before] = [values[member], own[member] ?? stock?.values[member]];
    const value = isScalar(now) && now !== true ? ` ${sentence(told(now, member))}` : "";
    return `${labelIn(checker.field, member).toLowerCase()}${value}${!isKept && isScalar(now) && isScalar(before) ? ` in place of ${sentence(told(before, member))}` : ""}`;
  }).join(", ") || "what is built in";
  const lacking = members.flatMap((member) => lackingIn(checker, member, values[member]!));
  const node = measure.at === undefined ? undefined : nodeAt(question.root, measure.at);
  const changed = node instanceof Stock ? Object.keys(node.changed.value?.read() ?? {}) : [];
  const take = async (all: Members) => {
    const how = { id: question.entry.id, request: question.sent.peek(), at: Date.now() };
    const why = await refusal(shelf, name, all);
    said.value = why === undefined ? "" : `Not kept: ${why}.`;
    if (why !== undefined) return;
    asking.value = false;
    keep(shelf, name, all, how, membersOf(measure));
  };
  return (
    <div class="keep" ref={box} onClick={press}>
      {isKept ? (
        <>
          <p role="status">Kept for {stock?.label}: {what}. <button type="button" class="link" onClick={() => takeOut(shelf, name, members)}>Take it out again</button></p>
          <p><a href={linkToShop}>Your numbers, and what they change</a></p>
          <Lasting />
        </>
      ) : <button type="button" class="plain" aria-expanded={lacking.length > 0 ? asking.value : undefined} onClick={() => (lacking.length > 0 ? (asking.value = !asking.value) : void take(values))}>Keep for {stock?.label}: {what}</button>}
      {!isKept && changed.length > 0 && <p class="lasting">Measured with another {listed(changed.map((member) => labelIn(checker.field, member)))}, which is not kept with it.</p>}
      {!isKept && asking.value && <Lacking key={JSON.stringify(values)} {...row} lacking={lacking} take={take} />}
      <output>{said}</output>
    </div>
  );
}

/** What a record must have and was not measured. */
function lackingIn({ field }: Checker, member: string, value: Json): string[] {
  const record = fieldsIn(field.changed()).find((part) => part.name === member);
  return record === undefined || !isRecord(value) ? [] : fieldsIn(record).filter((part) => !part.optional && value[part.name] === undefined).map((part) => `/${member}/${part.name}`);
}

/** Asks for it, in the fields that the row's own form has. */
function Lacking({ name, checker, values, lacking, take }: Row & { lacking: string[]; take: (values: Members) => Promise<void> }) {
  const form = useMemo(() => new Question(checker.entry, checking(checker, name, values), true), []);
  useEffect(() => () => form.end(), []);
  const stock = form.root.part(checker.field.name) as Stock;
  const nodes = lacking.flatMap((at) => {
    const [, member = "", part = ""] = at.split("/");
    return stock.part(member)?.part(part) ?? [];
  });
  const done = () => {
    const missing = nodes.find((node) => node.read() === undefined);
    if (missing !== undefined) goTo(missing);
    else void take(Object.fromEntries(Object.keys(values).map((member) => [member, stock.part(member)?.read() ?? values[member]!])));
  };
  return (
    <FillingContext.Provider value={form}>
      <div class="lacking" role="group" aria-label="Still wanted">
        {nodes.map((node) => <FieldView key={node.uid} node={node} />)}
        <button type="button" class="plain" onClick={done}>Keep it</button>
      </div>
    </FillingContext.Provider>
  );
}
