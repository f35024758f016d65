// The English words for the build, from their TypeScript file.
import { readFile } from "node:fs/promises";

export async function english(root) {
  const text = await readFile(`${root}web/words-en.ts`, "utf8");
  const plain = text.replace(/ as Record<string, string>| as \[RegExp, string\]\[\]/g, "");
  return (await import(`data:text/javascript,${encodeURIComponent(plain)}`)).EN;
}
