// On demand: where each built-in number came from, the formula, the doubts, and the request and the answer as they go over the wire.
import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { kindOf } from "../../model/catalogue";
import { figures, unitSign, words } from "../../model/numbers";
import { linkWith } from "../../shell/place";
import { FloodbarError } from "../../work/engine";
import { useQuestion } from "../context";

function Fold({ title, children }: { title: string; children: () => ComponentChildren }) {
  const open = useSignal(false);
  return (
    <details class="fold" onToggle={(event) => (open.value = event.currentTarget.open)}>
      <summary>{title}</summary>
      {open.value && children()}
    </details>
  );
}

interface Basis { for: string; kind: string; source: string }
interface Doubt { at: string; plus_minus: number; unit?: string; contributor: string; share_fraction: number }

/** An error as it goes over the wire. */
function refusal(error: Error | undefined): unknown {
  if (!(error instanceof FloodbarError)) return error === undefined ? null : { error: { message: error.message } };
  const { code, field, message, got, allowed } = error;
  return { error: { code, field, message, got, allowed } };
}

export function Ground() {
  const question = useQuestion();
  const { entry } = question;
  const answer = question.answer.value;
  const basis = (answer?.basis ?? []) as unknown as Basis[];
  const doubts = (answer?.doubt ?? []) as unknown as Doubt[];
  const json = (value: unknown) => JSON.stringify(value, null, 1);
  return (
    <>
      <Fold title="Where the numbers come from">
        {() => (
          <>
            <p class="formula">{entry.formula}</p>
            <ul class="sources">{entry.sources.map(({ kind, source }) => <li key={source}>{source} <span class="kind">{kindOf(kind)}</span></li>)}</ul>
            {basis.length > 0 && <ul class="sources">{basis.map((one) => <li key={one.for + one.source}><b>{words(one.for)}</b>: {one.source} <span class="kind">{kindOf(one.kind)}</span></li>)}</ul>}
          </>
        )}
      </Fold>
      {doubts.length > 0 && (
        <Fold title="What makes the doubt">
          {() => <ul class="sources">{doubts.map((one) => <li key={one.at + one.contributor}><b>{words(one.at.slice(1))}</b> ± {figures(one.plus_minus, one.plus_minus)} {unitSign(one.unit ?? "")}: {figures(one.share_fraction * 100)} % of it from {words(one.contributor.slice(1))}</li>)}</ul>}
        </Fold>
      )}
      <Fold title="Request and answer as JSON">
        {() => (
          <>
            <h3>{entry.id}</h3>
            <pre class="raw request" tabIndex={0} aria-label="Request">{json(question.sent.value)}</pre>
            <pre class="raw answer" tabIndex={0} aria-label="Answer">{json(answer ?? refusal(question.error.value))}</pre>
          </>
        )}
      </Fold>
    </>
  );
}

/** A link with the inputs, on the clipboard. */
export function Share() {
  const question = useQuestion();
  const said = useSignal("");
  const copy = async () => {
    const link = new URL(linkWith(question.entry.id, question.sent.peek()), location.href).href;
    try {
      await navigator.clipboard.writeText(link);
      said.value = "Copied";
    } catch {
      said.value = "Not allowed here: copy the address instead";
    }
  };
  return <span class="share"><button type="button" class="plain" onClick={() => void copy()}>Copy a link with these inputs</button> <output>{said.value}</output></span>;
}
