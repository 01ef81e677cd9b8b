// A thing of the stock by its name, its values to see and to change, or one of the reader's own.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { rowOf } from "../../model/catalogue";
import type { Stock } from "../../model/nodes";
import { linkToShop } from "../../shell/place";
import { standsIn } from "../../shop/spread";
import { labelIn, listed } from "../../shop/words";
import { useFilling } from "../context";
import { Fields } from "./fields";
import { describedBy, Frame, isWrong } from "./frame";

const OWN = " own";

export function StockField({ node, label }: { node: Stock; label?: string }) {
  const filling = useFilling();
  const open = useSignal(false);
  const { shelf, words } = node.field;
  const own = node.isOwn.value;
  const name = node.name.value;
  const changes = node.changed.value?.read();
  const typed = Object.keys(changes ?? {});
  const count = typed.length;
  const row = node.standing.value;
  const known = row === "" || words.includes(row);
  const within = node.leadsTo(filling.wrong.value) && filling.wrong.value !== node;
  const shown = own || open.value || count > 0 || within;
  const part = own ? node.own.value : node.changed.value;
  const choose = (value: string) => filling.edit(node, () => {
    if (value === OWN) node.makeOwn();
    else {
      // What was changed, was changed of the row before.
      node.changed.peek()?.clear();
      node.choose(value);
    }
  });
  // The values that are laid out follow what is kept, here or in another tab.
  const given = node.given.value;
  useEffect(() => {
    if (node.isStale()) filling.vary(() => node.follow(), node);
  }, [given]);
  const usual = rowOf(shelf, standsIn(node.field) || node.presetName())?.label;
  const mine = own ? [] : Object.keys(node.mine.value).filter((member) => !node.builtIn.value.has(member) && !typed.includes(member));
  const { presetWords, optional } = node.field;
  const nothing = usual !== undefined ? `${usual} (usual)` : node.preset.value !== undefined ? "as the stock has it" : presetWords !== undefined ? `usual: ${presetWords}` : optional ? "not said" : "choose";
  const toggle = () => {
    open.value = !open.value;
    if (open.value) node.layOut();
  };
  return (
    <>
      <Frame node={node} given={own || row !== "" || node.preset.value !== undefined} label={label}>
        <select
          id={node.uid} value={own ? OWN : name} aria-describedby={describedBy(node)} aria-invalid={isWrong(filling, node) || undefined}
          onChange={(event) => choose(event.currentTarget.value)}
        >
          <option value="">{nothing}</option>
          {words.map((word) => <option key={word} value={word}>{rowOf(shelf, word)?.label ?? word}</option>)}
          {!known && <option value={name}>{name}</option>}
          <option value={OWN}>One of my own</option>
        </select>
        {mine.length > 0 && <p class="origin">With your own {listed(mine.map((member) => labelIn(node.field, member)))}. <a href={linkToShop}>Your numbers</a></p>}
        {!own && row !== "" && known && (
          <button type="button" class="link" aria-expanded={shown} onClick={toggle}>
            {shown ? "Hide its values" : "See and change its values"}{count > 0 && `, ${count} changed`}
          </button>
        )}
      </Frame>
      {shown && part !== undefined && <fieldset class="part values"><legend>{own ? `${node.field.label}: my own` : rowOf(shelf, row)?.label}</legend><Fields node={part} /></fieldset>}
    </>
  );
}
