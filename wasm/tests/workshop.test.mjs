// The workshop page in Chromium: dropping, form, result, keyboard, cancel, lost worker, offline, print, hostile files.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { left, open } from "./browser.mjs";

const demo = fileURLToPath(new URL("../../fixtures/demo/", import.meta.url));
const FILES = readdirSync(demo).filter((f) => f.endsWith(".csv") || f === "job.toml").map((f) => demo + f);
let b;

before(async () => {
  if (!left) b = await open();
});
after(() => b?.close());

const status = (p) => p.textContent("#status");
const finished = (p) => p.waitForFunction(() => /^Done|^Fertig/.test(document.getElementById("status").textContent), null, { timeout: 90000 });
const settled = (p, n) =>
  p.waitForFunction((k) => document.querySelectorAll("#files tbody tr").length === k && !/…/.test(document.getElementById("files").textContent), n, { timeout: 30000 });

/** Drops files as a hand would. */
async function drop(p, files) {
  const data = await p.evaluateHandle((all) => {
    const t = new DataTransfer();
    for (const [name, text] of all) t.items.add(new File([typeof text === "string" ? text : new Uint8Array(text)], name));
    return t;
  }, files);
  await p.dispatchEvent("#drop", "drop", { dataTransfer: data });
}

test("dropped logs and job: repairs, curves, verdict, downloads; nothing leaves the page", { skip: left }, async (t) => {
  const p = await b.page("workshop.html?lang=en");
  await drop(p, FILES.map((f) => [f.slice(demo.length), readFileSync(f, "utf8")]));
  await settled(p, 8);
  const begun = Date.now();
  await p.click("#run");
  await finished(p);
  t.diagnostic(`demo job in the browser, load of the module and report included: ${Date.now() - begun} ms`);
  const shown = await p.textContent("#outcome");
  for (const word of ["Gain", "Invented data", "Peak power", "spike", "smallest", "ISO 1585"]) assert.match(shown, new RegExp(word, "i"));
  assert.ok((await p.locator("#outcome svg polygon").count()) >= 5);
  for (const name of ["report.html", "result.json", "curves.csv", "job.toml"]) {
    const [saved] = await Promise.all([p.waitForEvent("download"), p.click(`a[download="${name}"]`)]);
    assert.ok(readFileSync(await saved.path()).length > 500, name);
  }
  assert.deepEqual([p.faults, p.foreign], [[], []]);
});

test("the module runs in on invented pulls, and a question goes before that", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  const told = (asks) =>
    p.evaluate(
      (all) =>
        new Promise((resolve) => {
          const worker = new Worker("worker.js", { type: "module" });
          const heard = [];
          worker.onmessage = (e) => {
            heard.push(e.data);
            if (heard.length === all.length) resolve(heard);
          };
          for (const ask of all) worker.postMessage(ask);
        }),
      asks,
    );
  assert.deepEqual(await told([{ id: 0, kind: "warm" }]), [{ id: 0, kind: "warm", rounds: 6 }]);
  const both = await told([{ id: 0, kind: "warm" }, { id: 1, kind: "job", text: "" }]);
  assert.ok(both.find((t) => t.kind === "warm").rounds < 6);
  assert.equal(both.find((t) => t.id === 1).kind, "fault");
});

test("read-out, zoom and move by keyboard", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.setInputFiles("#picker", FILES);
  await settled(p, 8);
  await p.focus("#run");
  await p.keyboard.press("Enter");
  await finished(p);
  await p.locator(".stage").first().focus();
  await p.keyboard.press("ArrowRight");
  await p.keyboard.press("ArrowRight");
  const out = p.locator(".read-out").first();
  assert.match(await out.textContent(), /1\/min: .*before .* kW \(.* to .*\); after/);
  const whole = await p.locator(".curve-chart").first().innerHTML();
  await p.keyboard.press("+");
  assert.notEqual(await p.locator(".curve-chart").first().innerHTML(), whole);
  await p.keyboard.press("0");
  await p.keyboard.press("Escape");
  assert.equal(await out.textContent(), "");
  await p.mouse.move(600, 300);
});

