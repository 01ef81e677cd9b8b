// What a form is made of besides its single fields: records, lists, rows of the stock, values written in several ways.
import { computed, signal, type ReadonlySignal, type Signal } from "@preact/signals";
import { ownRows, type How } from "../shop/own";
import { mine, nameWith, same, standsIn } from "../shop/spread";
import { rowOf, type Source } from "./catalogue";
import type { Field, FieldOf } from "./fields";
import { isRecord, Leaf, Node, type Members } from "./node";
import type { Json } from "./numbers";

export { Leaf, Node };

export class Part extends Node<FieldOf<"record">> {
  /** Whether it is there; one that may be left out begins without. */
  readonly on: Signal<boolean>;
  readonly all = signal<Map<string, Node>>(new Map());
  readonly picked: Signal<number>[];
  /** Members that no field is for, as they came. */
  extra: Members = {};
  private presetWhole?: Members;
  /** A changed row of the stock gives only what differs; other records are given whole. */
  overrides = false;

  constructor(field: FieldOf<"record">, parent?: Node) {
    super(field, parent);
    this.picked = field.choices().map(() => signal(0));
    this.on = signal(false);
    if (!field.optional) this.begin();
  }

  /** Whether something stands here where nothing is given. */
  standsFor(): boolean {
    return this.overrides || this.presetWhole !== undefined;
  }

  begin(): void {
    if (this.all.peek().size === 0) this.all.value = new Map(this.field.fields().map((field) => [field.name, nodeOf(field, this)]));
    this.on.value = true;
  }

  override part(name: string): Node | undefined {
    return this.on.value ? this.all.value.get(name) : undefined;
  }
  override nameOf(part: Node): string {
    return part.field.name;
  }
  override parts(): Node[] {
    return this.on.value ? [...this.all.value.values()].filter(({ field }) => !this.hidden(field.name)) : [];
  }

  /** Whether an alternative was chosen that leaves this out. */
  hidden(name: string): boolean {
    return this.field.choices().some(({ names, options }, index) => names.has(name) && !options[this.picked[index]?.value ?? 0]?.includes(name));
  }

  read(): Json | undefined {
    if (!this.on.value) return undefined;
    const given: Members = { ...this.extra };
    for (const node of this.parts()) {
      const value = node.read();
      if (value !== undefined) given[node.field.name] = value;
    }
    if (this.presetWhole === undefined || this.overrides) return given;
    return Object.keys(given).length > 0 ? { ...this.presetWhole, ...given } : undefined;
  }

  put(value: Json | undefined): void {
    this.extra = {};
    if (!isRecord(value)) {
      if (this.field.optional) this.on.value = false;
      for (const picked of this.picked) picked.value = 0;
      for (const node of this.all.peek().values()) node.put(undefined);
      return;
    }
    this.begin();
    this.field.choices().forEach(({ options }, index) => {
      const fits = options.findIndex((names) => names.some((name) => name in value));
      if (fits >= 0 && this.picked[index]) this.picked[index].value = fits;
    });
    for (const [name, node] of this.all.peek()) node.put(value[name]);
    this.extra = Object.fromEntries(Object.entries(value).filter(([name]) => !this.all.peek().has(name)));
  }

  setPreset(value: Json | undefined, basis?: (name: string) => Source | undefined): void {
    if (!isRecord(value) && this.presetWhole === undefined) return;
    this.presetWhole = isRecord(value) ? value : undefined;
    if (this.presetWhole !== undefined) this.begin();
    for (const [name, node] of this.all.peek()) node.setPreset(this.presetWhole?.[name], basis);
    // What only stood in is gone with it.
    if (this.presetWhole === undefined && this.field.optional && Object.keys(this.read() ?? {}).length === 0) this.on.value = false;
  }

  clear(except?: Node): void {
    this.extra = {};
    if (this.field.optional && !this.leadsTo(except) && this.presetWhole === undefined) this.on.value = false;
    for (const node of this.all.peek().values()) node.clear(except);
  }
}

