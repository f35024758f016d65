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

/** Makes the children of `parent` those of `fresh` and changes only what differs, so that little is laid out anew, a
 * reader's place and what was opened stay. A node with `data-own` carries listeners of its own and is put in whole. */
export function renew(parent: Element, fresh: (Node | string)[]): void {
  let at = parent.firstChild;
  for (const child of fresh) {
    const node = typeof child === "string" ? document.createTextNode(child) : child;
    const next: ChildNode | null = at?.nextSibling ?? null;
    if (!at) parent.append(node);
    else if (at.nodeType === node.nodeType && at instanceof Text) {
      if (at.data !== (node as Text).data) at.data = (node as Text).data;
    } else if (at instanceof HTMLElement && node instanceof HTMLElement && alike(at, node)) {
      attributes(at, node);
      renew(at, [...node.childNodes]);
    } else at.replaceWith(node);
    at = next;
  }
  while (at) {
    const next: ChildNode | null = at.nextSibling;
    at.remove();
    at = next;
  }
}

function alike(a: HTMLElement, b: HTMLElement): boolean {
  if (a.tagName !== b.tagName || "own" in b.dataset) return false;
  return a.tagName !== "DETAILS" || a.firstChild?.textContent === b.firstChild?.textContent;
}

function attributes(to: HTMLElement, from: HTMLElement): void {
  for (const name of new Set([...to.getAttributeNames(), ...from.getAttributeNames()])) {
    const value = from.getAttribute(name);
    if (to.tagName === "DETAILS" && name === "open") continue; // the reader's
    if (value === null) to.removeAttribute(name);
    else if (to.getAttribute(name) !== value) to.setAttribute(name, value);
  }
}

/** A table with heads; one that begins with `>` stands over numbers, one with `_` over sentences, which go to a line of
 * their own where the screen is narrow. */
export function table(caption: string, heads: string[], rows: Child[][]): HTMLElement {
  const kinds = heads.map((h) => ({ ">": "n", _: "w" })[h.charAt(0)]);
  const cls = (i: number) => (kinds[i] ? { class: kinds[i] } : {});
  return el(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": caption },
    el(
      "table",
      kinds.includes("w") ? { class: "folds" } : {},
      el("caption", {}, caption),
      el("thead", {}, el("tr", {}, ...heads.map((h, i) => el("th", { scope: "col", ...cls(i) }, h.replace(/^[>_]/, ""))))),
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
