// Says that what stands in the form is a worked example, and how it comes and goes.
import type { ComponentChildren } from "preact";
import { useFilling } from "../context";

/** `children` are further ways to begin. */
export function Example({ children }: { children?: ComponentChildren }) {
  const filling = useFilling();
  if (filling.isExample.value) return <p class="example"><b>A worked example.</b> Your first entry clears it.{children}</p>;
  return (
    <p class="example">
      {filling.cleared.value && <>The example was cleared. <button type="button" class="link" onClick={() => filling.keepExample()}>Keep its other values</button> or </>}
      <button type="button" class="link" onClick={() => filling.fill(filling.entry.example, true)}>{filling.cleared.value ? "start it over" : "Show the example"}</button>
    </p>
  );
}
