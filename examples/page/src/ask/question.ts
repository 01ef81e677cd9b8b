// One question that is open: its form, its request, and the answer as it is typed.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Entry } from "../model/catalogue";
import { fieldOf } from "../model/fields";
import { Forms, Leaf, nodeAt, nodeOf, Part, Rows, Stock, type Node } from "../model/nodes";
import type { Json } from "../model/numbers";
import { note } from "../shell/place";
import { remember, system } from "../shell/settings";
import { measureOf } from "../shop/measures";
import { leaveOut } from "../shop/take";
import { answerOf, FloodbarError, Newest, type Answer } from "../work/engine";

type Request = { [name: string]: Json };
export interface Note { level: "info" | "caution" | "limit"; code: string; field: string; message: string }
export interface Kept { request: Request; answer: Answer; label: string }

/** Members of every request that are no fields of the form. */
const BESIDE = ["units", "explain", "doubt"];

export class Question {
  readonly root: Part;
  /** What stands in the form is the worked example. */
  readonly isExample = signal(true);
  /** The example was cleared by an edit, and can be put back. */
  readonly cleared = signal(false);
  readonly answer = signal<Answer | undefined>(undefined);
  /** The last answer that there was: what is varied goes on where a value of it has none. */
  readonly latest = signal<Answer | undefined>(undefined);
  /** The field that is varied. */
  readonly varied = signal<Leaf | undefined>(undefined);
  readonly error = signal<FloodbarError | Error | undefined>(undefined);
  readonly stopped = signal(false);
  readonly kept = signal<Kept | undefined>(undefined);
  readonly work = new Newest<Answer>();
  readonly request = computed(() => this.root.read() as Request);
  /** What is sent: the form's request, in the system of units that is switched on. */
  readonly sent = computed(() => (system.value === "us" && this.request.value.units === undefined ? { ...this.request.value, units: "us" } : this.request.value));
  /** The node that the error is about. */
  readonly wrong = computed(() => (this.error.value instanceof FloodbarError ? nodeAt(this.root, this.error.value.field) : undefined));
  readonly notes = computed(() => (this.answer.value?.notes ?? []) as unknown as Note[]);
  private readonly ends: (() => void)[] = [];
  private saving?: ReturnType<typeof setTimeout>;

  /** `apart`: a form beside the page's own question, which is not remembered and stands in no address. */
  constructor(readonly entry: Entry, request?: Request, readonly apart = false) {
    const properties = Object.fromEntries(Object.entries(entry.request.properties ?? {}).filter(([name]) => !BESIDE.includes(name)));
    this.root = nodeOf(fieldOf({ ...entry.request, properties }, "", true, entry.title)) as Part;
    leaveOut(measureOf(entry.id), this.root);
    this.fill(request ?? entry.example, request === undefined);
    this.ends.push(effect(() => this.inSystem(this.root)), effect(() => this.ask(this.sent.value)));
  }

  end(): void {
    this.work.stop();
    clearTimeout(this.saving);
    for (const end of this.ends) end();
  }

  fill(given: Request, isExample: boolean): void {
    const { units, ...request } = given;
    batch(() => {
      // Of a link: the switch follows it, and is what says so from here on.
      if (units === "us" || units === "metric") system.value = units;
      this.root.put(units === undefined || units === "us" || units === "metric" ? request : given);
      this.isExample.value = isExample;
      this.cleared.value = false;
      this.inSystem(this.root);
    });
    if (!isExample) this.save();
    else if (!this.apart) note(this.entry.id, undefined);
  }

  /** The first edit of an example empties what else it holds: none of its numbers passes for the reader's own. */
  edit(node: Node, change: () => void): void {
    batch(() => {
      if (this.isExample.peek()) {
        this.root.clear(node);
        this.isExample.value = false;
        this.cleared.value = true;
      }
      change();
      this.inSystem(this.root);
    });
    this.save();
  }
  /** Trying a value out leaves the rest of an example as it is. */
  vary(change: () => void): void {
    batch(() => {
      change();
      this.inSystem(this.root);
    });
    if (!this.isExample.peek()) this.save();
  }
  /** Puts back what the first edit cleared, around what was typed since. */
  keepExample(): void {
    const own = this.root.read() as Request;
    this.fill({ ...this.entry.example, ...own }, false);
  }

  /** Fields in which nothing stands begin in the units of the system. */
  private inSystem(node: Node): void {
    const units = system.value;
    if (node instanceof Leaf) {
      if (!node.given.peek() && !node.picked) node.unit.value = node.usualUnit(units);
    } else for (const part of node.parts()) this.inSystem(part);
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

  private save(): void {
    clearTimeout(this.saving);
    if (this.apart) return;
    this.saving = setTimeout(() => note(this.entry.id, this.isExample.peek() ? undefined : this.request.peek()), 250);
  }
}

/** What a node is called, with what it is part of: "Test strips 2, Exposure given". */
export function nameOf(node: Node): string {
  const names: string[] = [];
  for (let part: Node | undefined = node; part?.parent !== undefined; part = part.parent) {
    if (part.parent instanceof Forms) continue;
    if (part.parent instanceof Rows && part.parent.field.kind === "list") names.unshift(`${part.parent.field.label} ${part.parent.nameOf(part) === "-1" ? "" : Number(part.parent.nameOf(part)) + 1}`);
    else if (!(part instanceof Rows) || names.length === 0) if (!(part.parent instanceof Stock) && names[0] !== part.field.label) names.unshift(part.field.label);
  }
  return [...new Set(names)].join(", ");
}
