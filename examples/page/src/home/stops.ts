// The stops on a print's path: which steps of the catalogue stand at which. The one table of the page.
import { entries, stepOf, type Entry } from "../model/catalogue";

const STOPS: { name: string; steps: string[] }[] = [
  { name: "Order and art", steps: ["job", "artwork"] },
  { name: "Mesh and frame", steps: ["mesh", "tension"] },
  { name: "Stencil and light", steps: ["stencil", "exposure"] },
  { name: "Ink", steps: ["ink"] },
  { name: "Press", steps: ["register", "press"] },
  { name: "Flash", steps: ["flash", "heat"] },
  { name: "Dryer and cure", steps: ["dryer", "cure"] },
  { name: "Wash", steps: ["wash"] },
];

export interface Stop { name: string; questions: Entry[] }

export const stops: Stop[] = STOPS.map(({ name, steps }) => ({
  name, questions: steps.flatMap((step) => entries.filter(({ id }) => stepOf(id) === step)),
}));

/** Questions of no stop: they come up anywhere on the way. */
export const anywhere: Entry[] = entries.filter(({ id }) => !STOPS.some(({ steps }) => steps.includes(stepOf(id))));

export const stopOf = (id: string): Stop | undefined => stops.find(({ questions }) => questions.some((entry) => entry.id === id));
