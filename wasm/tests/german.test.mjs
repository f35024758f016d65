// German readers: the report, the workshop page and the vetted claim in German, nothing left in English that has a German.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { load } from "fairpull/workshop";
import { answered, left, open } from "./browser.mjs";

const demo = fileURLToPath(new URL("../../fixtures/demo/", import.meta.url));
const FILES = readdirSync(demo).filter((f) => f.endsWith(".csv") || f === "job.toml").map((f) => demo + f);
let b, phrases;

before(async () => {
  if (left) return;
  b = await open();
  phrases = (await load()).phrases("de");
});
after(() => b?.close());

/** English articles, prepositions and words of this trade that no German sentence has. */
const ENGLISH = /\b(the|of|and|is|are|with|from|to|by|that|which|between|each|yes|power|torque|speed|engine|wheels?|crank(shaft)?|gain|loss|change|uncertainty|measured|pressure|temperature|assumed|margin|column|cell)\b/i;

/** Texts of the page: its own, and those marked as English. */
async function shown(p, selector, host) {
  return p.evaluate(
    ([css, tag]) => {
      const root = tag ? document.querySelector(tag).shadowRoot : document;
      const out = { own: [], english: [] };
      const walk = (node, english) => {
        if (node.nodeType === 3) {
          const text = node.textContent.trim();
          if (text) out[english ? "english" : "own"].push(text);
        } else if (node.nodeType === 1 && !["STYLE", "SCRIPT", "CODE", "OPTION"].includes(node.tagName)) {
          for (const child of node.childNodes) walk(child, english || node.getAttribute("lang") === "en");
        }
      };
      for (const found of root.querySelectorAll(css)) walk(found.contentDocument?.body ?? found, false);
      return out;
    },
    [selector, host],
  );
}

/** English phrases of the table that stand in texts as they are. */
const untranslated = (texts) => {
  const english = new Set(phrases.filter(([e, d]) => !e.includes("{") && e.includes(" ") && e !== d).map(([e]) => e.toLowerCase()));
  return texts.filter((t) => english.has(t.toLowerCase()));
};
/** Texts with English words that are no names of files, keys, checks or standards. */
const stillEnglish = (texts) => texts.filter((t) => !names.test(t) && ENGLISH.test(t.replace(/\b[a-z]+(-[a-z]+)+\b|\[\[.*$/g, "")));
const names = /\.(csv|toml|html|json)|[a-z]+[._][a-z_]+|\d{4}-\d\d-\d\d|^(EN|ISO|SAE|DIN|UN|JIS|ASTM|IAPWS|GTR)\b/;

test("the workshop page: dropped logs become a German report", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=de");
  await p.setInputFiles("#picker", FILES);
  await p.waitForFunction(() => document.querySelectorAll("#files tbody tr").length === 8 && !/…/.test(document.getElementById("files").textContent));
  await p.click("#form-fold summary");
  await p.click("#run");
  await p.waitForFunction(() => /^Fertig/.test(document.getElementById("status").textContent), null, { timeout: 90000 });
  assert.match(await p.title(), /^Werkstatt/);
  const outcome = await shown(p, "#outcome > :not(.report-fold)");
  assert.ok(outcome.own.includes("Urteil") && outcome.own.includes("Reparaturen an den Messungen"));
  assert.ok(outcome.own.some((t) => /\d,\d/.test(t)), "decimal comma");
  assert.deepEqual(outcome.own.filter((t) => /\d\.\d/.test(t) && !names.test(t)), []);
  assert.deepEqual(untranslated([...outcome.own, ...outcome.english]), []);
  assert.deepEqual(stillEnglish(outcome.own), []);
  assert.deepEqual(outcome.english.filter((t) => !names.test(t)), [], "only citations are marked as English");
  const files = await shown(p, "#files, #form");
  assert.deepEqual(stillEnglish(files.own.filter((t) => !/\[/.test(t))), []);

  await p.click(".report-fold summary");
  const report = p.frameLocator("iframe.report");
  assert.equal(await report.locator("html").getAttribute("lang"), "de");
  const title = await report.locator("head title").textContent();
  assert.match(title, /Leistungsmessung|Bericht/);
  const headings = await report.locator("h2").allTextContents();
  for (const word of ["Grundlage", "Ergebnis", "Höchstwerte"]) assert.ok(headings.some((h) => h.replaceAll("\u00ad", "").includes(word)), `${word}: ${headings.join(" | ")}`);
  const texts = await shown(p, "iframe.report");
  assert.ok(texts.own.some((t) => /\d,\d/.test(t)));
  assert.deepEqual(untranslated([...texts.own, ...texts.english]), []);
});

test("the language of the page can change under a result", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.setInputFiles("#picker", FILES);
  await p.waitForFunction(() => document.querySelectorAll("#files tbody tr").length === 8 && !/…/.test(document.getElementById("files").textContent));
  await p.click("#run");
  await p.waitForSelector("#outcome .curve-chart", { timeout: 90000 });
  await p.selectOption("#language", "de");
  await p.waitForFunction(() => document.getElementById("outcome").textContent.includes("Urteil"));
  assert.deepEqual((await shown(p, "#outcome > :not(.report-fold)")).english.filter((t) => !names.test(t)), []);
});

test("a vetted claim in German", { skip: left }, async () => {
  const p = await b.page("index.html?lang=de");
  await answered(p, "fairpull-vet");
  const vet = await shown(p, ".answer", "fairpull-vet");
  assert.ok(vet.own.includes("widerlegt") && vet.own.some((t) => /^Widerlegt durch 1 von 5/.test(t)), vet.own.join(" | "));
  assert.ok(vet.own.some((t) => /\d,\d/.test(t)));
  assert.deepEqual(untranslated([...vet.own, ...vet.english]), []);
  assert.deepEqual(stillEnglish(vet.own), []);
});

test("restating, factors, road and knock say their sentences in German", { skip: left }, async () => {
  const p = await b.page("index.html?lang=de");
  for (const tag of ["restate", "factors", "road", "knock"]) {
    await answered(p, `fairpull-${tag}`);
    const all = await shown(p, ".answer", `fairpull-${tag}`);
    assert.deepEqual(stillEnglish(all.own), [], tag);
    assert.deepEqual(untranslated([...all.own, ...all.english]), [], tag);
  }
});
