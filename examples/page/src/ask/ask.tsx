// The Ask door: one question, its form and its answer.
import { useEffect, useMemo, useRef } from "preact/hooks";
import { entryOf } from "../model/catalogue";
import type { Json } from "../model/numbers";
import { stopOf } from "../home/stops";
import { tooLong } from "../shell/place";
import { asked } from "../shell/settings";
import { ReadingsAt } from "../shop/numbers";
import type { Request } from "./filling";
import { Example } from "./form/example";
import { AnswerView, Strip } from "./answer/answer";
import { FillingContext } from "./context";
import { Fields } from "./form/fields";
import { Faults } from "./form/frame";
import { Question } from "./question";

interface Opening { id: string; request?: Request; broken?: boolean }

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
  // What was asked here before: it may come late, and what is asked from here on is not it.
  const before = useRef<Json | undefined>(undefined);
  if (request === undefined && question.isExample.value) before.current ??= asked.value[id];
  const last = before.current;
  useEffect(() => {
    document.title = `${entry.question} · Floodbar`;
    document.querySelector<HTMLElement>("h1")?.focus();
    return () => question.end();
  }, []);
  return (
    <FillingContext.Provider value={question}>
      <main class="page ask" id="main">
        <header class="asked">
          <p class="where"><a href="#/">All questions</a><span aria-hidden="true"> / </span>{stopOf(id)?.name ?? "Anywhere"}</p>
          <h1 tabIndex={-1}>{entry.question}</h1>
        </header>
        <form class="form" noValidate onSubmit={(event) => event.preventDefault()} aria-label={entry.title}>
          {broken && <p class="refused">The inputs of this link cannot be read: what stands here is the example.</p>}
          <Example>
            {last !== undefined && <> <button type="button" class="link" onClick={() => question.fill(last as Request, false)}>Take what you asked last</button></>}
          </Example>
          {tooLong.value === id && <p class="hint unlinked" role="status">These inputs are too long for the address: a reload begins with the example.</p>}
          <Faults node={question.root} />
          <ReadingsAt ids={stopOf(id)?.questions.map((entry) => entry.id) ?? []} />
          <div class="thread"><Fields node={question.root} /></div>
        </form>
        <AnswerView />
        <Strip />
      </main>
    </FillingContext.Provider>
  );
}
