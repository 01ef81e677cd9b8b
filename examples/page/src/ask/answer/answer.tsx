// The answer as one types: what stops the print, then the numbers that answer the question, then the rest of it.
import { useComputed } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { FloodbarError } from "floodbar/worker";
import { wanted } from "../../model/wanted";
import { failure, fault, type Answer as Answered } from "../../work/engine";
import { Keep } from "../../shop/keep";
import { useQuestion } from "../context";
import { nameOf } from "../names";
import type { Question } from "../question";
import { Ground, Share } from "./basis";
import { Compared } from "./compare";
import { Explained, goTo, Message, spokenOf, Warnings } from "./notes";
import { Profile } from "./profile";
import { Figure, labelOf, Members, runOf, schemaAt, sentence, told, Value } from "./value";
import { WhatIf } from "./what_if";

const BESIDE = ["notes", "basis", "doubt"];

/** The members that answer the question, as far as they came. */
export const headlineOf = (question: Question, answer: Answered): string[] => question.entry.headline.filter((name) => answer[name] !== undefined);

/** The answer in one sentence, for who hears it. */
function spoken(question: Question, answer: Answered): string {
  const notes = question.notes.value;
  const stop = notes.find(({ level }) => level === "limit");
  const [name] = headlineOf(question, answer);
  const value = name === undefined ? undefined : answer[name];
  const said = name === undefined || value === undefined || Array.isArray(value) || (typeof value === "object" && value !== null && !("value" in value)) ? "Answered"
    : `${labelOf(question.entry.answer, name)}: ${sentence(told(value, name))}`;
  return stop === undefined ? said : `Stop. ${stop.message}. ${said}`;
}

/** Says the newest state once it has settled. */
function Said() {
  const question = useQuestion();
  const text = useComputed(() => {
    const answer = question.answer.value;
    if (answer !== undefined) return spoken(question, answer);
    return question.error.value === undefined ? "" : spokenOf(question, question.error.value);
  }).value;
  const [said, say] = useState("");
  useEffect(() => {
    const timer = setTimeout(() => say(text), 700);
    return () => clearTimeout(timer);
  }, [text]);
  return <p class="unseen" role="status" aria-live="polite">{said}</p>;
}

function Refused({ error }: { error: Error }) {
  const question = useQuestion();
  if (!(error instanceof FloodbarError)) return <p class="refused">No answer: {fault(error)}. <button type="button" class="plain" onClick={() => question.askAgain()}>Work it out again</button></p>;
  const node = question.wrong.value ?? question.root;
  if (error.code === "missing_field") {
    const missing = [...new Set([...wanted(question.root), node])].filter((one) => one !== question.root).slice(0, 8);
    return (
      <div class="refused">
        <p>Still wanted:</p>
        <ul class="missing">{missing.map((one) => <li key={one.uid}><button type="button" class="link" onClick={() => goTo(one)}>{nameOf(one)}</button></li>)}</ul>
      </div>
    );
  }
  return (
    <div class="refused">
      <p><b>No answer yet.</b> <Message text={error.message} />.</p>
      {node !== question.root && <p><button type="button" class="link" onClick={() => goTo(node)}>{nameOf(node)}</button></p>}
    </div>
  );
}

/** A figure that is drawn anew when it changes, and then underlined once; not when it first comes. */
function Large({ text, children }: { text: string; children: ComponentChildren }) {
  const first = useRef<string | undefined>(text);
  if (text !== first.current) first.current = undefined;
  return <p key={text} class={first.current === undefined ? "large changed" : "large"}>{children}</p>;
}

function Headline({ answer, names }: { answer: Answered; names: string[] }) {
  const question = useQuestion();
  const { entry } = question;
  const doubts = (answer.doubt ?? []) as unknown as { at: string; plus_minus: number }[];
  return (
    <div class="headline">
      {names.map((name, index) => {
        const value = answer[name]!;
        const simple = typeof value !== "object" || (value !== null && !Array.isArray(value) && "value" in value);
        return (
          <div key={name} class={index === 0 ? "first" : "next"}>
            <p class="of-what">{labelOf(entry.answer, name)}</p>
            {simple
              ? <Large text={sentence(told(value, name))}><Figure value={value} name={name} doubt={doubts.find(({ at }) => at === `/${name}`)?.plus_minus} /></Large>
              : <div class="long"><Value value={value} schema={schemaAt(entry.answer, name)} name={name} caption={labelOf(entry.answer, name)} /></div>}
          </div>
        );
      })}
    </div>
  );
}

export function AnswerView() {
  const question = useQuestion();
  const answer = question.answer.value;
  const error = question.error.value;
  const slow = question.work.slow.value;
  const run = runOf(answer ?? {});
  const drawn = run.map(([name]) => name);
  const names = (answer === undefined ? [] : headlineOf(question, answer)).filter((name) => !drawn.includes(name));
  const rest = answer === undefined ? {} : Object.fromEntries(Object.entries(answer).filter(([name]) => !names.includes(name) && !drawn.includes(name) && !BESIDE.includes(name)));
  return (
    <section class="answer" id="answer" aria-label="Answer">
      {failure.value !== undefined && <p class="refused">Nothing can be worked out here: {failure.value}.</p>}
      {slow && <p class="busy">Working it out <button type="button" class="plain" onClick={() => question.work.stop()}>Stop</button></p>}
      {question.stopped.value && !slow && <p class="refused">Stopped. <button type="button" class="plain" onClick={() => question.askAgain()}>Work it out again</button></p>}
      {error !== undefined && failure.value === undefined && <Refused error={error} />}
      {answer !== undefined && (
        <>
          <Warnings notes={question.notes.value} />
          <div id="figures">{names.length > 0 && <Headline answer={answer} names={names} />}</div>
          <Keep />
          {run.length > 0 && <div class="run-of"><Profile lists={run} schema={question.entry.answer} caption={question.entry.title} /></div>}
        </>
      )}
      <WhatIf />
      {answer !== undefined && (
        <>
          <Compared />
          {Object.keys(rest).length > 0 && <Members value={rest} schema={question.entry.answer} />}
          <Explained notes={question.notes.value} />
        </>
      )}
      <Ground />
      {answer !== undefined && <Share />}
      <Said />
    </section>
  );
}

/** On narrow screens, while the figures are out of sight: the first of them, and the way to it. */
export function Strip() {
  const question = useQuestion();
  const [away, setAway] = useState(false);
  const answer = question.answer.value;
  const there = answer !== undefined;
  useEffect(() => {
    const figures = document.getElementById("figures");
    if (figures === null) return undefined;
    const watch = new IntersectionObserver(([entry]) => setAway(!(entry?.isIntersecting ?? true)), { rootMargin: "0px 0px -64px 0px" });
    watch.observe(figures);
    return () => watch.disconnect();
  }, [there]);
  const notes = question.notes.value;
  const [name] = answer === undefined ? [] : headlineOf(question, answer);
  if (!away || answer === undefined) return null;
  const level = notes.some((note) => note.level === "limit") ? "limit" : notes.some((note) => note.level === "caution") ? "caution" : "";
  const value = name === undefined ? undefined : answer[name];
  return (
    <button type="button" class={`strip ${level}`} onClick={() => document.getElementById("answer")?.scrollIntoView()}>
      {level !== "" && <b class="mark">{level === "limit" ? "STOP" : "Caution"}</b>}
      {name !== undefined && value !== undefined && !Array.isArray(value) ? <>{labelOf(question.entry.answer, name)} <Figure value={value} name={name} /></> : "Answer"}
    </button>
  );
}
