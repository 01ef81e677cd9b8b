// A record's fields: the ones that matter first, the rest at their usual values; and what a field of each kind looks like.
import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { Forms, Leaf, Part, Rows, Stock, type Node } from "../../model/nodes";
import { sought } from "../answer/notes";
import { useFilling } from "../context";
import { ownName } from "../names";
import { Faults, Hint, Mine } from "./frame";
import { FormsField } from "./forms";
import { useHere } from "./here";
import { LeafField } from "./leaf";
import { RowsField, useShown } from "./rows";
import { StockField } from "./stock";

/** How many fields a form shows first, besides those that must be filled in. */
const FIRST = 5;

export function FieldView({ node, label }: { node: Node; label?: string }) {
  if (!useHere().owns(node)) return <Within node={node} />;
  if (node instanceof Leaf) return <LeafField node={node} label={label} />;
  if (node instanceof Stock) return <StockField node={node} label={label} />;
  if (node instanceof Rows) return <RowsField node={node} />;
  if (node instanceof Forms) return <FormsField node={node} label={label} />;
  return node instanceof Part ? <PartField node={node} /> : null;
}

/** What is shown of a field that is at home elsewhere: fields within it, under the names of what they are of. */
function Within({ node }: { node: Node }) {
  if (node instanceof Rows) return <WithinRows node={node} />;
  const part = node instanceof Stock ? node.laid() : node;
  return part instanceof Part && part.on.value ? <fieldset class="part"><legend>{ownName(node)}</legend><Fields node={part} /></fieldset> : null;
}

function WithinRows({ node }: { node: Rows }) {
  const { shown, more } = useShown(node);
  return <>{shown.map((row) => <Within key={row.uid} node={row} />)}{more}</>;
}

/** A record within a record. */
function PartField({ node }: { node: Part }) {
  const filling = useFilling();
  const { field } = node;
  if (!node.on.value) {
    return (
      <div class="field" data-at={node.pointer()}>
        <button type="button" id={node.uid} class="add" aria-describedby={`${node.uid}-fault`} onClick={() => filling.edit(node, () => node.begin())}>{field.label}</button>
        <Hint node={node} />
        <Mine node={node} />
        <Faults node={node} />
      </div>
    );
  }
  return (
    <fieldset class="part" data-at={node.pointer()} id={node.uid} aria-describedby={`${node.uid}-fault`}>
      <legend>{field.label}</legend>
      {field.optional && <button type="button" class="link take-out" onClick={() => filling.edit(node, () => (node.on.value = false))}>Leave out<span class="unseen"> {field.label}</span></button>}
      <Hint node={node} />
      <Mine node={node} />
      <Faults node={node} />
      <Fields node={node} />
    </fieldset>
  );
}

/** Alternatives as a choice, and the fields of the one that is picked; what was typed in another stays in it. */
export function ChoiceField({ node, index }: { node: Part; index: number }) {
  const filling = useFilling();
  const choice = node.field.choices()[index]!;
  const picked = node.picked[index]!;
  const label = (name: string) => node.all.value.get(name)?.field.label ?? name;
  const group = choice.options.flat().map((name) => node.all.value.get(name)?.field.group).find(Boolean);
  return (
    <fieldset class="choice">
      <legend>{group ?? "Either or"}</legend>
      <div class="options">
        {choice.options.map((names, at) => (
          <label key={at} class="option">
            <input type="radio" name={`${node.uid}-${index}`} checked={picked.value === at} onChange={() => filling.vary(() => (picked.value = at))} />
            <span>{names.map(label).join(", ").replace(/, ([^,]*)$/, " and $1")}</span>
          </label>
        ))}
      </div>
      {choice.options[picked.value]?.map((name) => {
        const part = node.all.value.get(name);
        return part && <FieldView key={part.uid} node={part} />;
      })}
    </fieldset>
  );
}

export function Fields({ node }: { node: Part }) {
  const filling = useFilling();
  const open = useSignal(false);
  const choices = node.field.choices();
  const here = useHere();
  const mount = here.mount(node);
  const all = [...node.all.value.values()].filter((part) => here.shows(part) && !mount?.names.includes(part.field.name));
  const chosen = (part: Node) => choices.findIndex(({ names }) => names.has(part.field.name));
  const items: { key: string; first: boolean; parts: Node[]; view: ComponentChildren; group: string }[] = [];
  let room = FIRST;
  for (const part of all) {
    const at = chosen(part);
    if (at >= 0 && items.some(({ key }) => key === `choice${at}`)) continue;
    const ranked = part.field.rank === "first" || !part.field.optional;
    const first = !part.field.optional || (ranked && room > 0) || !here.owns(part) || here.first(part);
    if (first) room -= 1;
    items.push(at < 0
      ? { key: part.uid, first, parts: [part], view: <FieldView key={part.uid} node={part} />, group: part.field.group }
      : { key: `choice${at}`, first, parts: all.filter((other) => choices[at]!.names.has(other.field.name)), view: <ChoiceField key={`choice${at}`} node={node} index={at} />, group: "" });
  }
  if (!items.some(({ first }) => first)) for (const item of items.slice(0, FIRST)) item.first = true;
  const more = items.filter(({ first }) => !first);
  const needed = more.some(({ parts }) => parts.some((part) => part.leadsTo(filling.wrong.value) || part.leadsTo(sought.value)));
  const changed = more.flatMap(({ parts }) => parts).filter((part) => part.read() !== undefined).length;
  const usual = more.length - changed;
  let group = "";
  return (
    <>
      {items.filter(({ first }) => first).map(({ view }) => view)}
      {mount && <mount.View node={node} />}
      {more.length > 0 && (
        <details class="more" open={open.value || needed} onToggle={(event) => (open.value = event.currentTarget.open)}>
          <summary>{usual > 0 ? `${usual} more at ${usual === 1 ? "its usual value" : "their usual values"}` : "More"}{changed > 0 && `, ${changed} changed`}</summary>
          {(open.value || needed) && more.map((item) => {
            const heading = item.group !== group && item.group !== "" ? <h3 class="group" key={`g${item.key}`}>{item.group}</h3> : null;
            group = item.group || group;
            return <>{heading}{item.view}</>;
          })}
        </details>
      )}
    </>
  );
}
