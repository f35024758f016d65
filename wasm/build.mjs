// Makes dist/: the elements as one script, the pages, the worker, the modules, the service worker.
import { createHash } from "node:crypto";
import { copyFile, mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { build } from "vite";

const root = new URL(".", import.meta.url).pathname;
const dist = `${root}dist`;

/** The bindings name a default file; each loader here says itself where its module is. */
const ownModules = {
  name: "own-modules",
  transform(code, id) {
    if (!/raw-\w+\.js$/.test(id)) return null;
    return { code: code.replace(/new URL\('raw-\w+_bg\.wasm', import\.meta\.url\)/, "undefined"), map: null };
  },
};

async function script(entry, name, define = {}) {
  await build({
    root,
    configFile: false,
    logLevel: "warn",
    define,
    plugins: [ownModules],
    build: {
      outDir: dist,
      emptyOutDir: false,
      target: "es2022",
      modulePreload: false,
      minify: true,
      lib: { entry: `${root}web/${entry}`, formats: ["es"], fileName: () => `${name}.js` },
      rollupOptions: { output: { chunkFileNames: `${name}-[name].js` } },
    },
  });
}

await rm(dist, { recursive: true, force: true });
await mkdir(`${dist}/demo`, { recursive: true });
await script("elements.ts", "elements");
await script("calculators-page.ts", "calculators");
await script("workshop-page.ts", "workshop");
await script("worker.ts", "worker");
for (const m of ["calculator", "advice", "workshop"]) await copyFile(`${root}lib/raw-${m}_bg.wasm`, `${dist}/${m}.wasm`);
for (const f of ["index.html", "workshop.html", "embed.html", "page.css", "icon.svg"]) await copyFile(`${root}web/${f}`, `${dist}/${f}`);

// English stands in the pages, so that they say something before the script has run.
const words = await import("./words-for-build.mjs").then((m) => m.english(root));
for (const page of ["index", "workshop", "embed"]) {
  const text = await readFile(`${dist}/${page}.html`, "utf8");
  const filled = text
    .replace(/data-t="([\w-]+)"([^>]*)><\//g, (_, key, rest) => `data-t="${key}"${rest}>${escape(words[key])}</`)
    .replace(/<title>[^<]*<\/title>/, () => {
      const key = /<h1 data-t="(\w+)"/.exec(text)?.[1];
      return `<title>${escape(words[key])}</title>`;
    });
  await writeFile(`${dist}/${page}.html`, filled);
}

for (const folder of ["demo", "road/demo"]) {
  for (const f of await readdir(`${root}../fixtures/${folder}`)) {
    if (/\.csv$|^job\.toml$/.test(f)) await copyFile(`${root}../fixtures/${folder}/${f}`, `${dist}/demo/${f}`);
  }
}

// What the calculations say in other languages: phrases of the pages, then those of the report; the first that fits is
// said, so a pattern that begins with anything comes last.
const raw = await import("./lib/raw-workshop.js");
await raw.default({ module_or_path: await readFile(`${root}lib/raw-workshop_bg.wasm`) });
for (const f of await readdir(`${root}web`)) {
  const tag = /^phrases-(\w+)\.json$/.exec(f)?.[1];
  if (!tag) continue;
  const own = JSON.parse(await readFile(`${root}web/${f}`, "utf8"));
  const loose = ([pattern]) => pattern.startsWith("{}");
  const phrases = [...own.filter((p) => !loose(p)), ...JSON.parse(raw.phrases(tag)), ...own.filter(loose)];
  await writeFile(`${dist}/${f}`, JSON.stringify(phrases));
}

// What the pages consist of, kept by the service worker under a name that its contents decide.
const files = (await readdir(dist, { recursive: true })).filter((f) => /\.\w+$/.test(f)).sort();
const sum = createHash("sha256");
for (const f of files) sum.update(f).update(await readFile(`${dist}/${f}`));
await script("sw.ts", "sw", {
  __FILES__: JSON.stringify(["./", ...files]),
  __BUILD__: JSON.stringify(sum.digest("hex").slice(0, 16)),
});

function escape(text) {
  if (typeof text !== "string") throw new Error("a page names a word that is not in web/words-en.ts");
  return text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;");
}