export class Rows extends Node<FieldOf<"list" | "tuple">> {
  readonly rows = signal<Node[]>([]);
  /** An empty list that was meant. */
  private readonly meant = signal(false);
  readonly preset = signal<Json | undefined>(undefined);

  constructor(field: Rows["field"], parent?: Node) {
    super(field, parent);
    if (field.kind === "tuple" && !field.optional) this.fill();
  }

  /** The rows of a list that always has as many. */
  fill(): void {
    if (this.field.kind === "tuple") this.rows.value = this.field.items.map((item) => nodeOf(item, this));
  }
  make(value?: Json): Node {
    const { field } = this;
    const node = nodeOf(field.kind === "list" ? field.item() : field.items[this.rows.peek().length % field.items.length]!, this);
    if (value !== undefined) node.put(value);
    return node;
  }
  add(...values: (Json | undefined)[]): void {
    this.rows.value = [...this.rows.peek(), ...values.map((value) => this.make(value))];
  }
  remove(row: Node): void {
    this.rows.value = this.rows.peek().filter((other) => other !== row);
  }

  override part(name: string): Node | undefined {
    return this.rows.value[Number(name)];
  }
  override nameOf(part: Node): string {
    return String(this.rows.peek().indexOf(part));
  }
  override parts(): Node[] {
    return this.rows.value;
  }

  read(): Json | undefined {
    const rows = this.rows.value.map((row) => row.read());
    if (this.field.kind === "tuple" && rows.every((row) => row === undefined)) return undefined;
    if (rows.length === 0 && (this.field.optional || this.preset.value !== undefined) && !this.meant.value) return undefined;
    return rows.map((row) => row ?? null);
  }
  put(value: Json | undefined): void {
    this.meant.value = Array.isArray(value);
    if (this.field.kind === "tuple") {
      this.fill();
      this.rows.peek().forEach((row, index) => row.put(Array.isArray(value) ? value[index] : undefined));
      return;
    }
    // The rows that there are take the new values, so that what is shown of them stays as it is.
    const rows = this.rows.peek();
    this.rows.value = Array.isArray(value) ? value.map((_, index) => rows[index] ?? this.make()) : [];
    this.rows.peek().forEach((row, index) => row.put((value as Json[])[index]));
  }
  setPreset(value: Json | undefined): void {
    this.preset.value = value;
  }
  clear(except?: Node): void {
    this.meant.value = false;
    if (this.field.kind === "list") this.rows.value = this.rows.peek().filter((row) => row.leadsTo(except));
    for (const row of this.rows.peek()) row.clear(except);
  }
}

/** Of a value of the user's own. */
const OWN: Source = { kind: "user", source: "" };

export class Stock extends Node<FieldOf<"stock">> {
  readonly name = signal("");
  readonly isOwn = signal(false);
  readonly changed = signal<Part | undefined>(undefined);
  readonly own = signal<Part | undefined>(undefined);
  /** What the record around it has here where nothing is given. */
  readonly preset = signal<Json | undefined>(undefined);

  /** The row that is named, or the one that counts where none is. */
  readonly standing = computed(() => this.name.value || standsIn(this.field));
  /** The row that the record around it has here. */
  presetName(): string {
    const value = this.preset.value;
    return String((isRecord(value) ? value.from ?? nameWith(this.field.shelf, value) : value) ?? "");
  }
  /** What the user has in the place of its values. */
  readonly mine = computed(() => {
    const all = Object.entries(mine(this.field, this.standing.value, ownRows.value));
    return Object.fromEntries(all.filter(([name]) => !this.sought.includes(name)));
  });
  /** Members that the question itself measures: it starts from what the stock has. */
  sought: string[] = [];
  /** Members of which the built-in value is wanted here all the same. */
  readonly builtIn = signal<ReadonlySet<string>>(new Set());
  /** What is given of the user's own, and of the built-in values that are wanted in their place. */
  readonly given = computed(() => {
    const row = rowOf(this.field.shelf, this.standing.value);
    return Object.fromEntries(Object.entries(this.mine.value).map(([name, value]) => [name, this.builtIn.value.has(name) ? row?.values[name] ?? null : value]));
  });

