// Looks through the index of the manual: questions, other ways to ask them, and the names of fields and answers. `find` is all that
// needs no page.
(() => {
  const MOST = 12;
  // Words that stand in every question.
  const COMMON = new Set("a an and are at be by can do does for from how i in is it of on or so that the this to what when which with".split(" "));

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
        places: places.map(([anchor, name, label]) => ({ anchor, name, label, words: words(`${name} ${label}`) })),
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
        if (sum > place_score) [place, place_score] = [of, sum];
      }
      if (found < Math.ceil(words.length * 0.6)) continue;
      if (page.phrases.some((of) => of.includes(phrase))) score += 6;
      // A field called so is meant, where the page's own questions do not say it.
      if (place_score >= words.length) score += 2;
      const own = words.every((word) => match(word, page.title_words) + match(word, page.asked_words) > 0);
      const shown = !own && place_score > 0 ? place : null;
      hits.push({ path: shown ? `${page.path}#${shown.anchor}` : page.path, title: page.title, kind: page.kind, place: shown, score: score * found / words.length });
    }
    return hits.sort((a, b) => b.score - a.score).slice(0, MOST);
  };
  globalThis.floodbarFind = find;

  if (typeof document === "undefined") return;
  const root = document.body.dataset.root;
  const [box, input, list, count] = [document.querySelector(".search"), ...["query", "hits", "count"].map((id) => document.getElementById(id))];
  box.hidden = false;

  const element = (name, text) => Object.assign(document.createElement(name), { textContent: text });
  const show = () => {
    const hits = find(globalThis.floodbarIndex, input.value);
    const items = hits.map((hit) => {
      const link = document.createElement("a");
      link.href = root + hit.path;
      link.append(element("strong", hit.title), element("span", hit.place ? `${hit.kind}: ${hit.place.name}, ${hit.place.label}` : hit.kind));
      const item = document.createElement("li");
      item.append(link);
      return item;
    });
    const asked = input.value.trim() !== "";
    if (asked && items.length === 0) {
      const item = document.createElement("li");
      item.append(element("p", "Nothing found. Try the name of a thing: mesh, film, flash."));
      items.push(item);
    }
    list.replaceChildren(...items);
    list.hidden = !asked;
    count.textContent = asked ? `${hits.length} found` : "";
  };
  const move = (by) => {
    const links = [...list.querySelectorAll("a")];
    const at = links.indexOf(document.activeElement) + by;
    (at < 0 ? input : links[Math.min(at, links.length - 1)])?.focus();
  };
  const close = () => { list.hidden = true; count.textContent = ""; };

  input.addEventListener("input", show);
  input.addEventListener("focus", () => { if (input.value) show(); });
  box.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      move(event.key === "ArrowDown" ? 1 : -1);
    } else if (event.key === "Enter" && event.target === input) {
      list.querySelector("a")?.click();
    } else if (event.key === "Escape") {
      input.focus();
      close();
    }
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "/" && !event.ctrlKey && !event.metaKey && !event.altKey && !/^(?:INPUT|TEXTAREA|SELECT)$/.test(document.activeElement?.tagName ?? "")) {
      event.preventDefault();
      input.focus();
    }
  });
  document.addEventListener("focusin", (event) => { if (!box.contains(event.target)) close(); });
  document.addEventListener("pointerdown", (event) => { if (!box.contains(event.target)) close(); });
})();
