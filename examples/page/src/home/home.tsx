// The home page: one search box, and the stops on a print's own path.
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Entry } from "../model/catalogue";
import { linkTo, linkToJob } from "../shell/place";
import { asked } from "../shell/settings";
import { search } from "./search";
import { anywhere, stops, type Stop } from "./stops";

/** Questions that a stop shows before it is asked for more. */
const SHOWN = 5;

const QuestionLink = ({ entry }: { entry: Entry }) => <li><a class="question" href={linkTo(entry.id)}>{entry.question}</a></li>;

function StopView({ stop }: { stop: Stop }) {
  const all = useSignal(false);
  const { questions } = stop;
  const answered = questions.some(({ id }) => asked.value[id] !== undefined);
  const shown = all.value ? questions : questions.slice(0, SHOWN);
  return (
    <li class="stop" data-given={answered || undefined}>
      <h2>{stop.name}{answered && <span class="unseen">, answered before</span>}</h2>
      <ul>
        {shown.map((entry) => <QuestionLink key={entry.id} entry={entry} />)}
        {shown.length < questions.length && <li><button type="button" class="link" onClick={() => (all.value = true)}>{questions.length - shown.length} more<span class="unseen"> at {stop.name}</span></button></li>}
      </ul>
    </li>
  );
}

export function Home() {
  const query = useSignal("");
  const list = useRef<HTMLUListElement>(null);
  const found = search(query.value);
  useEffect(() => {
    document.title = "Floodbar";
  }, []);
  const move = (event: KeyboardEvent) => {
    const links = [...(list.current?.querySelectorAll("a") ?? [])];
    const at = links.indexOf(document.activeElement as HTMLAnchorElement);
    if (event.key === "ArrowDown") links[Math.min(at + 1, links.length - 1)]?.focus();
    else if (event.key === "ArrowUp" && at >= 0) (at === 0 ? document.getElementById("search") : links[at - 1])?.focus();
    else if (event.key === "Enter" && at < 0 && links[0]) location.hash = links[0].hash;
    else return;
    event.preventDefault();
  };
  return (
    <main class="page home" id="main">
      <h1>What do you need to know?</h1>
      <p class="way-in"><a class="question" href={linkToJob()}>From the art to the box: plan a whole order</a></p>
      <div class="search" role="search" onKeyDown={move}>
        <label for="search">Ask as you would at the press</label>
        <input id="search" type="text" autocomplete="off" spellcheck={false} value={query.value} onInput={({ currentTarget }) => (query.value = currentTarget.value)} />
        <p class="unseen" role="status">{query.value.trim() === "" ? "" : `${found.length} ${found.length === 1 ? "question" : "questions"}`}</p>
        {query.value.trim() !== "" && (
          found.length > 0
            ? <ul class="found" ref={list}>{found.map((entry) => <li key={entry.id}><a class="question" href={linkTo(entry.id)}>{entry.question}<small>{entry.title}</small></a></li>)}</ul>
            : <p class="nothing">No question has these words. All of them stand below, in the order in which a print is made.</p>
        )}
      </div>
      <ol class="thread stops">{stops.map((stop) => <StopView key={stop.name} stop={stop} />)}</ol>
      {anywhere.length > 0 && <section class="anywhere"><h2>Anywhere on the way</h2><ul>{anywhere.map((entry) => <QuestionLink key={entry.id} entry={entry} />)}</ul></section>}
    </main>
  );
}
