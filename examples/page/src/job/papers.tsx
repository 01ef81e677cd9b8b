// What is printed of an order: a page each, black on white, with nothing of the app around it.
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { labelOf, schemaAt, sentence, told } from "../ask/answer/value";
import { resolved, type Schema } from "../model/catalogue";
import { isRecord, type Members } from "../model/node";
import { Leaf, nodeAt, type Node } from "../model/nodes";
import type { Json } from "../model/numbers";
import { linkToJob, type Paper } from "../shell/place";
import { useJob, type Job } from "./job";
import { Offer, QuoteSheet } from "./quote_sheets";
import { RunSheet } from "./run_sheet";

export const PAPER_NAMES: [Paper, string][] = [["sheet", "run sheet"], ["quote", "quote"], ["offer", "offer"]];

/** Sizes of type, in points, from what is read easily to the least that is read at the press. */
const SIZES = [9, 8.5, 8, 7.5];
/** What letter paper (ANSI/ASME Y14.1, 279.4 mm, lower than A4) has in height within the margins of `@page sheet`, 7 mm each. The article is as wide as A4, the narrower of the two. */
const PAGE_MM = 265;
const MM = 96 / 25.4;

/** Gives a paper the largest type with which it is one printed page, or the largest of all where none is. */
function fit(article: HTMLElement): void {
  article.style.width = "210mm";
  const { paddingTop, paddingBottom } = getComputedStyle(article);
  const most = PAGE_MM * MM + parseFloat(paddingTop) + parseFloat(paddingBottom);
  const size = SIZES.find((points) => {
    article.style.fontSize = `${points}pt`;
    return article.scrollHeight <= most;
  });
  article.style.fontSize = article.style.width = "";
  article.style.setProperty("--type", `${size ?? SIZES[0]}pt`);
}

export function Papers({ paper }: { paper: Paper }) {
  const job = useJob();
  const name = PAPER_NAMES.find(([one]) => one === paper)![1];
  // What is out of date is not printed.
  const [plan, quote] = [job.plan, job.quote].map(({ answer, work }) => (work.busy.value ? undefined : answer.value));
  const title = String(job.request.value.title ?? "");
  const content = paper === "sheet" ? plan && <RunSheet plan={plan} /> : quote && (paper === "quote" ? <QuoteSheet quote={quote} /> : <Offer quote={quote} plan={plan} />);
  const ready = content !== undefined;
  useEffect(() => {
    // What a browser calls the file that it prints to.
    document.title = [title, name].filter(Boolean).join(", ");
    document.querySelector<HTMLElement>("h1")?.focus();
  }, [title, ready]);
  const article = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    const again = () => article.current && fit(article.current);
    again();
    // The first time its fonts may be still on their way.
    void document.fonts.ready.then(again);
  });
  return (
    <main class="page on-paper" id="main">
      <p class="doors bar">
        <a class="plain" href={linkToJob()}>Back to the order</a>
        {content && <button type="button" class="plain" onClick={() => print()}>Print this page</button>}
        {job.isExample.value && <span>This is the worked example, not your order.</span>}
      </p>
      <article class="paper" ref={article}>
        {content ?? (
          <>
            <h1 tabIndex={-1}>No {name} yet</h1>
            <p>{job.error.value === undefined || job.plan.work.busy.value ? "It is being worked out." : "Something is wanted still: the order says what, and where."}</p>
          </>
        )}
      </article>
    </main>
  );
}

export const rowsOf = (value: Json | undefined): Members[] => (Array.isArray(value) ? value.filter(isRecord) : []);

const at = (value: Json | undefined, path: string): Json | undefined =>
  path.split(".").reduce<Json | undefined>((part, name) => (isRecord(part) ? part[name] : undefined), value);
const last = (path: string): string => path.split(".").at(-1)!;

/** A member in words, as the answers show it; empty where there is none. */
export function say(value: Json | undefined, path: string): string {
  const found = at(value, path);
  if (found === undefined || found === null) return "";
  if (Array.isArray(found)) return found.map((entry) => say({ [last(path)]: entry }, last(path))).join(", ");
  return isRecord(found) && !("value" in found) ? "" : sentence(told(found, last(path)));
}
/** Two numbers with one unit: "110 to 120 µm". */
export function span(value: Json, low: string, high: string, between = " to "): string {
  const [from, to] = [say(value, low), say(value, high)];
  const [, unit = ""] = /( \S+)$/.exec(from) ?? [];
  return from === "" || to === "" ? from || to : `${to.endsWith(unit) ? from.slice(0, from.length - unit.length) : from}${between}${to}`;
}

export function labelAt(schema: Schema, path: string): string {
  const names = path.split(".");
  const inner = names.slice(0, -1).reduce<Schema | undefined>((part, name) => schemaAt(part, name), schema);
  return labelOf(inner, names.at(-1)!);
}