test("the form writes a job that reduces", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=de");
  await p.setInputFiles("#picker", FILES.filter((f) => f.endsWith(".csv")));
  await settled(p, 8);
  await p.click("#form-fold summary");
  for (const [column, role] of [["Roller", "roller_speed"], ["Engine", "engine_speed"], ["Intake", "intake_temperature"]]) {
    await p.locator(`select[aria-label^="Gelesen als: ${column}"]`).selectOption(role);
  }
  // the log does not say from where its pressures count
  await p.locator('select[aria-label^="Gezählt ab: Manifold"]').selectOption("absolute");
  await p.locator('select[aria-label^="Gezählt ab: Pre-turbine"]').selectOption("gauge");
  const fill = (id, text) => p.fill(`#form-${id}`, text);
  await fill("title", 'Probe "eins"');
  await fill("vehicle-name", "Erfundener Wagen");
  await p.selectOption("#form-vehicle-charging", "turbocharged");
  await fill("vehicle-tyre-radius", "316 mm");
  await fill("vehicle-ratio", "5,62");
  await fill("vehicle-engine-inertia", "0.16kg.m2");
  await fill("vehicle-wheel-inertia", "1.1kg.m2");
  await fill("vehicle-cylinders", "4");
  await p.selectOption("#form-loss", "coast-down");
  await fill("start-before-1-csv", "2026-05-11T10:02:00");
  await fill("rig-roller-inertia", "21.5kg.m2");
  await fill("rig-roller-radius", "159mm");
  for (const s of ["before", "after"]) {
    await fill(`air-${s}-pressure`, "985hPa");
    await fill(`air-${s}-temperature`, "20C");
    await fill(`air-${s}-humidity`, "50%");
  }
  await p.click("#write");
  const job = await p.inputValue("#job");
  assert.match(job, /title = "Probe \\"eins\\""/);
  assert.match(job, /\[columns\.roller_speed\]/);
  assert.match(job, /cylinders = 4\n/);
  assert.match(job, /\[loss\]\nmodel = "coast-down"/);
  assert.match(job, /reference = "gauge"/);
  assert.match(job, /file = "before-1\.csv"\nstart = "2026-05-11T10:02:00"/);
  await p.click("#run");
  await p.waitForFunction(() => /^Fertig/.test(document.getElementById("status").textContent) || document.querySelector("#outcome .general"), null, { timeout: 90000 });
  assert.match(await status(p), /^Fertig/, await p.textContent("#outcome"));
  assert.match(await p.textContent("#outcome"), /Zuwachs|nachweisbar/);
});

test("faults: at their line, missing logs by name, half a file, binary, hostile names; what was typed stays", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.click("#run");
  assert.match(await status(p), /job file/);
  const job = readFileSync(`${demo}job.toml`, "utf8");
  await p.fill("#job", job.replace("985.6hPa", "985.6 furlongs"));
  await p.waitForSelector("#job-faults .general");
  assert.match(await p.textContent("#job-faults"), /job\.toml, line \d+.*furlongs/);
  assert.equal(await p.getAttribute("#job", "aria-invalid"), "true");
  await p.click("#job-faults button");
  assert.match(await p.evaluate(() => getSelection().toString() || document.getElementById("job").value.slice(document.getElementById("job").selectionStart, document.getElementById("job").selectionEnd)), /furlongs/);
  await p.fill("#job", job);
  await p.waitForFunction(() => /before-1\.csv/.test(document.getElementById("job-faults").textContent));
  await drop(p, [
    ["photo.csv", Array.from({ length: 5000 }, (_, i) => (i * 37) % 256)],
    ["empty.csv", ""],
    ["<img src=x onerror=alert(1)>.csv", "a,b\n1,2\n3,4\n"],
  ]);
  await settled(p, 3);
  assert.match(await p.textContent("#files"), /not usable.*not a text file/s);
  assert.equal(await p.locator("#files img").count(), 0);
  const half = readFileSync(`${demo}before-1.csv`, "utf8");
  await drop(p, [["before-1.csv", half.slice(0, half.length / 2)], ...FILES.filter((f) => f.endsWith(".csv") && !f.endsWith("before-1.csv")).map((f) => [f.slice(demo.length), readFileSync(f, "utf8")])]);
  await settled(p, 11);
  await p.click("#run");
  await p.waitForFunction(() => document.getElementById("outcome").childElementCount > 0, null, { timeout: 90000 });
  assert.equal(await p.inputValue("#job"), job);
  assert.deepEqual(p.faults, []);
});

