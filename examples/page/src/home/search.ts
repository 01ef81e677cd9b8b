// Finds questions by the words of a question, rare words counting more than common ones.
import { entries, resolved, type Entry, type Schema } from "../model/catalogue";

/** Words cut to their stems, roughly: "flashes" and "flashing" are "flash". */
const stems = (text: string): string[] =>
  (text.toLowerCase().normalize("NFKD").match(/[a-z0-9]+/g) ?? []).map((word) => (word.length > 4 ? word.replace(/(ing|es|ed|s)$/, "") : word));

const titles = (schema: Schema): string =>
  Object.values(schema.properties ?? {}).map((part) => resolved(part).title ?? "").join(" ");

/** How much a word says by where it stands; made for the first search. */
function indexed() {
  const index = entries.map(weighed);
  const spread = new Map<string, number>();
  for (const { weights } of index) for (const stem of weights.keys()) spread.set(stem, (spread.get(stem) ?? 0) + 1);
  return { index, rarity: (stem: string): number => Math.log(1 + entries.length / (spread.get(stem) ?? 1)) };
}
let made: ReturnType<typeof indexed> | undefined;

function weighed(entry: Entry) {
  const weights = new Map<string, number>();
  const put = (text: string, weight: number) => {
    for (const stem of stems(text)) weights.set(stem, Math.max(weights.get(stem) ?? 0, weight));
  };
  put(titles(entry.answer), 1);
  put(titles(entry.request), 1);
  put(entry.id, 2);
  put(entry.asked.join(" "), 3);
  put(entry.title, 3);
  put(entry.question, 4);
  return { entry, weights, said: [entry.question, ...entry.asked, entry.title].map((text) => stems(text).join(" ")) };
}

/** Words that say nothing of the matter in any question. */
const FILLERS = new Set(stems("the a an is are do does i my me of to in on for at it and or what which how can will"));

export function search(query: string, most = 8): Entry[] {
  const typed = stems(query);
  const telling = typed.filter((stem) => !FILLERS.has(stem));
  const asked = telling.length > 0 ? telling : typed;
  if (asked.length === 0) return [];
  const { index, rarity } = (made ??= indexed());
  const phrase = typed.join(" ");
  const found = index.map(({ entry, weights, said }) => {
    let score = said.some((text) => text.includes(phrase)) ? 6 : 0;
    for (const word of asked) {
      let best = 0;
      for (const [stem, weight] of weights) {
        const fit = stem === word ? 1 : word.length > 2 && stem.startsWith(word) ? 0.7 : 0;
        best = Math.max(best, fit * weight * rarity(stem));
      }
      score += best;
    }
    return { entry, score };
  });
  const top = Math.max(...found.map(({ score }) => score));
  return found.filter(({ score }) => score > 0 && score > top / 4).sort((a, b) => b.score - a.score).slice(0, most).map(({ entry }) => entry);
}