  /** What was given when the values were laid out last. */
  private laidWith?: Members;
  /** Whether the values that are laid out are no more what stands. */
  isStale(): boolean {
    return this.changed.peek() !== undefined && this.laidWith !== this.given.peek();
  }

  choose(name: string): void {
    this.isOwn.value = false;
    this.name.value = name;
    this.builtIn.value = new Set();
    if (this.changed.peek() !== undefined) this.fromStock();
  }
  useBuiltIn(member: string, wanted: boolean): void {
    const others = [...this.builtIn.peek()].filter((name) => name !== member);
    this.builtIn.value = new Set(wanted ? [...others, member] : others);
    this.fromStock();
  }
  /** How the user came by the value of a member, where it was kept for this row. */
  howOf(member: string): How | undefined {
    return ownRows.value[this.field.shelf]?.[this.standing.value]?.how[member];
  }
  /** Lays the row's values out, to see and to change. */
  layOut(): Part {
    const part = this.changed.peek() ?? (nodeOf(this.field.changed(), this) as Part);
    part.overrides = true;
    this.changed.value = part;
    this.fromStock();
    return part;
  }
  fromStock(): void {
    const row = rowOf(this.field.shelf, this.standing.peek());
    const given = this.given.peek();
    this.laidWith = given;
    const part = this.changed.peek();
    part?.setPreset({ ...row?.values, ...given }, (name) => row?.basis.find(({ field }) => field.split(".").at(-1) === name));
    for (const [name, value] of Object.entries(given)) if (!this.builtIn.peek().has(name)) part?.part(name)?.setPreset(value, () => OWN);
  }
  /** After what is kept has changed: what was given and is now the user's own is no change any more. */
  follow(): void {
    for (const [name, value] of Object.entries(this.mine.peek())) {
      const node = this.changed.peek()?.part(name);
      if (node !== undefined && same(node.read(), value)) node.put(undefined);
    }
    this.fromStock();
  }
  makeOwn(): Part {
    this.isOwn.value = true;
    return (this.own.value ??= nodeOf(this.field.own(), this) as Part);
  }

  /** The record whose values are seen and changed; one of the stock once it is laid out. */
  laid(): Part | undefined {
    return this.isOwn.value ? this.own.value : this.changed.value;
  }
  override part(name: string): Node | undefined {
    return this.laid()?.part(name);
  }
  override parts(): Node[] {
    return this.laid()?.parts() ?? [];
  }

  read(): Json | undefined {
    if (this.isOwn.value) return this.own.value?.read();
    const row = this.standing.value;
    const typed = row === "" ? undefined : this.changed.value?.read();
    const changes = { ...this.given.value, ...(isRecord(typed) ? typed : {}) };
    return Object.keys(changes).length > 0 ? { from: row, ...changes } : this.name.value || undefined;
  }
  put(value: Json | undefined): void {
    this.changed.peek()?.put({});
    if (isRecord(value) && typeof value.from !== "string") {
      this.makeOwn().put(value);
      return;
    }
    const { from, ...changes } = isRecord(value) ? value : { from: value };
    this.choose(typeof from === "string" ? from : "");
    if (isRecord(value)) this.layOut().put(this.without(changes));
  }
  /** What is given beside the user's own: their values are no changes, and the built-in ones are wanted in their place. */
  private without(changes: Members): Members {
    const row = rowOf(this.field.shelf, this.standing.peek());
    const own = Object.entries(this.mine.peek());
    const builtIn = own.filter(([name]) => name in changes && same(changes[name], row?.values[name] ?? null)).map(([name]) => name);
    const known = [...builtIn, ...own.filter(([name, value]) => same(changes[name], value)).map(([name]) => name)];
    this.builtIn.value = new Set(builtIn);
    this.fromStock();
    return Object.fromEntries(Object.entries(changes).filter(([name]) => !known.includes(name)));
  }
  setPreset(value: Json | undefined): void {
    this.preset.value = value;
  }
  clear(except?: Node): void {
    if (except === this) return;
    if (!this.leadsTo(except)) this.choose("");
    this.changed.peek()?.clear(except);
    this.own.peek()?.clear(except);
  }
}

