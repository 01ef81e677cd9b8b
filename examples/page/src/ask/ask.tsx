// The Ask door: one question, its form and its answer.
import { useEffect, useMemo } from "preact/hooks";
import { entryOf } from "../model/catalogue";
import type { Json } from "../model/numbers";
import { stopOf } from "../home/stops";
import { asked } from "../shell/settings";
import { ReadingsAt } from "../shop/numbers";
import { AnswerView, Strip } from "./answer/answer";
import { QuestionContext } from "./context";
import { Fields } from "./form/fields";
import { Faults } from "./form/frame";
import { Question } from "./question";

interface Opening { id: string; request?: { [name: string]: Json }; broken?: boolean }

export function Ask({ id, request, broken }: Opening) {
  const entry = entryOf(id);
  if (entry === undefined) {
    return <main class="page lost" id="main"><h1>No such question</h1><p>There is nothing called “{id}” here. <a href="#/">All questions</a></p></main>;
  }
  return <Opened key={id + JSON.stringify(request ?? null)} id={id} request={request} broken={broken} />;
}

function Opened({ id, request, broken }: Opening) {
  const entry = entryOf(id)!;
  const question = useMemo(() => new Question(entry, request), []);
  // What was asked here on the visit before, as it was when this was opened.
  const last = useMemo(() => (request === undefined ? asked.peek()[id] : undefined), []);
  useEffect(() => {
    document.title = `${entry.question} · Floodbar`;
    document.querySelector<HTMLElement>("h1")?.focus();
    return () => question.end();
  }, []);
  return (
    <QuestionContext.Provider value={question}>
      <main class="page ask" id="main">
        <header class="asked">
          <p class="where"><a href="#/">All questions</a><span aria-hidden="true"> / </span>{stopOf(id)?.name ?? "Anywhere"}</p>
          <h1 tabIndex={-1}>{entry.question}</h1>
        </header>
        <form class="form" noValidate onSubmit={(event) => event.preventDefault()} aria-label={entry.title}>
          {broken && <p class="refused">The inputs of this link cannot be read: what stands here is the example.</p>}
          <Example last={last as { [name: string]: Json } | undefined} question={question} />
          <Faults node={question.root} />
          <ReadingsAt ids={stopOf(id)?.questions.map((entry) => entry.id) ?? []} />
          <div class="thread"><Fields node={question.root} /></div>
        </form>
        <AnswerView />
        <Strip />
      </main>
    </QuestionContext.Provider>
  );
}

function Example({ question, last }: { question: Question; last?: { [name: string]: Json } }) {
  if (question.isExample.value) {
    return (
      <p class="example">
        <b>A worked example.</b> Your first entry clears it.
        {last !== undefined && <> <button type="button" class="link" onClick={() => question.fill(last, false)}>Take what you asked last</button></>}
      </p>
    );
  }
  const again = () => question.fill(question.entry.example, true);
  return (
    <p class="example">
      {question.cleared.value && <>The example was cleared. <button type="button" class="link" onClick={() => question.keepExample()}>Keep its other values</button> or </>}
      <button type="button" class="link" onClick={again}>{question.cleared.value ? "start it over" : "Show the example"}</button>
    </p>
  );
}
