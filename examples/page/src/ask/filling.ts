// A form that is open: what stands in it, as a request, and what was said of it. A question and an order are each such a one.
import { batch, computed, signal, type ReadonlySignal } from "@preact/signals";
import type { Entry } from "../model/catalogue";
import { fieldOf } from "../model/fields";
import { alongTo, filledIn, withValueAt } from "../model/json";
import { Leaf, nodeAt, nodeOf, Part, pick, type Node } from "../model/nodes";
import type { Json } from "../model/numbers";
import { system } from "../shell/settings";
import { FloodbarError } from "../work/engine";

export type Request = { [name: string]: Json };
export interface Note { level: "info" | "caution" | "limit"; code: string; field: string; message: string }

/** Members of every request that are no fields of the form. */
const BESIDE = ["units", "explain", "doubt"];

/** The form of a calculation's request, with nothing in it. */
export function formOf(entry: Entry): Part {
  const properties = Object.fromEntries(Object.entries(entry.request.properties ?? {}).filter(([name]) => !BESIDE.includes(name)));
  return nodeOf(fieldOf({ ...entry.request, properties }, "", true, entry.title)) as Part;
}

/** Where members stand in a form that no field is for. */
export function strangers(node: Node): string[] {
  const here = node instanceof Part ? Object.keys(node.extra).filter((name) => node.parent !== undefined || !BESIDE.includes(name)) : [];
  return [...here.map((name) => `${node.pointer()}/${name}`), ...node.parts().flatMap(strangers)];
}

export abstract class Filling {
  readonly root: Part;
  /** What stands in the form is the worked example. */
  readonly isExample = signal(true);
  /** The example was cleared by an edit, and can be put back. */
  readonly cleared = signal(false);
  readonly request = computed(() => this.root.read() as Request);
  /** What is sent: the form's request, in the system of units that is switched on. */
  readonly sent = computed(() => (system.value === "us" && this.request.value.units === undefined ? { ...this.request.value, units: "us" } : this.request.value));
  abstract readonly error: ReadonlySignal<FloodbarError | Error | undefined>;
  abstract readonly notes: ReadonlySignal<Note[]>;
  /** The node that the error is about. */
  readonly wrong = computed(() => (this.error.value instanceof FloodbarError ? nodeAt(this.root, this.error.value.field) : undefined));
  protected readonly ends: (() => void)[] = [];
  /** A form beside the page's own, which is not remembered and stands in no address. */
  readonly apart: boolean = false;
  /** Where the edit was that cleared the example. */
  private firstEdit?: { node: Node; pointer: string };

  constructor(readonly entry: Entry) {
    this.root = formOf(entry);
  }

  /** Notes what stands in the form, where it is kept. */
  protected abstract keep(): void;
  /** What is to stand in a form that was emptied. */
  protected emptied(): void {}

  fill(given: Request, isExample: boolean): void {
    const { units, ...request } = given;
    batch(() => {
      // Of a link or a file: the switch follows it, and is what says so from here on.
      if (units === "us" || units === "metric") system.value = units;
      this.root.put(units === undefined || units === "us" || units === "metric" ? request : given);
      this.isExample.value = isExample;
      this.cleared.value = false;
      this.inSystem();
    });
    this.keep();
  }

  /** The first edit of an example empties what else it holds: none of its numbers passes for the reader's own. */
  edit(node: Node, change: () => void): void {
    batch(() => {
      if (this.isExample.peek()) {
        this.firstEdit = { node, pointer: node.pointer() };
        this.root.clear(node);
        this.emptied();
        this.isExample.value = false;
        this.cleared.value = true;
      }
      change();
      this.inSystem();
    });
    this.keep();
  }
  /** Trying a value out leaves the rest of an example as it is; so does what only writes a value otherwise. */
  vary(change: () => void, _node?: Node): void {
    batch(() => {
      change();
      this.inSystem();
    });
    if (!this.isExample.peek()) this.keep();
  }
  /** Puts back what the first edit cleared, around what was typed since. */
  keepExample(): void {
    const { node, pointer } = this.firstEdit!;
    const [, first = ""] = pointer.split("/");
    const { [first]: edited, ...others } = (filledIn(this.root.read()) ?? {}) as Request;
    const { example } = this.entry;
    // What was typed beside the first edit goes before what the example has around it.
    const alone = edited === undefined || JSON.stringify(edited) === JSON.stringify(alongTo(node.pointer().split("/").slice(2), filledIn(node.read())));
    this.fill({ ...((alone && withValueAt(example, pointer, node.read())) || { ...example, [first]: edited }) as Request, ...others }, false);
    // The example may have the other of two.
    batch(() => pick(nodeAt(this.root, pointer)));
    this.keep();
  }

  /** Fields in which nothing stands begin in the units of the system. */
  protected inSystem(node: Node = this.root): void {
    const units = system.value;
    if (node instanceof Leaf) {
      if (!node.given.peek() && !node.picked) node.unit.value = node.usualUnit(units);
    } else for (const part of node.parts()) this.inSystem(part);
  }
}
