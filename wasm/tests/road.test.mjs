// Road tests on the workshop page in Chromium: a pull in both directions, coast-downs, columns, faults, downloads.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { left, open } from "./browser.mjs";

const folder = fileURLToPath(new URL("../../fixtures/road/demo/", import.meta.url));
const FILES = readdirSync(folder);
let b;

before(async () => {
  if (!left) b = await open();
});
after(() => b?.close());

const settled = (p, n) =>
  p.waitForFunction((k) => document.querySelectorAll("#files tbody tr").length === k && !/…/.test(document.getElementById("files").textContent), n, { timeout: 30000 });
const finished = (p) => p.waitForFunction(() => /^Done|^Fertig/.test(document.getElementById("status").textContent), null, { timeout: 60000 });
const pick = (p, mode, pattern) => p.check(`#mode [value=${mode}]`).then(() => p.setInputFiles("#picker", FILES.filter((f) => pattern.test(f)).map((f) => folder + f)));
async function saved(p, name) {
  const [file] = await Promise.all([p.waitForEvent("download"), p.click(`a[download="${name}"]`)]);
  return JSON.parse(readFileSync(await file.path(), "utf8"));
}

test("a pull in both directions: times, power, chart read by keyboard, result and question as files", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await pick(p, "pull", /^pull/);
  await settled(p, 2);
  assert.equal(await p.isVisible("#job-part"), false);
  assert.match(await p.textContent("#road-part"), /closed road/);
  assert.equal(await p.locator('[aria-label="Direction of pull-south.csv"]').inputValue(), "back");
  await p.click("#run");
  await p.waitForSelector("#road-car-mass[aria-invalid=true]");
  assert.match(await p.textContent("#road-car-mass-e"), /missing/);
  assert.equal(await p.evaluate(() => document.activeElement.id), "road-car-mass");
  await p.fill("#road-car-mass", "1575 kg");
  await p.fill("#road-measures", "100-200 km/h, 80-180 km/h");
  await p.click("#run");
  await finished(p);
  const shown = await p.textContent("#outcome");
  for (const word of ["both directions", "100 to 200 km/h", "80 to 180 km/h", "Peak power at the wheels", "Road tests belong on a closed road"]) assert.ok(shown.includes(word), word);
  await p.locator(".stage").focus();
  await p.keyboard.press("ArrowRight");
  assert.match(await p.textContent(".read-out"), /km\/h: both directions .* kW \(.* to .*\)/);
  const result = await saved(p, "result.json");
  assert.equal(result.schema, "fairpull-road-log-1");
  assert.equal(result.logs.length, 2);
  assert.deepEqual((await saved(p, "question.json")).measures, ["100-200 km/h", "80-180 km/h"]);
  assert.deepEqual([p.faults, p.foreign], [[], []]);
});

test("coast-downs: road load with intervals, in German", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=de");
  await pick(p, "coast", /^coast/);
  await settled(p, 6);
  await p.fill("#road-mean-mass", "1600 kg");
  await p.fill("#road-temperature", "20 C");
  await p.fill("#road-pressure", "1000 hPa");
  await p.click("#run");
  await finished(p);
  const shown = await p.textContent("#outcome");
  for (const word of ["Fahrwiderstand", "wie gemessen", "Luftwiderstandsfläche", "gesperrte Straße", "Anhang 4"]) assert.ok(shown.includes(word), word);
  const english = await p.evaluate(() => [...document.querySelectorAll("#outcome [lang=en]")].map((e) => e.textContent));
  assert.deepEqual(english, []);
  assert.equal((await saved(p, "result.json")).schema, "fairpull-road-coastdown-1");
  assert.deepEqual(p.faults, []);
});

test("columns are chosen, units said, logs left out; satellite tracks are named", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.check("#mode [value=pull]");
  const rows = readFileSync(`${folder}pull-north.csv`, "utf8").split("\n").slice(2);
  await p.setInputFiles("#picker", [
    { name: "own.csv", mimeType: "text/csv", buffer: Buffer.from(`a [s],b\n${rows.join("\n")}`) },
    { name: "track.gpx", mimeType: "text/xml", buffer: Buffer.from("<gpx></gpx>") },
  ]);
  await settled(p, 2);
  assert.match(await p.textContent("#files"), /satellite track/);
  await p.locator('[aria-label="Taken as: a [s]"], [aria-label="Taken as: a"]').selectOption("time");
  await p.locator('[aria-label="Taken as: b"]').selectOption("speed");
  await p.locator('[aria-label="Unit of b"]').fill("km/h");
  await p.fill("#road-car-mass", "1575 kg");
  await p.click("#run");
  await p.waitForFunction(() => /^Done/.test(document.getElementById("status").textContent) || document.querySelector("#outcome .general"), null, { timeout: 60000 });
  assert.match(await p.textContent("#status"), /^Done/, await p.textContent("#outcome"));
  await p.locator('[aria-label="Direction of own.csv"]').selectOption("");
  await p.click("#run");
  assert.match(await p.textContent("#status"), /log of a road test/);
});
