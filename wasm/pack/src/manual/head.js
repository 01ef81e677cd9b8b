// What the head of a page does: it shows what a search finds, and the station of the path where the reader is.
(() => {
  const root = document.body.dataset.root;
  const [box, input, list, count] = [document.querySelector(".search"), ...["query", "hits", "count"].map((id) => document.getElementById(id))];
  box.hidden = false;

  const station = document.querySelector(".path [aria-current]");
  if (station) station.closest(".path").scrollLeft = station.offsetLeft - innerWidth / 3;

  const element = (name, text) => Object.assign(document.createElement(name), { textContent: text });
  const show = () => {
    const hits = globalThis.floodbarFind(globalThis.floodbarIndex, input.value);
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
