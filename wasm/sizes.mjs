// What a reader loads: bytes as they are and as a server sends them (brotli, quality 11), file by file and page by page.
import { readFileSync, readdirSync } from "node:fs";
import { brotliCompressSync, constants } from "node:zlib";

const dist = new URL("dist/", import.meta.url);
const size = (file) => {
  const bytes = readFileSync(new URL(file, dist));
  const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  return [bytes.length, brotliCompressSync(bytes, { params }).length];
};
const files = readdirSync(dist).filter((f) => /\.(wasm|js|json|css|html|svg)$/.test(f)).sort();
const sizes = new Map(files.map((f) => [f, size(f)]));

const scripts = (name) => files.filter((f) => f === `${name}.js` || (f.startsWith(`${name}-`) && f.endsWith(".js")));
const page = ["page.css", "icon.svg"];
const sums = {
  "calculators, first result": ["index.html", ...page, ...scripts("calculators"), "calculator.wasm"],
  "calculators, every question": ["index.html", ...page, ...scripts("calculators"), "calculator.wasm", "advice.wasm"],
  "workshop page": ["workshop.html", ...page, ...scripts("workshop"), ...scripts("worker"), "workshop.wasm"],
  "elements on another page": [...scripts("elements"), "calculator.wasm", "advice.wasm"],
  "every page and module once": files.filter((f) => !scripts("elements").includes(f)),
};

const row = (name, [raw, brotli]) => console.log(`${String(raw).padStart(10)}${String(brotli).padStart(10)}  ${name}`);
console.log("       raw    brotli  file");
for (const [f, s] of sizes) row(f, s);
console.log("       raw    brotli  all of");
for (const [name, list] of Object.entries(sums)) {
  row(name, list.map((f) => sizes.get(f)).reduce(([a, b], [x, y]) => [a + x, b + y]));
}
