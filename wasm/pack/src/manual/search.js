// Looks through the index of the manual: questions, other ways to ask them, and the names of fields and answers. It needs no page.
(() => {
  const MOST = 12;
  // Words that stand in every question.
  const COMMON = new Set("a an and are at be by can do does for from how i in is it many much my of on or per so that the this to too what when which with".split(" "));

  const plain = (text) => text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "");
  const split = (text) => plain(text).split(/[^a-z0-9%]+/).filter(Boolean);
  // Without the ending of a plural or of a verb, so that "meshes" and "mesh", "flashing" and "flash" meet.
  const stem = (word) => (word.length > 4 ? word.replace(/(?:ing|es|ed|s)$/, "") : word.length > 3 ? word.replace(/s$/, "") : word);

  // How well a word stands in a text's words: whole, or as the beginning of one.
  const match = (word, words) => {
    let best = 0;
    for (const other of words) {
      if (other === word) return 1;
      if (word.length > 1 && other.startsWith(word)) best = 0.6;
    }
    return best;
  };

  const prepared = new WeakMap();
  const ready = (index) => {
    if (!prepared.has(index)) {
      const words = (text) => split(text).map(stem);
      prepared.set(index, index.map(([path, title, kind, asked, places]) => ({
        path, title, kind,
        phrases: [title, ...asked].map(plain),
        title_words: words(title),
        asked_words: asked.flatMap(words),
        places: places.map(([anchor, name, label]) => ({ anchor, name, label, words: [...new Set(words(`${name} ${label}`))] })),
      })));
    }
    return prepared.get(index);
  };

  /** The pages of an index that answer a query, best first: {path, title, kind, place}. */
  const find = (index, query) => {
    const all = split(query).map(stem);
    const told = all.filter((word) => !COMMON.has(word));
    const words = told.length > 0 ? told : all;
    if (words.length === 0) return [];
    const phrase = plain(query).trim();
    const hits = [];
    for (const page of ready(index)) {
      let score = 0, found = 0, place = null, place_score = 0;
      for (const word of words) {
        const best = Math.max(5 * match(word, page.title_words), 4 * match(word, page.asked_words));
        const inside = page.places.some((of) => match(word, of.words) > 0) ? 1.5 : 0;
        score += Math.max(best, inside);
        found += best > 0 || inside > 0 ? 1 : 0;
      }
      for (const of of page.places) {
        const sum = words.reduce((sum, word) => sum + match(word, of.words), 0);
        // Of two that have all words, the one that has no others.
        const better = sum > place_score || (sum === place_score && sum > 0 && of.words.length < place.words.length);
        if (better) [place, place_score] = [of, sum];
      }
      if (2 * found < words.length) continue;
      if (page.phrases.some((of) => of.includes(phrase))) score += 6;
      // A field called so is meant, where the page's own questions do not say it.
      if (place_score >= words.length) score += place.words.length === words.length ? 3 : 2;
      const own = words.reduce((sum, word) => sum + Math.max(match(word, page.title_words), match(word, page.asked_words)), 0);
      const shown = place_score > own ? place : null;
      hits.push({ path: shown ? `${page.path}#${shown.anchor}` : page.path, title: page.title, kind: page.kind, place: shown, score: score * found / words.length });
    }
    return hits.sort((a, b) => b.score - a.score).slice(0, MOST);
  };
  globalThis.floodbarFind = find;
})();