test("hostile text in the job stays text", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  const evil = "<script>document.title='x'</script><img src=x onerror=document.title='x'>";
  await p.setInputFiles("#picker", FILES);
  await settled(p, 8);
  const job = readFileSync(`${demo}job.toml`, "utf8").replace("Invented data: no real car, shop or person.", evil).replace('name = "before"', `name = "${evil}"`);
  await p.fill("#job", job);
  await p.click("#run");
  await finished(p);
  assert.match(await p.textContent(".note"), /<script>/);
  assert.equal(await p.locator("#outcome img, #outcome script").count(), 0);
  assert.notEqual(await p.title(), "x");
  assert.deepEqual(p.faults, []);
});

test("cancel and a lost worker: the page lives, everything typed is there, and the next run works", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.setInputFiles("#picker", FILES);
  await settled(p, 8);
  await p.evaluate(() => {
    document.getElementById("run").click();
    setTimeout(() => document.getElementById("cancel").click(), 30);
  });
  await p.waitForFunction(() => /^Cancelled/.test(document.getElementById("status").textContent));
  await p.evaluate(() => {
    document.getElementById("run").click();
    setTimeout(() => globalThis.fairpullLoseWorker(), 30);
  });
  await p.waitForFunction(() => /stopped/.test(document.getElementById("status").textContent));
  assert.ok((await p.inputValue("#job")).length > 500);
  await p.click("#run");
  await finished(p);
});

test("a log of 200 MB is answered, and a larger one than fits is turned away by name", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.evaluate(() => {
    const row = new TextEncoder().encode("0.01,50.0,3000\n");
    const block = new Uint8Array(row.length * 65536);
    for (let k = 0; k < 65536; k++) block.set(row, k * row.length);
    const head = "Time [s],Roller [km/h],Engine [rpm]\n";
    const t = new DataTransfer();
    t.items.add(new File([head, ...Array(204).fill(block)], "huge.csv"));
    t.items.add(new File([head, ...Array(420).fill(block)], "too-huge.csv"));
    document.getElementById("drop").dispatchEvent(new DragEvent("drop", { dataTransfer: t, bubbles: true, cancelable: true }));
  });
  await settled(p, 2);
  const shown = await p.textContent("#files");
  assert.match(shown, /huge\.csv20\d\.\d+ MBlog:/);
  assert.match(shown, /at most 400 MB/);
});

test("offline once loaded", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.waitForFunction(() => document.getElementById("offline").textContent !== "", null, { timeout: 20000 });
  await p.context().setOffline(true);
  await p.reload();
  await p.click("#demo");
  await settled(p, 8);
  await p.click("#run");
  await finished(p);
  await p.goto(`${b.base}index.html?lang=de`);
  await p.waitForFunction(() => document.querySelector("fairpull-convert")?.shadowRoot?.querySelector("output"));
});

test("print: a PDF without controls", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.setInputFiles("#picker", FILES);
  await settled(p, 8);
  await p.click("#run");
  await finished(p);
  await p.emulateMedia({ media: "print" });
  assert.equal(await p.isVisible("#drop"), false);
  assert.equal(await p.isVisible(".chart-tools"), false);
  assert.equal(await p.isVisible("#outcome .big"), true);
  const pdf = await p.pdf({ format: "A4" });
  assert.ok(pdf.length > 20000 && pdf.subarray(0, 5).toString() === "%PDF-");
});

test("nothing is stored without asking", { skip: left }, async () => {
  const p = await b.page("workshop.html?lang=en");
  await p.fill("#job", "schema = 1");
  await p.waitForTimeout(400);
  assert.equal(await p.evaluate(() => localStorage.length + sessionStorage.length + document.cookie.length), 0);
  await p.check("#keep");
  await p.reload();
  assert.equal(await p.inputValue("#job"), "schema = 1");
  await p.uncheck("#keep");
  assert.equal(await p.evaluate(() => localStorage.length), 0);
});
