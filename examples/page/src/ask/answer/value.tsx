// A member of an answer, as people read it: numbers with unit and doubt, words, lists as tables.
import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { resolved, type Schema } from "../../model/catalogue";
import { isRecord } from "../../model/node";
import { figures, unitSign, words, type Json } from "../../model/numbers";
import { Profile } from "./profile";

type Members = { [name: string]: Json };
export const isQuantity = (value: Json | undefined): value is { value: number; unit: string; plus_minus?: number } =>
  isRecord(value) && "value" in value && "unit" in value;
const isScalar = (value: Json): boolean => typeof value !== "object" || isQuantity(value);

/** The schema of a member or of an entry. */
export function schemaAt(schema: Schema | undefined, name: string | number): Schema | undefined {
  const whole = schema && resolved(schema);
  const some = [whole, ...(whole?.anyOf ?? []).map(resolved)];
  for (const one of some) {
    const part = typeof name === "number" ? one?.prefixItems?.[name] ?? one?.items : one?.properties?.[name];
    if (part !== undefined) return resolved(part);
  }
  return undefined;
}
export const labelOf = (schema: Schema | undefined, name: string): string => schemaAt(schema, name)?.title ?? words(name);

export interface Told { text: string; unit: string; doubt?: string }

/** A scalar in words. */
export function told(value: Json | undefined, name: string): Told {
  if (isQuantity(value)) {
    if (typeof value.value === "string") return { text: value.value, unit: unitSign(value.unit) };
    const { plus_minus: doubt } = value;
    return { text: figures(value.value, doubt), unit: unitSign(value.unit), doubt: doubt === undefined ? undefined : figures(doubt, doubt) };
  }
  if (typeof value === "number") {
    const share = /_fraction$|_probability$|^probability$|^confidence$/.test(name);
    return share ? { text: figures(value * 100), unit: "%" } : { text: figures(value), unit: "" };
  }
  if (typeof value === "boolean") return { text: value ? "yes" : "no", unit: "" };
  return { text: value === undefined || value === null ? "—" : /^[a-z]+(_[a-z]+)+$/.test(String(value)) ? words(String(value)) : String(value), unit: "" };
}

export const sentence = ({ text, unit, doubt }: Told): string => `${text}${unit === "" || unit === "%" || unit === "°" ? "" : " "}${unit}${doubt === undefined ? "" : `, give or take ${doubt}`}`;

export function Figure({ value, name, doubt }: { value: Json | undefined; name: string; doubt?: number }) {
  const shown = told(value, name);
  const plus = shown.doubt ?? (doubt === undefined ? undefined : figures(name.endsWith("_fraction") ? doubt * 100 : doubt, doubt));
  const numeric = typeof value === "number" || isQuantity(value);
  return (
    <span class={numeric ? "figure" : "figure word"}>
      <span class="digits">{numeric && shown.text.includes(".") ? <>{shown.text.split(".")[0]}<span class="point">.</span>{shown.text.split(".")[1]}</> : shown.text}</span>
      {shown.unit && <span class="of">{shown.unit === "%" ? "\u202f%" : shown.unit === "°" ? "°" : `\u00a0${shown.unit}`}</span>}
      {plus !== undefined && <span class="doubt">{` ± ${plus}`}</span>}
    </span>
  );
}

/** How many rows of a table are shown at first. */
const SHOWN = 12;

