/** Links that save a text as a file; those of the result before are given back. */
import { el, type Child } from "./dom.js";

let urls: string[] = [];

/** Name, kind and text of each file. */
export function downloads(files: [string, string, string][], ...more: Child[]): HTMLElement {
  urls.forEach((u) => URL.revokeObjectURL(u));
  const links = files.map(([name, type, text]) => {
    const url = URL.createObjectURL(new Blob([text], { type }));
    return { url, node: el("a", { href: url, download: name, class: "button" }, name) };
  });
  urls = links.map((l) => l.url);
  return el("p", { class: "buttons" }, ...links.map((l) => l.node), ...more);
}
