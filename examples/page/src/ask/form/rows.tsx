// A list that grows: a row for each entry, long ones shown in part; several lines can be pasted at once.
import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { Leaf, Part, type Node, type Rows } from "../../model/nodes";
import { useFilling } from "../context";
import { Fields, FieldView } from "./fields";
import { Faults, Hint, Mine } from "./frame";
import { Control } from "./leaf";

/** Rows shown at first, and with each press on "more". */
const SHOWN = 40;

/** What a spreadsheet puts on the clipboard: lines, and cells between tabs. */
function cellsOf(text: string): string[][] {
  return text.split(/\r?\n/).map((line) => line.split(/\t|;/).map((cell) => cell.trim())).filter((cells) => cells.some(Boolean));
}

/** The rows that are shown: the first of them, more of them when asked for, and at any rate the one in which something is wrong. */
export function useShown(node: Rows): { shown: Node[]; more: ComponentChildren } {
  const filling = useFilling();
  const most = useSignal(SHOWN);
  const rows = node.rows.value;
  const wrong = rows.findIndex((row) => row.leadsTo(filling.wrong.value));
  const shown = rows.slice(0, Math.max(most.value, wrong + 1));
  const more = shown.length < rows.length
    ? <button type="button" class="link" onClick={() => (most.value += 10 * SHOWN)}>Show more of the {rows.length - shown.length} others</button> : null;
  return { shown, more };
}

export function RowsField({ node }: { node: Rows }) {
  const filling = useFilling();
  const { shown, more } = useShown(node);
  const rows = node.rows.value;
  const { field } = node;
  const fixed = field.kind === "tuple";
  const add = () => {
    filling.edit(node, () => (fixed ? node.fill() : node.add(undefined)));
    requestAnimationFrame(() => document.querySelector<HTMLElement>(`#${node.uid} > .rows > li:last-child :is(input, select)`)?.focus());
  };
  const paste = (row: Node) => (event: ClipboardEvent) => {
    const lines = cellsOf(event.clipboardData?.getData("text/plain") ?? "");
    // A list within the row may have taken them.
    if (event.defaultPrevented || fixed || (lines.length < 2 && (lines[0]?.length ?? 0) < 2)) return;
    event.preventDefault();
    filling.edit(row, () => {
      const at = rows.indexOf(row);
      const fresh = lines.slice(1).map(() => node.make());
      [row, ...fresh].forEach((target, line) => {
        const leaves = target instanceof Leaf ? [target] : target.parts().filter((part) => part instanceof Leaf);
        lines[line]?.forEach((cell, column) => leaves[column] && (leaves[column].text.value = cell));
      });
      const now = node.rows.peek();
      const place = now.includes(row) ? now.indexOf(row) : at;
      node.rows.value = [...now.slice(0, place + 1), ...fresh, ...now.slice(place + 1)];
    });
  };
  return (
    <fieldset class="list" id={node.uid} data-at={node.pointer()} data-given={rows.length > 0 || undefined} aria-describedby={`${node.uid}-fault`}>
      <legend>{field.label}</legend>
      <Hint node={node} />
      {rows.length === 0 && field.presetWords !== undefined && <p class="origin">If left empty: {field.presetWords}.</p>}
      {Array.isArray(node.preset.value) && (
        <p class="origin">
          {rows.length === 0 && `In place already: ${node.preset.value.length}. What is added here replaces it. `}
          <button type="button" class="link" onClick={() => filling.edit(node, () => node.put(rows.length === 0 ? node.preset.peek() : undefined))}>
            {rows.length === 0 ? "Begin with it" : "Back to what was in place"}<span class="unseen">: {field.label}</span>
          </button>
        </p>
      )}
      <Mine node={node} />
      <Faults node={node} />
      <ol class={fixed ? "rows fixed" : "rows"}>
        {shown.map((row, index) => (
          <li key={row.uid} onPaste={paste(row)}>
            <RowView row={row} label={`${field.label} ${index + 1}`} />
            {!fixed && <button type="button" class="remove" aria-label={`Remove ${field.label} ${index + 1}`} onClick={() => filling.edit(node, () => node.remove(row))}>×</button>}
          </li>
        ))}
      </ol>
      {more}
      {(!fixed || rows.length === 0) && <button type="button" class="add" onClick={add}>{rows.length === 0 ? field.label : `One more: ${field.label}`}</button>}
    </fieldset>
  );
}

function RowView({ row, label }: { row: Node; label: string }) {
  if (row instanceof Leaf) {
    return <div class="field" data-at={row.pointer()} data-given={row.given.value || undefined}><Control node={row} label={label} /><Faults node={row} /></div>;
  }
  if (row instanceof Part) return <div class="cells" role="group" aria-label={label} data-at={row.pointer()} aria-describedby={`${row.uid}-fault`}><Faults node={row} /><Fields node={row} /></div>;
  return <div class="cells"><FieldView node={row} label={label} /></div>;
}