function Table({ rows, schema, caption }: { rows: Members[]; schema?: Schema; caption: string }) {
  const most = useSignal(SHOWN);
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const isCell = (value: Json) => isScalar(value) || (Array.isArray(value) && value.length <= 4 && value.every(isScalar));
  const flat = names.filter((name) => rows.every((row) => row[name] === undefined || isCell(row[name])));
  const deep = names.filter((name) => !flat.includes(name));
  const nameOf = (row: Members, index: number) => [row.placement, row.name ?? row.screen ?? `${caption} ${index + 1}`].filter(Boolean).join(", ");
  return (
    <>
      <div class="scroll" tabIndex={0} role="region" aria-label={caption}>
        <table>
          <thead><tr>{flat.map((name) => <th key={name} scope="col">{labelOf(schemaAt(schema, 0), name)}</th>)}</tr></thead>
          <tbody>
            {rows.slice(0, most.value).map((row, index) => <tr key={index}>{flat.map((name) => <td key={name}>{row[name] !== undefined && <Value value={row[name]} name={name} caption={name} />}</td>)}</tr>)}
          </tbody>
        </table>
      </div>
      {rows.length > most.value && <button type="button" class="link" onClick={() => (most.value = rows.length)}>All {rows.length} rows</button>}
      {deep.length > 0 && rows.slice(0, most.value).map((row, index) => (
        <details key={index} class="deep" open={rows.length === 1}>
          <summary>{nameOf(row, index)}</summary>
          <Members value={Object.fromEntries(deep.flatMap((name) => (row[name] === undefined ? [] : [[name, row[name]]])))} schema={schemaAt(schema, 0)} of={nameOf(row, index)} />
        </details>
      ))}
    </>
  );
}

function Many({ values, schema, name, caption }: { values: Json[]; schema?: Schema; name: string; caption: string }) {
  const all = useSignal(false);
  if (values.length === 0) return <>none</>;
  if (values.every(isRecord) && !values.every(isQuantity)) return <Table rows={values} schema={schema} caption={caption} />;
  const shown = all.value ? values : values.slice(0, SHOWN);
  if (values.every(Array.isArray)) return <ol class="lists">{(shown as Json[][]).map((list, index) => <li key={index}><Many values={list} schema={schemaAt(schema, 0)} name={name} caption={`${caption} ${index + 1}`} /></li>)}</ol>;
  return (
    <>
      <span class="run">{shown.map((value, index) => (isScalar(value) ? <Figure key={index} value={value} name={name} /> : <code key={index}>{JSON.stringify(value)}</code>))}</span>
      {shown.length < values.length && <button type="button" class="link" onClick={() => (all.value = true)}>All {values.length}</button>}
    </>
  );
}

/** Lists of numbers that run along together in time, that of the times first; none where the record has no such. */
export function runOf(record: Members): [string, { value: number; unit: string }[]][] {
  const lists = Object.entries(record).filter(([, part]) => Array.isArray(part) && part.length > 2 && part.every(isQuantity)) as [string, { value: number; unit: string }[]][];
  const isTime = ([, list]: (typeof lists)[number]) => ["s", "min", "h"].includes(list[0]!.unit);
  const times = lists.find(isTime);
  if (times === undefined) return [];
  const along = lists.filter((list) => !isTime(list) && list[1].length === times[1].length);
  return along.length > 0 ? [times, ...along] : [];
}

export function Value({ value, schema, name, caption, of }: { value: Json; schema?: Schema; name: string; caption: string; of?: string }): ComponentChildren {
  if (isScalar(value)) return <Figure value={value} name={name} />;
  if (Array.isArray(value)) return <Many values={value} schema={schema} name={name} caption={caption} />;
  const record = value as Members;
  const run = runOf(record);
  if (run.length === 0) return <Members value={record} schema={schema} of={of} />;
  return (
    <>
      <Profile lists={run} schema={schema} caption={caption} />
      <Members value={record} schema={schema} without={run.map(([one]) => one)} of={of} />
    </>
  );
}

/** `of` is whose members they are, for who hears the name of a table apart from what stands around it. */
export function Members({ value, schema, without = [], of }: { value: Members; schema?: Schema; without?: string[]; of?: string }) {
  const shown = Object.entries(value).filter(([name, part]) => !without.includes(name) && part !== null);
  return (
    <dl class="members">
      {shown.map(([name, part]) => (
        <div key={name} class={isScalar(part) || (Array.isArray(part) && part.every(isScalar) && part.length <= SHOWN) ? "member" : "member wide"}>
          <dt>{labelOf(schema, name)}</dt>
          <dd><Value value={part} schema={schemaAt(schema, name)} name={name} caption={[labelOf(schema, name), of].filter(Boolean).join(", ")} of={of} /></dd>
        </div>
      ))}
    </dl>
  );
}
