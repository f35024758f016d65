/** The words of our own pages, beside those of the elements, which other sites load without them. */
import { PAGES_DE } from "./page-words-de.js";
import { PAGES_EN } from "./page-words-en.js";
import { wordsFor, type Words } from "./words.js";

type Own = typeof PAGES_EN;
export type PageWords = Words & Own;
export type PageKey = { [K in keyof PageWords]: PageWords[K] extends string ? K : never }[keyof PageWords];

const LANGUAGES: Record<string, Own> = { en: PAGES_EN, de: PAGES_DE };

/** The words of a page in the language of a tag; English when there are none. */
export function pageWords(tag: string): PageWords {
  const words = wordsFor(tag);
  return { ...words, ...(LANGUAGES[words.tag] ?? PAGES_EN) };
}
