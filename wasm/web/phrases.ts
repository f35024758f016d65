/** What the calculations say, in the reader's language: phrases that are fetched when that language is first shown.
 * A phrase is an English pattern and its counterpart, as `Workshop.phrases` describes them. */
import { beside } from "./beside.js";

type Phrase = [pattern: string, counterpart: string];

/** How deep texts may stand inside texts. */
const DEPTH = 4;
const NUMBER = "[+\\-−]?\\d+(?:\\.\\d+)?";
const SLOTS: Record<string, string> = { n: `(${NUMBER})`, u: "(\\S+)", p: "(.+?)", e: "(.+?)", "": "(.+?)" };
const JUST_NUMBER = new RegExp(`^${NUMBER}$`);

/** Stand around a part that stays English, such as a citation. */
export const CITED = ["\ue000", "\ue001"] as const;

interface Pattern {
  before: string;
  whole: RegExp;
  slots: string[];
  to: string;
}

class Book {
  #exact = new Map<string, string>();
  #patterns: Pattern[] = [];
  #known = new Map<string, string | undefined>();

  constructor(phrases: Phrase[]) {
    for (const [english, to] of phrases) {
      if (!english.includes("{")) {
        if (!this.#exact.has(english.toLowerCase())) this.#exact.set(english.toLowerCase(), to);
        continue;
      }
      const pieces = english.split(/\{(\w?)\}/);
      const slots = pieces.filter((_, k) => k % 2 === 1);
      const source = pieces.map((p, k) => (k % 2 ? (SLOTS[p] ?? "(.+?)") : p.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&"))).join("");
      this.#patterns.push({ before: pieces[0] ?? "", whole: new RegExp(`^${source}$`, "s"), slots, to });
    }
  }

  /** The text, or nothing where a part of it is not known. */
  say(text: string): string | undefined {
    if (this.#known.has(text)) return this.#known.get(text);
    const said = this.#say(text, DEPTH);
    if (this.#known.size > 2000) this.#known.clear(); // values in the texts change with every key
    this.#known.set(text, said);
    return said;
  }

  /** As sentences in a row, by one phrase, or as an enumeration. */
  #say(text: string, depth: number): string | undefined {
    if (depth < 0) return undefined;
    return this.#listed(text, "; ", depth) ?? this.#whole(text, depth) ?? this.#enumeration(text, depth);
  }

  #enumeration(text: string, depth: number): string | undefined {
    const stop = text.endsWith(".") ? "." : "";
    const said = this.#listed(stop ? text.slice(0, -1) : text, ", ", depth);
    return said && said + stop;
  }

  #whole(text: string, depth: number): string | undefined {
    if (JUST_NUMBER.test(text)) return number(text);
    const exact = this.#exact.get(text.toLowerCase());
    if (exact !== undefined || depth === 0) return exact;
    for (const p of this.#patterns) {
      const found = text.startsWith(p.before) ? p.whole.exec(text) : null;
      if (!found) continue;
      const parts = p.slots.map((slot, k) => {
        const part = found[k + 1] ?? "";
        return slot === "n" ? number(part) : slot === "p" ? this.#say(part, depth - 1) : slot === "e" ? CITED[0] + part + CITED[1] : part;
      });
      if (parts.every((part) => part !== undefined)) return filled(p.to, parts as string[]);
    }
    return undefined;
  }

  /** Parts between separators, each as short as it is known; nothing where one is not. */
  #listed(text: string, separator: string, depth: number): string | undefined {
    const list = text.split(separator);
    if (list.length < 2 || list.length > 32 || depth === 0) return undefined;
    const out: string[] = [];
    for (let at = 0; at < list.length; ) {
      let end = at + 1;
      let said = this.#whole(list.slice(at, end).join(separator), depth - 1);
      while (said === undefined && end < list.length) said = this.#whole(list.slice(at, ++end).join(separator), depth - 1);
      if (said === undefined) return undefined;
      out.push(said);
      at = end;
    }
    return out.join(separator);
  }
}

function number(text: string): string {
  return text.replace(".", ",").replace("-", "−");
}

function filled(to: string, parts: string[]): string {
  let turn = 0;
  return to.replace(/\{(\d*)(?::([^|}]*)\|([^}]*))?\}/g, (_, place: string, one?: string, many?: string) => {
    const at = place === "" ? turn++ : Number(place) - 1;
    return one === undefined ? (parts[at] ?? "") : parts[at] === "1" ? one : (many ?? "");
  });
}

const books = new Map<string, Book>();

const coming = new Map<string, Promise<void>>();

/** Fetches the phrases of a language once. Without them its readers see English, marked as English. */
export function learn(tag: string): Promise<void> {
  const known = learned(tag) ? Promise.resolve() : coming.get(tag);
  if (known) return known;
  const asked = fetch(beside(`phrases-${tag}.json`))
    .then(async (answer) => new Book(answer.ok ? ((await answer.json()) as Phrase[]) : []))
    .catch(() => new Book([]))
    .then((book) => void books.set(tag, book));
  coming.set(tag, asked);
  return asked;
}

/** True when the phrases of a language are here, or have been asked for in vain. */
export function learned(tag: string): boolean {
  return tag === "en" || books.has(tag);
}

/** A sentence of the calculations in a language; nothing where it is not known. */
export function phrase(tag: string, text: string): string | undefined {
  return books.get(tag)?.say(text);
}
