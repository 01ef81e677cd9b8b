// A stop of the order: what is given there, what is wanted still, and what comes of it.
import { Fields } from "../ask/form/fields";
import { HereContext } from "../ask/form/here";
import { Message, Warnings, goTo } from "../ask/answer/notes";
import { Members } from "../ask/answer/value";
import { nameOf } from "../ask/names";
import type { Node } from "../model/nodes";
import { failure, fault, FloodbarError } from "../work/engine";
import { useJob, type Job, type State } from "./job";
import { hereAt, PLAN, planAt, QUOTE, quoteAt, STOPS, stopOf, type Stop } from "./stops";

const headOf = (stop: Stop): string => `stop-${STOPS.indexOf(stop)}`;

/** After the next drawing. */
const drawn = (act: () => void): void => void requestAnimationFrame(() => requestAnimationFrame(act));

/** Opens a stop, and moves to its head. */
function openStop(job: Job, stop: Stop): void {
  job.at.value = stop;
  drawn(() => {
    const head = document.getElementById(headOf(stop));
    head?.focus({ preventScroll: true });
    head?.scrollIntoView({ block: "start" });
  });
}
/** Opens the stop of a field, and moves to the field. */
function lead(job: Job, node: Node): void {
  job.at.value = stopOf(node);
  drawn(() => goTo(node));
}

const count = (number: number, one: string, more = `${one}s`): string => `${number} ${number === 1 ? one : more}`;

function Marks({ state }: { state: State }) {
  const level = (name: string) => state.notes.filter((note) => note.level === name).length;
  const [limits, cautions] = [level("limit"), level("caution")];
  return (
    <span class="marks">
      {limits > 0 && <span class="limit"><b class="mark">{count(limits, "STOP")}</b></span>}
      {cautions > 0 && <span class="caution"><b class="mark">{count(cautions, "caution")}</b></span>}
      {state.wrong && <span>1 to put right</span>}
      {state.wanted.length > 0 && <span>{state.wanted.length} still wanted</span>}
    </span>
  );
}

export function StopView({ stop, next }: { stop: Stop; next?: Stop }) {
  const job = useJob();
  const state = job.stateOf(stop);
  const open = job.at.value === stop;
  const id = headOf(stop);
  const here = hereAt(stop);
  return (
    <li class="stop" data-given={state.given || undefined} data-stop={stop.name}>
      <h2>
        <button type="button" id={id} class="stop-name" aria-expanded={open} aria-controls={`${id}-at`} onClick={() => (job.at.value = open ? undefined : stop)}>
          <span>{stop.name}</span><Marks state={state} />
        </button>
      </h2>
      <div id={`${id}-at`} class="at" hidden={!open}>
        {open && (
          <>
            <div class="given">
              {state.wanted.length > 0 && (
                <div class="refused">
                  <p>Still wanted:</p>
                  <ul class="missing">{state.wanted.slice(0, 12).map((node) => <li key={node.uid}><button type="button" class="link" onClick={() => goTo(node)}>{nameOf(node)}</button></li>)}</ul>
                </div>
              )}
              {job.root.parts().some(here.shows)
                ? <HereContext.Provider value={here}><Fields node={job.root} /></HereContext.Provider>
                : <p>Nothing is filled in here: it follows from the stops before.</p>}
            </div>
            <Comes stop={stop} state={state} />
            {next && <p class="next"><button type="button" class="plain" onClick={() => openStop(job, next)}>Next stop: {next.name}</button></p>}
          </>
        )}
      </div>
    </li>
  );
}

/** What the order's answers say at this stop. */
function Comes({ stop, state }: { stop: Stop; state: State }) {
  const job = useJob();
  const { plan, quote } = job;
  const asked = job.request.value;
  const last = stop === STOPS.at(-1);
  const planned = plan.answer.value && planAt(stop, plan.answer.value, asked);
  const priced = quote.answer.value && quoteAt(stop, quote.answer.value, asked);
  const reply = last ? quote : plan;
  return (
    <div class="comes">
      <h3>What comes of it</h3>
      {(plan.work.slow.value || quote.work.slow.value) && <p class="busy">Working it out <button type="button" class="plain" onClick={() => [plan, quote].forEach(({ work }) => work.stop())}>Stop</button></p>}
      {reply.stopped.value && <p class="refused">Stopped. <button type="button" class="plain" onClick={job.askAgain}>Work it out again</button></p>}
      {failure.value !== undefined ? <p class="refused">Nothing can be worked out here: {failure.value}.</p> : reply.error.value !== undefined && <Waits error={reply.error.value} stop={stop} />}
      <Warnings notes={state.notes} lead={(node) => lead(job, node)} />
      {planned && Object.keys(planned).length > 0 && <Members value={planned} schema={PLAN.answer} />}
      {priced && Object.keys(priced).length > 0 && <Members value={priced} schema={QUOTE.answer} />}
    </div>
  );
}

/** Why there is no answer, and the way to what it waits for. */
function Waits({ error, stop }: { error: Error; stop: Stop }) {
  const job = useJob();
  const node = job.wrong.value;
  if (!(error instanceof FloodbarError)) return <p class="refused">No answer: {fault(error)}. <button type="button" class="plain" onClick={job.askAgain}>Work it out again</button></p>;
  const lacking = STOPS.map((other) => [other, job.stateOf(other).wanted.length] as const).filter(([other, wanted]) => wanted > 0 && other !== stop && (stop === STOPS.at(-1) || other !== STOPS.at(-1)));
  if (error.code === "missing_field") {
    return (
      <div class="refused">
        <p>It comes when nothing is wanted any more{lacking.length > 0 ? ". Elsewhere there is still:" : " here."}</p>
        <ul class="missing">{lacking.map(([other, wanted]) => <li key={other.name}><button type="button" class="link" onClick={() => openStop(job, other)}>{wanted} at {other.name}</button></li>)}</ul>
      </div>
    );
  }
  return (
    <div class="refused">
      <p><b>No answer yet.</b> <Message text={error.message} />.</p>
      {node !== undefined && node !== job.root && <p><button type="button" class="link" onClick={() => lead(job, node)}>{nameOf(node)}</button></p>}
    </div>
  );
}
