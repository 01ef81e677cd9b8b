// What the user's own numbers change: the answers to what was asked before, with the built-in numbers and with these.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { change, scalar } from "../ask/answer/compare";
import { Figure, labelOf } from "../ask/answer/value";
import { entries, type Entry } from "../model/catalogue";
import type { Members } from "../model/node";
import type { Json } from "../model/numbers";
import { linkWith } from "../shell/place";
import { asked, system } from "../shell/settings";
import { answerOf, type Answer } from "../work/engine";
import { heats, rootOf } from "./check";
import { measureOf } from "./measures";
import { ownRows, type OwnRows } from "./own";
import { same, spread, unspread } from "./spread";

interface Use { entry: Entry; before: Members; after: Members; isAsked: boolean; key: string }
type Result = { before: Answer; after: Answer } | { failed: string };

/** The questions in which a row of the user's stands: what was asked there last, or else the example. */
function usesOf(rows: OwnRows): Use[] {
  return entries.filter(({ id }) => measureOf(id) === undefined).flatMap((entry) => {
    const units: Members = system.value === "us" ? { units: "us" } : {};
    const request = asked.value[entry.id] ?? entry.example;
    const before: Members = { ...(unspread(rootOf(entry), request, rows) as Members), ...units };
    const after = spread(rootOf(entry), before, rows) as Members;
    return same(before, after) ? [] : { entry, before, after, isAsked: asked.value[entry.id] !== undefined, key: JSON.stringify([entry.id, before, after]) };
  });
}

/** By what was asked: results stay right whatever is kept meanwhile. */
const results = signal<{ [key: string]: Result }>({});
const working = signal<AbortController | undefined>(undefined);

/** One after another; a newer round, or the reader, ends it. */
async function workOut(uses: Use[]): Promise<void> {
  working.peek()?.abort("stopped");
  const round = new AbortController();
  working.value = round;
  for (const { entry, before, after, key } of uses) {
    if (round.signal.aborted) break;
    try {
      const both = { before: await answerOf(entry.id, before, round.signal), after: await answerOf(entry.id, after, round.signal) };
      results.value = { ...results.peek(), [key]: both };
    } catch (error) {
      if (round.signal.aborted) break;
      results.value = { ...results.peek(), [key]: { failed: (error as Error).message } };
    }
  }
  if (working.peek() === round) working.value = undefined;
}

export function Changes() {
  const uses = usesOf(ownRows.value);
  const open = uses.filter(({ key }) => results.value[key] === undefined);
  const quick = open.filter(({ entry }) => !heats(entry));
  const slow = open.filter(({ entry }) => heats(entry));
  const keys = quick.map(({ key }) => key).join();
  useEffect(() => {
    if (quick.length > 0) void workOut(quick);
  }, [keys]);
  useEffect(() => () => working.peek()?.abort("stopped"), []);
  const busy = working.value !== undefined;
  return (
    <li class="stop" data-given={open.length === 0 || undefined}>
      <h2>What they change</h2>
      <div class="changes">
        {uses.length === 0 && <p>No question stands on them yet.</p>}
        {busy && <p class="busy">Working it out <button type="button" class="plain" onClick={() => working.peek()?.abort("stopped")}>Stop</button></p>}
        {!busy && slow.length > 1 && <p><button type="button" class="plain" onClick={() => void workOut(open)}>Work all of them out</button> Heat takes a moment.</p>}
        {uses.map((use) => <Change key={use.entry.id} use={use} />)}
      </div>
    </li>
  );
}

function Change({ use }: { use: Use }) {
  const { entry, after, isAsked, key } = use;
  const result = results.value[key];
  return (
    <section aria-label={entry.title}>
      <h3><a href={linkWith(entry.id, after)}>{entry.question}</a> <span class="if-any">{isAsked ? "as you asked it last" : "its example"}</span></h3>
      {result === undefined ? <button type="button" class="link" onClick={() => void workOut([use])}>Work it out<span class="unseen">: {entry.question}</span></button>
        : "failed" in result ? <p class="refused">{result.failed}</p> : <Both entry={entry} {...result} />}
    </section>
  );
}

const isStop = (answer: Answer): boolean => ((answer.notes ?? []) as { level: string }[]).some(({ level }) => level === "limit");

/** A row's name, without what was changed of it. */
const named = (value: Json | undefined): Json | undefined => (typeof value === "string" ? value.replace(/ \([a-z_, ]+ changed\)/, "") : value);

/** How many numbers and words of an answer differ. */
function differing(one: Json | undefined, other: Json | undefined): number {
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return named(one) === named(other) ? 0 : 1;
  const names = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...names].reduce((sum, name) => sum + differing((one as Members)[name], (other as Members)[name]), 0);
}

function Both({ entry, before, after }: { entry: Entry; before: Answer; after: Answer }) {
  const names = entry.headline.filter((name) => scalar(before[name]) || scalar(after[name]));
  const count = differing({ ...before, notes: null, basis: null }, { ...after, notes: null, basis: null });
  const cell = (answer: Answer, name: string) => (answer[name] === undefined ? "none" : <Figure value={answer[name]} name={name} />);
  return (
    <>
      {!isStop(before) && isStop(after) && <p class="limit"><b class="mark">STOP</b> With your numbers it does not work as asked.</p>}
      {names.length === 0 ? <p>{count === 0 ? "Nothing in the answer differs." : `${count} of its numbers and words differ.`}</p> : (
        <div class="scroll" tabIndex={0} role="region" aria-label={`${entry.title}, built in and yours`}>
          <table>
            <thead><tr><th scope="col"><span class="unseen">Number</span></th><th scope="col">Built in</th><th scope="col">Yours</th><th scope="col">Change</th></tr></thead>
            <tbody>
              {names.map((name) => (
                <tr key={name}><th scope="row">{labelOf(entry.answer, name)}</th><td>{cell(before, name)}</td><td>{cell(after, name)}</td><td class="digits">{change(before[name], after[name])}</td></tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}
