/** Nodes without markup text: whatever comes from outside stays text. */

export type Child = Node | string | number | null | undefined | false;

type Props = Record<string, string | number | boolean | null | undefined | ((e: Event) => void)>;

/** An element with attributes, listeners (`onInput` and the like) and children. */
export function el<K extends keyof HTMLElementTagNameMap>(
  name: K,
  props: Props = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(props)) {
    if (typeof value === "function") node.addEventListener(key.slice(2).toLowerCase(), value);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(key, String(value));
  }
  node.append(...kept(children));
  return node;
}

/** The children that are there. */
export function kept(children: Child[]): (Node | string)[] {
  return children
    .filter((c) => c !== null && c !== undefined && c !== false && c !== "")
    .map((c) => (typeof c === "number" ? String(c) : (c as Node | string)));
}

/** A table with heads; a head that begins with `>` stands over numbers. */
export function table(caption: string, heads: string[], rows: Child[][]): HTMLElement {
  const right = heads.map((h) => h.startsWith(">"));
  const cls = (i: number) => (right[i] ? { class: "n" } : {});
  return el(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": caption },
    el(
      "table",
      {},
      el("caption", {}, caption),
      el("thead", {}, el("tr", {}, ...heads.map((h, i) => el("th", { scope: "col", ...cls(i) }, h.replace(/^>/, ""))))),
      el(
        "tbody",
        {},
        ...rows.map((r) =>
          el(
            "tr",
            {},
            ...r.map((c, i) => (i === 0 ? el("th", { scope: "row", ...cls(i) }, c) : el("td", cls(i), c))),
          ),
        ),
      ),
    ),
  );
}
