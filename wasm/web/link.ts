/** The state of an element in the fragment of the page's address: `#fairpull-convert?quantity=530PS&unit=kW&lang=de`. */

export interface LinkState {
  /** Tag of the element, and its id when it has one. */
  target: string;
  values: Map<string, string>;
}

/** The state in a fragment; `undefined` when it is none of ours, an error text when it is broken. */
export function readLink(fragment: string): LinkState | undefined | "broken" {
  const text = fragment.replace(/^#/, "");
  if (!text.startsWith("fairpull-")) return undefined;
  const [target = "", rest = ""] = split(text, "?");
  const values = new Map<string, string>();
  for (const part of rest.split("&").filter((p) => p !== "")) {
    const [key, raw] = split(part, "=");
    if (raw === undefined) return "broken";
    try {
      values.set(decodeURIComponent(key), decodeURIComponent(raw));
    } catch {
      return "broken";
    }
  }
  return { target, values };
}

/** The fragment of a state. The letters of the one-line notation stay readable. */
export function writeLink(target: string, values: Iterable<[string, string]>): string {
  const plain = (s: string) => encodeURIComponent(s).replace(/%(40|3B|3D|2C|2F)/g, (m) => decodeURIComponent(m));
  const parts = [...values].map(([k, v]) => `${encodeURIComponent(k)}=${plain(v).replace(/&/g, "%26")}`);
  return `#${target}?${parts.join("&")}`;
}

function split(text: string, mark: string): [string, string?] {
  const at = text.indexOf(mark);
  return at < 0 ? [text] : [text.slice(0, at), text.slice(at + 1)];
}
