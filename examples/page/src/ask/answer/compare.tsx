// One answer kept, beside the one that stands now: what was asked otherwise, and what came of it.
import { resolved } from "../../model/catalogue";
import { figures, type Json } from "../../model/numbers";
import { useQuestion } from "../context";
import type { Answer } from "../../work/engine";
import { headlineOf } from "./answer";
import { Figure, isQuantity, labelOf, sentence, told } from "./value";

export const scalar = (value: Json | undefined): boolean => value !== undefined && value !== null && (typeof value !== "object" || isQuantity(value));
const number = (value: Json | undefined): number | undefined =>
  typeof value === "number" ? value : isQuantity(value) && Number.isFinite(Number(value.value)) ? Number(value.value) : undefined;

export function change(before: Json | undefined, now: Json | undefined): string {
  const [from, to] = [number(before), number(now)];
  if (from === undefined || to === undefined || from === 0 || (isQuantity(before) && isQuantity(now) && before.unit !== now.unit)) return "";
  const share = (to / from - 1) * 100;
  return Math.abs(share) < 0.05 ? "same" : `${share > 0 ? "+" : "−"}${figures(Math.abs(share))} %`;
}

const shown = (value: Json | undefined, name: string): string =>
  value === undefined ? "as usual" : scalar(value) ? sentence(told(value, name)) : JSON.stringify(value);

export function Compared() {
  const question = useQuestion();
  const kept = question.kept.value;
  const answer = question.answer.value;
  if (answer === undefined) return null;
  const keep = () => (question.kept.value = { request: question.request.peek(), answer, label: question.isExample.peek() ? "Example" : "Kept" });
  if (kept === undefined) return <p class="doors"><button type="button" class="plain" onClick={keep}>Keep this answer to compare</button></p>;
  const request = question.request.value;
  const titles = resolved(question.entry.request);
  const differ = [...new Set([...Object.keys(kept.request), ...Object.keys(request)])]
    .filter((name) => JSON.stringify(kept.request[name]) !== JSON.stringify(request[name]));
  const members = (one: Answer) => Object.keys(one).filter((name) => scalar(one[name]));
  const names = [...new Set([...headlineOf(question, answer), ...members(answer), ...members(kept.answer)])].filter((name) => scalar(answer[name]) || scalar(kept.answer[name]));
  return (
    <div class="compared">
      <h2>Side by side</h2>
      <div class="scroll" tabIndex={0} role="region" aria-label="Two answers side by side">
        <table>
          <thead><tr><th scope="col"><span class="unseen">Number</span></th><th scope="col">{kept.label}</th><th scope="col">Now</th><th scope="col">Change</th></tr></thead>
          <tbody>
            {differ.map((name) => (
              <tr key={`asked ${name}`} class="asked"><th scope="row">{labelOf(titles, name)}</th><td>{shown(kept.request[name], name)}</td><td>{shown(request[name], name)}</td><td /></tr>
            ))}
            {names.map((name) => (
              <tr key={name}>
                <th scope="row">{labelOf(question.entry.answer, name)}</th>
                <td>{kept.answer[name] !== undefined && <Figure value={kept.answer[name]} name={name} />}</td>
                <td>{answer[name] !== undefined && <Figure value={answer[name]} name={name} />}</td>
                <td class="digits">{change(kept.answer[name], answer[name])}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="doors">
        <button type="button" class="plain" onClick={keep}>Keep this one instead</button>{" "}
        <button type="button" class="plain" onClick={() => (question.kept.value = undefined)}>Let it go</button>
      </p>
    </div>
  );
}