export type Column = string | [head: string, cell: (row: Members, index: number) => ComponentChildren];

/** A table of entries of an answer: what is the same of all of them is said once above it, and what is of none is left out. In a table of
 * settings those that differ in name alone share a row; an amount there would be taken for that of all of them. */
export function Grid({ rows, schema, columns, caption, settings = false, foot }: {
  rows: Members[]; schema?: Schema; columns: Column[]; caption: string; settings?: boolean; foot?: ComponentChildren;
}) {
  const entry = schemaAt(schema, 0) ?? {};
  const all = columns.map((column) => ({
    head: typeof column === "string" ? labelAt(entry, column) : column[0],
    cells: rows.map((row, index) => (typeof column === "string" ? say(row, column) : column[1](row, index))),
  })).filter(({ cells }) => cells.some((cell) => cell !== ""));
  const equal = (cells: ComponentChildren[], one: number, other: number) => typeof cells[one] === "string" && cells[one] === cells[other];
  const same = all.slice(rows.length > 1 ? 1 : 0).filter(({ cells }) => foot === undefined && cells.every((_, index) => equal(cells, 0, index)));
  const varied = all.filter((column) => !same.includes(column));
  const alike = rows.reduce<number[][]>((groups, _, index) => {
    const last = groups.at(-1);
    if (settings && last && varied.slice(1).every(({ cells }) => equal(cells, last[0]!, index))) last.push(index);
    else groups.push([index]);
    return groups;
  }, []);
  const numeric = (cells: ComponentChildren[]) => (cells.every((cell) => typeof cell === "string" && /^(−?[\d.\u202f]+( ?\S+)?)?$/.test(cell)) ? "digits" : undefined);
  return (
    <div class="sheet-table" tabIndex={0} role="region" aria-label={caption}>
      {same.length > 0 && <><h2>{caption}</h2><FactList said={same.map(({ head, cells }) => [head, String(cells[0])])} /></>}
      {(varied.length > 1 || same.length === 0) && varied.length > 0 && (
        <table aria-label={caption}>
          <thead><tr>{varied.map(({ head, cells }, column) => <th key={head} scope="col" class={column > 0 ? numeric(cells) : "of"}>{column > 0 || same.length > 0 ? head : caption}</th>)}</tr></thead>
          <tbody>
            {alike.map((group) => <tr key={group[0]}>{varied.map(({ head, cells }, column) => (column === 0
              ? <th key={head} scope="row">{group.map((index) => <div key={index}>{cells[index]}</div>)}</th>
              : <td key={head} class={numeric(cells)}>{cells[group[0]!]}</td>))}</tr>)}
          </tbody>
          {foot && <tfoot>{foot}</tfoot>}
        </table>
      )}
    </div>
  );
}

/** As long a text as is not broken between lines. */
const SHORT = 16;

const FactList = ({ said }: { said: [label: string, text: string][] }) =>
  <dl class="facts">{said.map(([label, text]) => <div key={label}><dt>{label}</dt> <dd>{text.length < SHORT ? text.replaceAll(" ", "\u00a0") : text}</dd></div>)}</dl>;

/** Members in a line: what they are called, and what they say. */
export function Facts({ of, schema, names }: { of: Members; schema: Schema; names: string[] }) {
  return <FactList said={names.map((path): [string, string] => [labelAt(resolved(schema), path), say(of, path)]).filter(([, text]) => text !== "")} />;
}

/** The placement or screen that a field is of. */
function placeOf(job: Job, field: string): string | undefined {
  for (let node: Node | undefined = nodeAt(job.root, field); node !== undefined; node = node.parent) {
    const name = node.part("name");
    if (name instanceof Leaf && name.given.peek()) return name.text.peek();
  }
  return undefined;
}

/** STOPs and cautions of an answer, each said once with all the screens that it is about. */
export function Heeded({ answer }: { answer: Members }) {
  const job = useJob();
  const said = new Map<string, { level: string; places: Set<string> }>();
  for (const level of ["limit", "caution"]) {
    for (const note of rowsOf(answer.notes)) {
      if (note.level !== level) continue;
      const message = String(note.message);
      const places = said.get(message)?.places ?? new Set();
      const place = placeOf(job, String(note.field));
      if (place !== undefined) places.add(place);
      said.set(message, { level, places });
    }
  }
  const text = (message: string) => message.replace(/ \([a-z]+\.[a-z_]+\)/g, "").replaceAll("`", "").replace(/\bdeg([CF])\b/g, "°$1");
  return <ul class="heeded">{[...said].map(([message, { level, places }]) => (
    <li key={message} class={level}><b>{level === "limit" ? "STOP" : "Caution"}</b> {places.size > 0 && <i>{[...places].join(", ")}: </i>}{text(message)}</li>
  ))}</ul>;
}