/** A value that can be written in several ways; what was typed in another way stays there. */
export class Forms extends Node<FieldOf<"forms">> {
  readonly which = signal(0);
  /** The way in which what stands here is written where nothing is given. */
  private usual?: number;
  readonly nodes: ReadonlySignal<Node[]>;

  constructor(field: FieldOf<"forms">, parent?: Node) {
    super(field, parent);
    this.nodes = signal(field.forms.map((form) => nodeOf(form, this)));
    this.which.value = Math.max(0, field.forms.findIndex(({ kind }) => kind !== "word"));
  }
  get current(): Node {
    return this.nodes.value[this.which.value]!;
  }
  /** The one word of a form that has no more to it. */
  onlyWord(index = this.which.value): string | undefined {
    const form = this.field.forms[index];
    return form?.kind === "word" && form.words.length === 1 ? form.words[0] : undefined;
  }
  override part(name: string): Node | undefined {
    return this.current.part(name);
  }
  override parts(): Node[] {
    return [this.current];
  }
  read(): Json | undefined {
    const word = this.onlyWord();
    if (word === undefined) return this.emptied(this.current.read());
    return this.which.value === this.usual ? undefined : word;
  }
  /** A record with nothing in it is none given. */
  private emptied(value: Json | undefined): Json | undefined {
    return isRecord(value) && Object.keys(value).length === 0 ? undefined : value;
  }
  private fits(value: Json): number {
    const at = (test: (field: Field) => boolean) => this.field.forms.findIndex(test);
    if (isRecord(value) && !("value" in value && "unit" in value)) {
      const names = Object.keys(value);
      const exact = at((form) => form.kind === "record" && names.every((name) => form.fields().some((field) => field.name === name)));
      return exact >= 0 ? exact : at(({ kind }) => kind === "record");
    }
    const word = at((form) => form.kind === "word" && form.words.includes(String(value)));
    return word >= 0 ? word : at(({ kind }) => kind !== "word" && kind !== "record");
  }
  put(value: Json | undefined): void {
    const fits = value === undefined || value === null ? -1 : this.fits(value);
    if (fits >= 0) this.which.value = fits;
    else if (value === undefined) {
      for (const node of this.nodes.peek()) node.put(undefined);
      if (this.usual !== undefined) this.which.value = this.usual;
    }
    this.current.put(value);
  }
  setPreset(value: Json | undefined, basis?: (name: string) => Source | undefined): void {
    if (value === undefined) return;
    const fits = this.fits(value);
    if (fits < 0) return;
    this.usual = fits;
    this.which.value = fits;
    this.current.setPreset(value, basis && (() => basis(this.field.name)));
  }
  clear(except?: Node): void {
    for (const node of this.nodes.peek()) node.clear(except);
  }
}

export function nodeOf(field: Field, parent?: Node): Node {
  switch (field.kind) {
    case "record": return new Part(field, parent);
    case "list": case "tuple": return new Rows(field, parent);
    case "stock": return new Stock(field, parent);
    case "forms": return new Forms(field, parent);
    default: return new Leaf(field, parent);
  }
}

/** Picks, of each either-or on the way to a node, the alternative that it is in. */
export function pick(node: Node): void {
  for (let at = node; at.parent !== undefined; at = at.parent) {
    const { parent, field: { name } } = at;
    if (!(parent instanceof Part)) continue;
    parent.field.choices().forEach(({ options }, index) => {
      const own = options.findIndex((names) => names.includes(name));
      if (own >= 0) parent.picked[index]!.value = own;
    });
  }
}

/** The node that a pointer leads to, or the nearest one around it. */
export function nodeAt(root: Node, pointer: string): Node {
  let node = root;
  for (const name of pointer.split("/").slice(1)) {
    const next = node.part(name.replaceAll("~1", "/").replaceAll("~0", "~"));
    if (next === undefined) break;
    node = next;
  }
  return node;
}
