// The order that is planned: its form, what the plan and the quote answer, what can be taken back, and what is kept of it.
import { batch, computed, effect, signal } from "@preact/signals";
import { useContext } from "preact/hooks";
import { FillingContext } from "../ask/context";
import { Filling, type Note, type Request } from "../ask/filling";
import type { Entry } from "../model/catalogue";
import { Leaf, nodeAt, Part, Rows, type Node } from "../model/nodes";
import { wanted } from "../model/wanted";
import { load, onChange, store } from "../shell/store";
import { answerOf, FloodbarError, Newest, type Answer } from "../work/engine";
import { Steps } from "./steps";
import { layOut, PLAN, QUOTE, STOPS, stopOf, type Stop } from "./stops";

/** Under which the order is kept on the device: its request; nothing while the example stands. */
const KEY = "job";

/** What is typed is kept at once, and then no oftener than this. */
const BETWEEN = 400;
/** So long after an edit the order counts as being worked on here. */
const AT_HAND = 4000;

/** One calculation of the order: its newest answer, or why there is none. */
export class Reply {
  readonly answer = signal<Answer | undefined>(undefined);
  readonly error = signal<FloodbarError | Error | undefined>(undefined);
  readonly stopped = signal(false);
  readonly work = new Newest<Answer>();
  constructor(readonly entry: Entry) {}

  private asked = "";

  ask(request: Request): void {
    const text = JSON.stringify(request);
    // Who comes back to the order finds its answer as it was.
    if (text === this.asked && this.answer.peek() !== undefined) return;
    this.asked = text;
    this.stopped.value = false;
    const came = (answer: Answer | undefined, error?: unknown) => batch(() => {
      this.answer.value = answer;
      this.stopped.value = error === "stopped";
      this.error.value = error === "stopped" ? undefined : error as Error | undefined;
    });
    this.work.ask((signal) => answerOf(this.entry.id, request, signal), came, (error) => came(undefined, error));
  }
}

/** The request without what only the quote asks for. */
const planned = (request: Request): Request =>
  Object.fromEntries(Object.entries(request).filter(([name]) => name in (PLAN.request.properties ?? {}) || !(name in (QUOTE.request.properties ?? {}))));

export interface State { wanted: Node[]; wrong: boolean; notes: Note[]; given: boolean }

export class Job extends Filling {
  readonly plan = new Reply(PLAN);
  readonly quote = new Reply(QUOTE);
  readonly error = computed(() => this.plan.error.value ?? this.quote.error.value);
  /** What both say is said once. */
  readonly notes = computed(() => {
    const all = [this.plan, this.quote].flatMap(({ answer }) => (answer.value?.notes ?? []) as unknown as Note[]);
    return [...new Map(all.map((note) => [JSON.stringify(note), note])).values()];
  });
  /** What is wanted still. */
  private readonly lacking = computed(() => wanted(this.root));
  /** The stop that is open. */
  readonly at = signal<Stop | undefined>(undefined);
  /** What another tab made of the order while it was worked on here; undefined within where that tab shows the example. */
  readonly theirs = signal<{ request?: Request } | undefined>(undefined);
  readonly steps: Steps;
  /** The field in which the order is being changed. */
  private hand?: Node;
  private rewritten = false;
  private moving = false;
  private edited = 0;
  private kept?: string;
  private saved = 0;
  private saving?: ReturnType<typeof setTimeout>;

  constructor(before?: Request) {
    super(QUOTE);
    this.kept = JSON.stringify(before);
    this.fill(before ?? QUOTE.example, before === undefined);
    layOut(this.root);
    this.steps = new Steps(this.state());
    effect(() => {
      const state = this.state();
      if (!this.moving) this.steps.note(state, this.hand, this.rewritten);
    });
    effect(() => this.inSystem());
    onChange(KEY, () => void this.heard());
    document.addEventListener("visibilitychange", () => document.hidden && this.save());
    const [first] = this.lacking.peek();
    this.at.value = first === undefined ? STOPS[0] : stopOf(first);
  }

  /** Asks while somebody looks. */
  open(): () => void {
    return effect(() => {
      const request = this.sent.value;
      this.plan.ask(planned(request));
      this.quote.ask(request);
    });
  }
  askAgain = (): void => {
    this.plan.ask(planned(this.sent.peek()));
    this.quote.ask(this.sent.peek());
  };

