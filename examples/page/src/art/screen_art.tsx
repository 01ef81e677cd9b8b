// The art of a screen: how much of the print it covers, as a share or as it was measured.
import { ChoiceField } from "../ask/form/fields";
import type { Part } from "../model/nodes";

export function ScreenArt({ node }: { node: Part }) {
  const index = node.field.choices().findIndex(({ names }) => names.has("artwork"));
  return <ChoiceField node={node} index={index} />;
}
