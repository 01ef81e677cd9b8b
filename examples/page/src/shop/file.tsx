// The way out of this device and into another: a file of the user's own numbers.
import { useSignal } from "@preact/signals";
import { ownRows, putAll, readings } from "./own";
import { read, Unread, written } from "./read";

const kept = () => ({ rows: ownRows.peek(), readings: readings.peek() });

function save(): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([written(kept())], { type: "application/json" }));
  link.download = "floodbar-shop.json";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

export function Files() {
  const said = useSignal("");
  const none = Object.keys(ownRows.value).length === 0 && Object.keys(readings.value).length === 0;
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (file === undefined) return;
    said.value = "Reading it";
    try {
      await putAll(await read(await file.text(), kept()));
      said.value = "Taken: its numbers stand above.";
    } catch (error) {
      said.value = error instanceof Unread ? `${error.message}. Nothing was taken from it.` : `It cannot be read: ${(error as Error).message}. Nothing was taken from it.`;
    }
    // The same file again is a choice too.
    input.value = "";
  };
  return (
    <li class="stop">
      <h2>To and from a file</h2>
      <div class="files">
        <p>A file carries them to another device, and brings them back where a browser cleared them. What it holds takes the place of the same number here; the rest stays.</p>
        <p class="doors">
          <button type="button" class="plain" disabled={none} onClick={save}>Export them to a file</button>
        </p>
        <div class="field">
          <label class="label" for="shop-file">Import a file</label>
          <input id="shop-file" type="file" accept=".json,application/json" onChange={({ currentTarget }) => void take(currentTarget)} />
        </div>
        <output class="said">{said}</output>
      </div>
    </li>
  );
}
