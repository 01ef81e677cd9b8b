// The user's own numbers: each beside the built-in one that it replaces, with its source and how it came.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { labelOf, schemaAt, sentence, told, Value } from "../ask/answer/value";
import { entryOf, kindOf, rowOf } from "../model/catalogue";
import type { Members } from "../model/node";
import type { Json } from "../model/numbers";
import { linkWith } from "../shell/place";
import { answerOf, type Answer } from "../work/engine";
import { checkerOf, fieldsIn } from "./check";
import { Lasting } from "./keep";
import { ownRows, readings, takeOut, takeOutReading, type How, type OwnRow } from "./own";
import { typing } from "./type_in";
import { dayOf, labelIn } from "./words";

export function Numbers() {
  const rows = Object.entries(ownRows.value).flatMap(([shelf, names]) => Object.entries(names).map(([name, row]) => ({ shelf, name, row })));
  const kept = Object.entries(readings.value);
  const none = rows.length === 0 && kept.length === 0;
  return (
    <li class="stop" data-given={!none || undefined}>
      <h2>What is yours</h2>
      <div class="kept">
        {none ? <p>All numbers are built in so far. Keep a measurement where its answer stands, or type a number in below.</p> : <Lasting />}
        {rows.map(({ shelf, name, row }) => <RowOf key={`${shelf}/${name}`} shelf={shelf} name={name} row={row} />)}
        {kept.map(([id, { at, request }]) => <Reading key={id} id={id} at={at} request={request} />)}
      </div>
    </li>
  );
}

function RowOf({ shelf, name, row }: { shelf: string; name: string; row: OwnRow }) {
  const stock = rowOf(shelf, name);
  const field = checkerOf(shelf)?.field;
  const label = stock?.label ?? name;
  return (
    <section aria-label={label}>
      <h3>{label} <button type="button" class="link" onClick={() => typing(shelf, name)}>Type another<span class="unseen"> number of {label}</span></button></h3>
      <div class="scroll" tabIndex={0} role="region" aria-label={`Your numbers of ${label}`}>
        <table>
          <thead><tr><th scope="col"><span class="unseen">Number</span></th><th scope="col">Yours</th><th scope="col">Built in</th><th scope="col">How</th><th><span class="unseen">Take out</span></th></tr></thead>
          <tbody>
            {Object.entries(row.values).map(([member, value]) => {
              const title = field === undefined ? member : labelIn(field, member);
              const basis = stock?.basis.find((one) => one.field === member);
              return (
                <tr key={member}>
                  <th scope="row">{title}</th>
                  <td><Shown shelf={shelf} member={member} value={value} /></td>
                  <td>{stock?.values[member] === undefined ? "none" : <Shown shelf={shelf} member={member} value={stock.values[member]} />}{basis && <small>{basis.source}, {kindOf(basis.kind)}</small>}</td>
                  <td><Came how={row.how[member]} /></td>
                  <td><button type="button" class="link" onClick={() => takeOut(shelf, name, [member])}>Take out<span class="unseen">: {title} of {label}</span></button></td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function Shown({ shelf, member, value }: { shelf: string; member: string; value: Json }) {
  const field = checkerOf(shelf)?.field.changed();
  const schema = field?.kind === "record" ? schemaAt(field.schema, member) : undefined;
  return <Value value={value} schema={schema} name={member} caption={fieldsIn(field!).find(({ name }) => name === member)?.label ?? member} />;
}

function Came({ how }: { how?: How }) {
  if (how === undefined) return null;
  const entry = how.id === undefined ? undefined : entryOf(how.id);
  return <>{entry === undefined ? "Typed" : <a href={linkWith(entry.id, how.request ?? {})}>{entry.title}</a>}<small>{dayOf(how.at)}</small></>;
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
