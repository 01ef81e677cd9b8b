// A node for each field of a form, and the one that a control fills: what was typed, and what the request gets of it.
import { computed, signal, type Signal } from "@preact/signals";
import { unitIn, type Source, type System } from "./catalogue";
import type { Field, FieldOf } from "./fields";
import { isNumber, isPlain, pointed, shifted, withUnit, type Json } from "./numbers";

export type Members = { [name: string]: Json };
export const isRecord = (value: Json | undefined): value is Members => typeof value === "object" && value !== null && !Array.isArray(value);

let made = 0;

export abstract class Node<F extends Field = Field> {
  /** For the ids of its controls. */
  readonly uid = `f${(made += 1)}`;
  constructor(readonly field: F, public parent?: Node) {}

  /** What the request gets; undefined where the field is left out. */
  abstract read(): Json | undefined;
  abstract put(value: Json | undefined): void;
  /** What stands here where nothing is given: a default, or what the stock has. */
  abstract setPreset(value: Json | undefined, basis?: (name: string) => Source | undefined): void;
  /** Empties all but what leads to this node. */
  abstract clear(except?: Node): void;
  /** The part of that name. */
  part(_name: string): Node | undefined {
    return undefined;
  }
  nameOf(_part: Node): string {
    return "";
  }
  parts(): Node[] {
    return [];
  }
  leadsTo(node: Node | undefined): boolean {
    return node !== undefined && (node === this || this.leadsTo(node.parent));
  }
  pointer(): string {
    if (this.parent === undefined) return "";
    const name = this.parent.nameOf(this);
    return this.parent.pointer() + (name === "" ? "" : `/${name}`);
  }
}

/** A field that one control fills. */
export class Leaf extends Node<FieldOf<"quantity" | "number" | "count" | "text" | "json" | "word" | "truth">> {
  readonly text = signal("");
  readonly unit: Signal<string>;
  readonly given = computed(() => this.text.value.trim() !== "");
  readonly preset = signal<Json | undefined>(undefined);
  readonly basis = signal<Source | undefined>(undefined);
  /** The unit was picked by hand, and stays while nothing is typed. */
  picked = false;
  /** What was typed, before units were switched: switching back gives it again. */
  origin?: { text: string; unit: string };

  constructor(field: Leaf["field"], parent?: Node) {
    super(field, parent);
    this.preset.value = field.preset;
    this.basis.value = field.basis;
    this.unit = signal(this.usualUnit("metric"));
  }

  /** The unit to begin with: that of what stands here, or of the range. */
  usualUnit(system: System): string {
    if (!("range" in this.field)) return "";
    if (this.field.share) return "%";
    const { unit, units } = this.field.range;
    const own = this.preset.value === undefined ? unit : this.split(this.preset.value).unit ?? unit;
    return unitIn(system, own, units);
  }

  setPreset(value: Json | undefined, basis?: (name: string) => Source | undefined): void {
    this.preset.value = value ?? this.field.preset;
    this.basis.value = value === undefined ? this.field.basis : basis?.(this.field.name);
    if (!this.given.peek()) this.unit.value = this.usualUnit("metric");
  }

  clear(except?: Node): void {
    if (this === except) return;
    this.text.value = "";
    this.picked = false;
    this.origin = undefined;
  }

  /** A value of the wire as text and unit. */
  split(value: Json): { text: string; unit?: string } {
    const { field } = this;
    if (isRecord(value) && "value" in value && "range" in field) {
      const doubt = value.plus_minus === undefined || value.plus_minus === null ? "" : ` +/- ${String(value.plus_minus)}`;
      return { text: `${String(value.value)}${doubt}`, unit: String(value.unit ?? "1") };
    }
    if (isRecord(value) && "value" in value && "unit" in value) return { text: `${String(value.value)} ${String(value.unit)}`.trim() };
    if (typeof value === "object") return { text: JSON.stringify(value) };
    const text = String(value);
    if (field.kind === "number" && typeof value === "number") {
      return field.share && Math.abs(value) < 1e15 ? { text: shifted(text, 2), unit: "%" } : { text, unit: "1" };
    }
    if (field.kind !== "quantity") return { text };
    const found = withUnit(text);
    return found !== undefined && field.range.units.includes(found.unit) && `${found.number} ${found.unit}` === text
      ? { text: found.number, unit: found.unit } : { text };
  }

  put(value: Json | undefined): void {
    this.origin = undefined;
    if (value === undefined || value === null) {
      this.text.value = "";
      return;
    }
    const { text, unit } = this.split(value);
    this.text.value = text;
    if (unit !== undefined) this.unit.value = unit;
  }

  read(): Json | undefined {
    const text = this.text.value.trim();
    const { field } = this;
    if (text === "") return undefined;
    switch (field.kind) {
      case "truth": return text === "true" ? true : text === "false" ? false : text;
      case "json": return parsed(text);
      case "word": return text;
      case "text": return this.text.value;
      case "count": return isPlain(pointed(text)) ? Number(pointed(text)) : pointed(text);
      default:
    }
    const number = pointed(text);
    if (!isNumber(number)) return number;
    const unit = this.unit.value;
    if (field.kind === "quantity") return `${number} ${unit}`;
    if (!isPlain(number)) return unit === "%" ? `${number} %` : number;
    return Number(unit === "%" ? shifted(number, -2) : number);
  }
}

function parsed(text: string): Json {
  try {
    return JSON.parse(text) as Json;
  } catch {
    return text;
  }
}
