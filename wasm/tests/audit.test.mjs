// Accessibility by axe-core on every page and element: both languages, light and dark, wide and narrow, with results.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { answered, left, open } from "./browser.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let b;

before(async () => {
  if (!left) b = await open();
});
after(() => b?.close());

async function audit(p, what) {
  await p.evaluate(axe);
  const found = await p.evaluate(async () => {
    const r = await globalThis.axe.run(document, { resultTypes: ["violations"] });
    return r.violations.flatMap((v) => v.nodes.map((n) => `${v.id} at ${n.target.flat().join(" ")}: ${n.failureSummary?.split("\n")[1] ?? v.help}`));
  });
  assert.deepEqual(found, [], what);
}

for (const lang of ["en", "de"]) {
  for (const colorScheme of ["light", "dark"]) {
    for (const width of [1280, 360]) {
      const options = { colorScheme, viewport: { width, height: 900 }, bypassCSP: true };
      const what = `${lang}, ${colorScheme}, ${width} px`;
      test(`calculators: ${what}`, { skip: left }, async () => {
        const p = await b.page(`index.html?lang=${lang}`, options);
        for (const tag of ["convert", "restate", "factors", "road", "knock", "vet"]) await answered(p, `fairpull-${tag}`);
        await p.evaluate(() => {
          for (const e of document.querySelectorAll("[data-element]")) for (const d of e.shadowRoot.querySelectorAll("details")) d.open = true;
        });
        await p.locator("fairpull-factors [name=humidity]").fill("155 %");
        await p.waitForTimeout(100);
        await audit(p, what);
      });
      test(`embedding: ${what}`, { skip: left }, async () => {
        const p = await b.page(`embed.html?lang=${lang}`, options);
        await answered(p, "fairpull-restate");
        await audit(p, what);
      });
      test(`road tests with a result: ${what}`, { skip: left }, async () => {
        for (const [mode, count, head] of [["pull", 2, { en: "Power at the wheels", de: "Leistung an den Rädern" }], ["coast", 6, { en: "Road load", de: "Fahrwiderstand" }]]) {
          const p = await b.page(`workshop.html?lang=${lang}`, options);
          await p.check(`#mode [value=${mode}]`);
          await p.click("#demo");
          await p.waitForFunction((k) => document.querySelectorAll("#files tbody tr").length === k && !/…/.test(document.getElementById("files").textContent), count);
          await p.click("#run");
          await p.waitForFunction((h) => document.getElementById("result-head")?.textContent === h, head[lang], { timeout: 60000 });
          await p.locator(".stage").first().focus();
          await p.keyboard.press("ArrowRight");
          await audit(p, `${what}, ${mode}`);
          const [wide, screen] = await p.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
          assert.ok(wide <= screen, `${what}, ${mode}: ${wide}`);
        }
      });
      test(`workshop with a result and the form open: ${what}`, { skip: left }, async () => {
        const p = await b.page(`workshop.html?lang=${lang}`, options);
        await audit(p, `${what}, empty`);
        await p.click("#demo");
        await p.waitForFunction(() => document.getElementById("job").value !== "" && document.querySelectorAll("#files tbody tr").length === 8);
        await p.click("#form-fold summary");
        await p.click("#run");
        await p.waitForSelector(".curve-chart", { timeout: 90000 });
        await p.locator(".stage").first().focus();
        await p.keyboard.press("ArrowRight");
        await p.click(".report-fold summary");
        await p.waitForTimeout(300);
        await audit(p, what);
      });
    }
  }
}
