// The user's own numbers: each beside the built-in one that it replaces, with its source and how it came.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { labelOf, schemaAt, sentence, told, Value } from "../ask/answer/value";
import { entryOf, kindOf, rowOf } from "../model/catalogue";
import type { Field } from "../model/fields";
import type { Members } from "../model/node";
import type { Json } from "../model/numbers";
import { linkWith } from "../shell/place";
import { answerOf, type Answer } from "../work/engine";
import { checkerOf, fieldsIn } from "./check";
import { Lasting } from "./keep";
import { ownRows, readings, takeOut, takeOutReading, type How, type OwnRow } from "./own";
import { typing } from "./type_in";
import { dayOf } from "./words";

export function Numbers() {
  const rows = Object.entries(ownRows.value).flatMap(([shelf, names]) => Object.entries(names).map(([name, row]) => ({ shelf, name, row })));
  const kept = Object.entries(readings.value);
  const none = rows.length === 0 && kept.length === 0;
  return (
    <li class="stop" data-given={!none || undefined}>
      <h2 tabIndex={-1}>What is yours</h2>
      <div class="kept">
        {none ? <p>All numbers are built in so far. Keep a measurement where its answer stands, or type a number in below.</p> : <Lasting />}
        {rows.map(({ shelf, name, row }) => <RowOf key={`${shelf}/${name}`} shelf={shelf} name={name} row={row} />)}
        {kept.map(([id, { at, request }]) => <Reading key={id} id={id} at={at} request={request} />)}
      </div>
    </li>
  );
}

function RowOf({ shelf, name, row }: { shelf: string; name: string; row: OwnRow }) {
  const label = rowOf(shelf, name)?.label ?? name;
  return (
    <section aria-label={label}>
      <h3>{label} <button type="button" class="link" onClick={() => typing(shelf, name)}>Type another<span class="unseen"> number of {label}</span></button></h3>
      {Object.keys(row.values).map((member) => <Own key={member} shelf={shelf} name={name} row={row} member={member} />)}
    </section>
  );
}

/** One number: the user's beside the built-in one. */
function Own({ shelf, name, row, member }: { shelf: string; name: string; row: OwnRow; member: string }) {
  const stock = rowOf(shelf, name);
  const field = fieldIn(shelf, member);
  const title = field?.label ?? member;
  const builtIn = stock?.values[member];
  const basis = stock?.basis.find((one) => one.field === member);
  const take = (event: MouseEvent) => {
    // What is pressed goes away: the heading of what is left is where to go on.
    (event.currentTarget as HTMLElement).closest(".stop")?.querySelector("h2")?.focus();
    takeOut(shelf, name, [member]);
  };
  return (
    <div class="own">
      <h4>{title}</h4>
      <dl>
        <div><dt>Yours</dt><dd><Shown shelf={shelf} member={member} value={row.values[member]!} caption={`${title}, yours`} /><Came how={row.how[member]} /></dd></div>
        <div>
          <dt>Built in</dt>
          <dd>{builtIn === undefined ? field?.presetWords ?? "none" : <Shown shelf={shelf} member={member} value={builtIn} caption={`${title}, built in`} />}{basis && <small>{basis.source}, {kindOf(basis.kind)}</small>}</dd>
        </div>
      </dl>
      <button type="button" class="link" onClick={take}>Take out<span class="unseen">: {title} of {stock?.label ?? name}</span></button>
    </div>
  );
}

const fieldIn = (shelf: string, member: string): Field | undefined => {
  const field = checkerOf(shelf)?.field;
  return field && fieldsIn(field.changed()).find(({ name }) => name === member);
};

function Shown({ shelf, member, value, caption }: { shelf: string; member: string; value: Json; caption: string }) {
  const field = checkerOf(shelf)?.field.changed();
  const schema = field?.kind === "record" ? schemaAt(field.schema, member) : undefined;
  return <Value value={value} schema={schema} name={member} caption={caption} />;
}

function Came({ how }: { how?: How }) {
  if (how === undefined) return null;
  const entry = how.id === undefined ? undefined : entryOf(how.id);
  return <small>{entry === undefined ? "Typed" : <a href={linkWith(entry.id, how.request ?? {})}>{entry.title}</a>}, {dayOf(how.at)}</small>;
}

/** A measurement that no row takes up, by its headline. */
export function Reading({ id, at, request }: { id: string; at: number; request: Members }) {
  const entry = entryOf(id);
  const answer = useSignal<Answer | undefined>(undefined);
  useEffect(() => {
    answerOf(id, request).then((found) => (answer.value = found), () => {});
  }, [request]);
  if (entry === undefined) return null;
  const said = entry.headline.flatMap((name) => (answer.value?.[name] === undefined ? [] : `${labelOf(entry.answer, name)}: ${sentence(told(answer.value[name], name))}`)).join(". ");
  return (
    <section aria-label={entry.title}>
      <h3><a href={linkWith(id, request)}>{entry.title}, {dayOf(at)}</a></h3>
      <p>{said !== "" && `${said}. `}No built-in number is replaced by these readings. <button type="button" class="link" onClick={() => takeOutReading(id)}>Take them out<span class="unseen">: {entry.title}</span></button></p>
    </section>
  );
}

/** At the questions of their kind: readings that were kept. */
export function ReadingsAt({ ids }: { ids: string[] }) {
  const kept = Object.entries(readings.value).filter(([id]) => ids.includes(id));
  return <>{kept.map(([id, { at, request }]) => <div key={id} class="reading"><Reading id={id} at={at} request={request} /></div>)}</>;
}
