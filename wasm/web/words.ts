/** The words of the pages and elements: one file a language, all with the fields of the English one. */
import { EN } from "./words-en.js";
import { DE } from "./words-de.js";
import { el } from "./dom.js";
import { CITED, phrase } from "./phrases.js";

const CITATIONS = new RegExp(`[${CITED.join("")}]`, "g");

export type Words = typeof EN;
export type WordKey = { [K in keyof Words]: Words[K] extends string ? K : never }[keyof Words];

const LANGUAGES: Record<string, Words> = { en: EN, de: DE };

/** Tags of the languages there are. */
export const TAGS = Object.keys(LANGUAGES);

/** The words for a language tag such as `de-AT`; English when there are none. */
export function wordsFor(tag: string | null | undefined): Words {
  return LANGUAGES[(tag ?? "").toLowerCase().split("-")[0] ?? ""] ?? EN;
}

/** Fills `{}` in turn. */
export function fill(pattern: string, ...values: (string | number)[]): string {
  let i = 0;
  return pattern.replace(/\{\}/g, () => String(values[i++] ?? ""));
}

/** A sentence of the calculations in the reader's language, or as it is, marked as English. */
export function said(text: string, words: Words): { text: string; lang?: string } {
  if (words.tag === "en" || text === "") return { text };
  const known = phrase(words.tag, text);
  return known === undefined ? { text, lang: "en" } : { text: known.replace(CITATIONS, "") };
}

/** The same as an element in which every English part is marked. */
export function spoken(text: string, words: Words): HTMLElement {
  const known = words.tag === "en" ? text : phrase(words.tag, text);
  if (known === undefined) return el("span", { lang: "en" }, text);
  return el("span", {}, ...known.split(CITATIONS).map((part, k) => (k % 2 && part ? el("span", { lang: "en" }, part) : part)));
}
