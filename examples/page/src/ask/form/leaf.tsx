// A field that one control fills: a number with its unit, a word, a text.
import { batch } from "@preact/signals";
import { useState } from "preact/hooks";
import { Leaf } from "../../model/nodes";
import { inField, isNumber, isPlain, pointed, shifted, unitSign, withUnit, words } from "../../model/numbers";
import { converted, scaleOf, unitMeant } from "../../work/engine";
import { useFilling } from "../context";
import { describedBy, Frame, isWrong } from "./frame";

/** What stands in the control where nothing was typed: the default, in the unit that is chosen. */
function presetText(node: Leaf): string {
  const preset = node.preset.value;
  if (preset === undefined || preset === null) return "";
  const { text, unit } = node.split(preset);
  const own = node.unit.value;
  // A measured number has more digits than were meant.
  const short = isPlain(text) ? inField(Number(text)) : text;
  if (node.field.kind === "number") return unit === own ? short : shifted(short, own === "%" ? 2 : -2);
  if (node.field.kind !== "quantity" || !isNumber(text)) return text;
  if (unit === undefined || unit === own) return short;
  const scale = scaleOf(unit, own);
  return scale === undefined ? "" : inField(Number(text) * scale.slope + scale.start);
}

/** The number in another unit; what was typed comes back with its unit. */
async function switchUnit(node: Leaf, to: string): Promise<void> {
  const from = node.unit.peek();
  const typed = node.text.peek();
  const text = pointed(typed.trim());
  const origin = node.origin ?? { text: typed, unit: from };
  if (text === "" || !isNumber(text)) {
    node.unit.value = to;
    return;
  }
  let next: string | undefined;
  if (origin.unit === to) next = origin.text;
  else if (node.field.kind === "number") next = text.includes("+") || text.includes("±") ? undefined : shifted(text, to === "%" ? 2 : -2);
  else {
    const value = await converted(text, from, to);
    next = value && inField(value.value) + (value.plus_minus === undefined ? "" : ` +/- ${inField(value.plus_minus)}`);
  }
  batch(() => {
    node.unit.value = to;
    if (next === undefined) return;
    node.text.value = next;
    node.origin = origin;
  });
}

/** A unit typed behind the number becomes the one that is chosen. */
async function takeUnit(node: Leaf): Promise<void> {
  if (!("range" in node.field)) return;
  const typed = node.text.peek();
  const found = withUnit(pointed(typed.trim()));
  if (found === undefined) return;
  const { units } = node.field.range;
  const unit = units.find((one) => one === found.unit || unitSign(one) === found.unit)
    ?? (node.field.kind === "quantity" ? await unitMeant(found.unit, units) : undefined);
  if (unit === undefined || node.text.peek() !== typed) return;
  batch(() => {
    node.text.value = found.number;
    node.unit.value = unit;
    node.origin = undefined;
  });
}

function Unit({ node }: { node: Leaf }) {
  const filling = useFilling();
  if (!("range" in node.field)) return null;
  const units = node.field.kind === "count" || (node.field.kind === "number" && !node.field.share) ? [] : node.field.range.units;
  if (units.length === 0) return null;
  if (units.length === 1) return <span class="unit">{unitSign(units[0]!)}</span>;
  const change = (event: Event) => {
    const to = (event.currentTarget as HTMLSelectElement).value;
    node.picked = true;
    filling.vary(() => void switchUnit(node, to).then(() => filling.vary(() => {})));
  };
  return (
    <select class="unit" aria-label={`Unit of ${node.field.label}`} value={node.unit.value} onChange={change}>
      {units.map((unit) => <option key={unit} value={unit}>{unit === "1" ? "of 1" : unitSign(unit)}</option>)}
    </select>
  );
}

function TextControl({ node, label }: { node: Leaf; label?: string }) {
  const filling = useFilling();
  // What is in the control while it has the focus, so that emptying it does not bring the default back under the cursor.
  const [typing, setTyping] = useState<string | undefined>();
  const { field } = node;
  const range = "range" in field ? field.range : undefined;
  const negative = range !== undefined && (range.usual?.[0] ?? range.least ?? 0) < 0;
  const shown = node.given.value ? node.text.value : presetText(node);
  const input = (event: Event) => {
    const { value } = event.currentTarget as HTMLInputElement;
    setTyping(value);
    filling.edit(node, () => {
      node.origin = undefined;
      node.text.value = value;
    });
  };
  const blur = () => {
    setTyping(undefined);
    filling.vary(() => void takeUnit(node), node);
  };
  return (
    <span class="control">
      <input
        id={node.uid} type="text" autocomplete="off" spellcheck={false} inputMode={range && !negative ? "decimal" : undefined}
        class={`${range ? "number" : "text"}${shown.length > 11 ? " long" : ""}${node.given.value ? "" : " preset"}`} value={typing ?? shown} aria-label={label}
        aria-describedby={describedBy(node)} aria-invalid={isWrong(filling, node) || undefined} aria-required={!field.optional || undefined}
        onInput={input} onBlur={blur}
        onFocus={(event) => {
          setTyping(shown);
          if (!node.given.value) event.currentTarget.select();
        }}
      />
      <Unit node={node} />
    </span>
  );
}

function WordControl({ node, label }: { node: Leaf; label?: string }) {
  const filling = useFilling();
  const { field } = node;
  const options = field.kind === "word" ? field.words.map((word) => [word, words(word)] as const) : [["true", "yes"], ["false", "no"]] as const;
  const name = (value: string) => options.find(([option]) => option === value)?.[1] ?? value;
  const usual = node.preset.value !== undefined ? `${name(String(node.preset.value))} (usual)` : field.presetWords ? `usual: ${field.presetWords}` : field.optional ? "not said" : "choose";
  const known = node.text.value === "" || options.some(([value]) => value === node.text.value);
  return (
    <select
      id={node.uid} class={node.given.value ? "" : "preset"} value={node.text.value} aria-label={label} aria-describedby={describedBy(node)}
      aria-invalid={isWrong(filling, node) || undefined}
      onChange={(event) => {
        const { value } = event.currentTarget;
        filling.edit(node, () => (node.text.value = value));
      }}
    >
      <option value="">{usual}</option>
      {options.map(([value, shown]) => <option key={value} value={value}>{shown}</option>)}
      {!known && <option value={node.text.value}>{node.text.value}</option>}
    </select>
  );
}

function LongControl({ node }: { node: Leaf }) {
  const filling = useFilling();
  return (
    <textarea
      id={node.uid} rows={4} spellcheck={false} value={node.text.value} aria-describedby={describedBy(node)} aria-invalid={isWrong(filling, node) || undefined}
      onInput={(event) => {
        const { value } = event.currentTarget;
        filling.edit(node, () => (node.text.value = value));
      }}
    />
  );
}

export function Control({ node, label }: { node: Leaf; label?: string }) {
  if (node.field.kind === "word" || node.field.kind === "truth") return <WordControl node={node} label={label} />;
  return node.field.kind === "json" ? <LongControl node={node} /> : <TextControl node={node} label={label} />;
}

export const LeafField = ({ node, label }: { node: Leaf; label?: string }) =>
  <Frame node={node} given={node.given.value || node.preset.value !== undefined} label={label}><Control node={node} /></Frame>;