  private state(): string {
    return JSON.stringify([this.isExample.value, this.request.value]);
  }

  /** How far a stop is. */
  stateOf(stop: Stop): State {
    const lacking = this.lacking.value.filter((node) => stopOf(node) === stop);
    const wrong = this.wrong.value;
    const missing = this.error.value instanceof FloodbarError && this.error.value.code === "missing_field";
    const isWrong = wrong !== undefined && wrong !== this.root && !missing && stopOf(wrong) === stop;
    const notes = this.notes.value.filter(({ field }) => (field === "" ? stop.general === true : stopOf(nodeAt(this.root, field)) === stop));
    const reply = stop === STOPS.at(-1) ? this.quote : this.plan;
    const begun = this.root.parts().some((node) => stopOf(node) === stop && node.read() !== undefined);
    return { wanted: lacking, wrong: isWrong, notes, given: lacking.length === 0 && !isWrong && (begun || reply.answer.value !== undefined) };
  }

  override edit(node: Node, change: () => void): void {
    this.hand = node instanceof Leaf && node.field.kind !== "word" && node.field.kind !== "truth" ? node : undefined;
    this.rewritten = false;
    this.edited = Date.now();
    super.edit(node, change);
  }
  override vary(change: () => void, node?: Node): void {
    this.hand = node;
    this.rewritten = node !== undefined;
    super.vary(change);
  }
  override fill(given: Request, isExample: boolean): void {
    this.hand = undefined;
    super.fill(given, isExample);
  }

  /** What an order must have one of is there to be filled in. */
  protected override emptied(): void {
    const begin = (node: Node): void => {
      if (node instanceof Rows && node.field.kind === "list" && !node.field.optional && node.rows.peek().length === 0) node.add(undefined);
      if (node instanceof Rows || node instanceof Part) node.parts().forEach(begin);
    };
    begin(this.root);
  }
  begin(): void {
    this.root.put(undefined);
    this.read({});
    this.at.value = STOPS[0];
  }
  /** An order from elsewhere, which may be an unfinished one. */
  read(order: Request): void {
    batch(() => {
      this.fill(order, false);
      this.emptied();
    });
  }

  undo = (): void => this.move(this.steps.undo());
  redo = (): void => this.move(this.steps.redo());
  private move(state: string | undefined): void {
    if (state === undefined) return;
    const [isExample, request] = JSON.parse(state) as [boolean, Request];
    this.moving = true;
    this.fill(request, isExample);
    this.moving = false;
    this.edited = Date.now();
  }

  protected keep(): void {
    clearTimeout(this.saving);
    this.saving = setTimeout(() => this.save(), Math.max(0, this.saved + BETWEEN - Date.now()));
  }
  private save(): void {
    clearTimeout(this.saving);
    this.saving = undefined;
    if (this.theirs.peek() !== undefined) return;
    const request = this.isExample.peek() ? undefined : this.request.peek();
    const text = JSON.stringify(request);
    if (text === this.kept) return;
    this.kept = text;
    this.saved = Date.now();
    void store(KEY, request);
  }

  private async heard(): Promise<void> {
    const request = await load<Request>(KEY);
    if (JSON.stringify(request) === this.kept) return;
    if (this.saving !== undefined || Date.now() - this.edited < AT_HAND) this.theirs.value = { request };
    else this.take(request);
  }
  /** Takes over what another tab made of the order. */
  take(request?: Request): void {
    this.theirs.value = undefined;
    this.kept = JSON.stringify(request);
    this.fill(request ?? QUOTE.example, request === undefined);
  }
  keepOwn(): void {
    this.theirs.value = undefined;
    this.kept = "";
    this.save();
  }
}

/** The order of this page; undefined until it is known what was kept of it. */
export const job = signal<Job | undefined>(undefined);
let opening: Promise<void> | undefined;
export const openJob = (): Promise<void> => (opening ??= load<Request>(KEY).then((kept) => {
  job.value = new Job(kept);
}));

/** The order, for all parts of its view. */
export function useJob(): Job {
  const filling = useContext(FillingContext);
  if (!(filling instanceof Job)) throw new Error("no order is open here");
  return filling;
}
