// Elements made in code: every text goes in as text, never as markup.

type Child = Node | string | null | undefined | false;
type Attributes = Record<string, string | number | boolean | ((event: Event) => void) | undefined>;

function fill<E extends Element>(element: E, attributes: Attributes, children: Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== undefined && value !== false) element.setAttribute(name, String(value));
  }
  for (const child of children) if (child) element.append(child);
  return element;
}

export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attributes: Attributes = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  return fill(document.createElement(tag), attributes, children);
}

export function s<K extends keyof SVGElementTagNameMap>(tag: K, attributes: Attributes = {}, ...children: Child[]): SVGElementTagNameMap[K] {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);
}

/** Sets an attribute only when it differs: the replay does this for many parts in every picture. */
export function set(element: Element, name: string, value: string | number): void {
  const text = String(value);
  if (element.getAttribute(name) !== text) element.setAttribute(name, text);
}

/** A table that scrolls sideways where it must; as `cards` each row stands by itself on a narrow screen. */
export function table(caption: string, head: string[], rows: Child[][], numbers: number[] = [], cards = false): HTMLElement {
  const kind = (i: number) => (numbers.includes(i) ? "number" : undefined);
  const cell = (child: Child, i: number) => i === 0
    ? h("th", { scope: "row", role: "rowheader", class: kind(i), "data-label": head[i] }, child)
    : h("td", { role: "cell", class: kind(i), "data-label": head[i] }, child);
  const size = rows.length > 20 ? "long" : "short";
  return h("div", { class: `scroll ${size}${cards ? " cards" : ""}`, tabindex: 0, role: "region", "aria-label": caption },
    h("table", { role: "table" }, h("caption", { class: "unseen" }, caption),
      h("thead", { role: "rowgroup" }, h("tr", { role: "row" }, ...head.map((text, i) => h("th", { scope: "col", role: "columnheader", class: kind(i) }, text)))),
      h("tbody", { role: "rowgroup" }, ...rows.map((row) => h("tr", { role: "row" }, ...row.map(cell))))));
}
