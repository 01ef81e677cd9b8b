// The Shop door: what is measured how, the user's own numbers, what they change, and the way out of this device and into another.
import { useEffect } from "preact/hooks";
import { entryOf } from "../model/catalogue";
import { linkTo } from "../shell/place";
import { Changes } from "./changes";
import { checkerOf } from "./check";
import { Files } from "./file";
import { MEASURES, TYPED, type Measure } from "./measures";
import { Numbers } from "./numbers";
import { ownRows, readings } from "./own";
import { membersOf } from "./take";
import { TypeIn, typing } from "./type_in";
import { labelIn } from "./words";

export function Shop() {
  useEffect(() => {
    document.title = "Your numbers · Floodbar";
    document.querySelector<HTMLElement>("h1")?.focus();
  }, []);
  const some = Object.keys(ownRows.value).length > 0;
  return (
    <main class="page shop" id="main">
      <h1 tabIndex={-1}>Your numbers</h1>
      <p class="lead">What you measured at your own press stands in the place of the built-in numbers, at every question. It is kept on this device alone.</p>
      <ol class="thread">
        <Measured />
        <Numbers />
        <TypeIn />
        {some && <Changes />}
        <Files />
      </ol>
    </main>
  );
}

/** What is measured, in the words of its question, and what its result is for. */
function Measured() {
  const rows = ownRows.value;
  const given = Object.keys(rows).length > 0 || Object.keys(readings.value).length > 0;
  return (
    <li class="stop" data-given={given || undefined}>
      <h2>What to measure</h2>
      <ul class="measured">
        {MEASURES.map((measure) => {
          const entry = entryOf(measure.id);
          return entry && <li key={measure.id}><a class="question" href={linkTo(measure.id)}>{entry.question}</a><small>{entry.asked[0]} {forWhat(measure)}</small></li>;
        })}
        {TYPED.map((shelf) => {
          const checker = checkerOf(shelf);
          return checker && <li key={shelf}><button type="button" class="link" onClick={() => typing(shelf)}>{checker.field.label}</button><small>{checker.field.meaning} You type them in.</small></li>;
        })}
      </ul>
    </li>
  );
}

/** What a measurement is for: the members of the row that it gives. */
function forWhat(measure: Measure): string {
  const field = checkerOf(measure.shelf ?? measure.at?.slice(1) ?? "")?.field;
  return field === undefined ? "Kept with its date." : `For the ${field.label.toLowerCase()}: ${membersOf(measure).map((member) => labelIn(field, member).toLowerCase()).join(", ")}.`;
}
