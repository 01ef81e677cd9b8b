// One question that is open: its form, its request, and the answer as it is typed.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Entry } from "../model/catalogue";
import type { Leaf } from "../model/nodes";
import { note } from "../shell/place";
import { remember } from "../shell/settings";
import { measureOf } from "../shop/measures";
import { leaveOut } from "../shop/take";
import { answerOf, FloodbarError, Newest, type Answer } from "../work/engine";
import { Filling, type Note, type Request } from "./filling";

export interface Kept { request: Request; answer: Answer; label: string }

export class Question extends Filling {
  readonly answer = signal<Answer | undefined>(undefined);
  /** The last answer that there was: what is varied goes on where a value of it has none. */
  readonly latest = signal<Answer | undefined>(undefined);
  /** The field that is varied. */
  readonly varied = signal<Leaf | undefined>(undefined);
  readonly error = signal<FloodbarError | Error | undefined>(undefined);
  readonly stopped = signal(false);
  readonly kept = signal<Kept | undefined>(undefined);
  readonly work = new Newest<Answer>();
  readonly notes = computed(() => (this.answer.value?.notes ?? []) as unknown as Note[]);
  private saving?: ReturnType<typeof setTimeout>;

  constructor(entry: Entry, request?: Request, override readonly apart = false) {
    super(entry);
    leaveOut(measureOf(entry.id), this.root);
    this.fill(request ?? entry.example, request === undefined);
    this.ends.push(effect(() => this.inSystem()), effect(() => this.ask(this.sent.value)));
  }

  end(): void {
    this.work.stop();
    clearTimeout(this.saving);
    for (const end of this.ends) end();
  }

  protected keep(): void {
    clearTimeout(this.saving);
    if (this.apart) return;
    this.saving = setTimeout(() => note(this.entry.id, this.isExample.peek() ? undefined : this.request.peek()), 250);
  }

  private ask(request: Request): void {
    this.stopped.value = false;
    performance.mark("floodbar-asked");
    this.work.ask(
      (signal) => answerOf(this.entry.id, request, signal),
      (answer) => batch(() => {
        this.answer.value = answer;
        this.latest.value = answer;
        this.error.value = undefined;
        if (performance.getEntriesByName("floodbar-first-answer").length === 0) performance.mark("floodbar-first-answer");
        performance.measure("floodbar-answer", "floodbar-asked");
        if (!this.isExample.peek() && !this.apart) remember(this.entry.id, this.request.peek());
      }),
      (error) => batch(() => {
        if (error === "stopped") this.stopped.value = true;
        else this.error.value = error as Error;
        this.answer.value = undefined;
      }),
    );
  }

  askAgain(): void {
    this.ask(this.sent.peek());
  }
}
