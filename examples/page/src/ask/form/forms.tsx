// A value that can be written in several ways: the way as a choice, then its fields. What was typed in another way stays there.
import { Forms, Leaf, Part } from "../../model/nodes";
import { useFilling } from "../context";
import { Fields, FieldView } from "./fields";
import { describedBy, Frame, isWrong } from "./frame";
import { Control } from "./leaf";

export function FormsField({ node, label }: { node: Forms; label?: string }) {
  const filling = useFilling();
  const { forms } = node.field;
  const { current } = node;
  const pick = (at: number) => filling.vary(() => (node.which.value = at));
  const own = current instanceof Leaf && node.onlyWord() === undefined;
  return (
    <>
      <Frame node={node} given={node.read() !== undefined} label={label}>
        <span class="control">
          {own && <Control node={current} label={label ?? node.field.label} />}
          <select id={node.uid} class="way" value={node.which.value} aria-label={own ? `How ${node.field.label} is given` : undefined} aria-describedby={describedBy(node)} aria-invalid={(!own && isWrong(filling, node)) || undefined} onChange={(event) => pick(Number(event.currentTarget.value))}>
            {forms.map((form, at) => <option key={at} value={at}>{form.label}</option>)}
          </select>
        </span>
      </Frame>
      {current instanceof Part && <fieldset class="part"><legend>{label ?? node.field.label}, {current.field.label}</legend><Fields node={current} /></fieldset>}
      {!(current instanceof Part) && !(current instanceof Leaf) && <FieldView node={current} />}
    </>
  );
}
