/** The words of the pages and elements: one file a language, all with the fields of the English one. */
import { EN } from "./words-en.js";
import { DE } from "./words-de.js";

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
  const exact = words.sentences[text];
  if (exact !== undefined) return { text: exact };
  for (const [pattern, to] of words.patterns) {
    const m = pattern.exec(text);
    if (m) return { text: to.replace(/\$(\d)/g, (_, n: string) => inner(m[Number(n)] ?? "", words)) };
  }
  return { text, lang: "en" };
}

/** A part of a sentence may itself be one that is known. */
function inner(part: string, words: Words): string {
  return words.sentences[part] ?? part;
}
