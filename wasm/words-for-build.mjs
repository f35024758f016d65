// The English words for the build, from their TypeScript files.
import { readFile } from "node:fs/promises";

export async function english(root) {
  const read = async (file) => import(`data:text/javascript,${encodeURIComponent(await readFile(`${root}web/${file}`, "utf8"))}`);
  return { ...(await read("words-en.ts")).EN, ...(await read("page-words-en.ts")).PAGES_EN };
}
