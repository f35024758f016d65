/** The workshop page. */
import { el, kept, table, type Child } from "./dom.js";
import { beside } from "./beside.js";
import { Desk, Cancelled, Lost } from "./desk.js";
import { faultNode } from "./fault-node.js";
import { JobFormView } from "./job-form.js";
import { showResult, type Reduced } from "./outcome.js";
import { RoadForm, type RoadMode } from "./road-form.js";
import type { RoadDone } from "./road-outcome.js";
import { fixed } from "./numbers.js";
import { learn } from "./phrases.js";
import type { PageWords as Words } from "./page-words.js";
import { fill, said } from "./words.js";
import { chrome, words } from "./page.js";
import type { Told } from "./worker.js";
import type { ColumnsAnswer } from "../package/result.js";
import type { CoastDownQuestion, RoadLogQuestion } from "../package/road-types.js";
import type { Fault } from "../package/types.js";

/** More than this does not fit beside its own copies into the memory of a module. */
const MOST = 400;
const STORE = "fairpull-job";

interface Log {
  file: File;
  columns?: ColumnsAnswer;
  fault?: string;
}

const desk = new Desk(beside("worker.js"));
const logs = new Map<string, Log>();
const $ = <E extends HTMLElement>(id: string) => document.getElementById(id) as E;
let w: Words = words();
let written = "";
let last: (Reduced & { kind: "reduced" }) | RoadDone | undefined;
let mode: "rig" | RoadMode = "rig";

const area = () => $<HTMLTextAreaElement>("job");
const known = () => [...logs.values()].flatMap((l) => (l.columns ? [l.columns] : []));
const form = new JobFormView(known);
const road = new RoadForm(known);

/** The part of the page between logs and result: the job of a rig, or the road test. */
function showForm(): void {
  $("job-part").hidden = mode !== "rig";
  $("road-part").hidden = mode === "rig";
  if (mode === "rig") return form.show(w);
  $("road-lead").textContent = mode === "pull" ? w.roadPartPull : w.roadPartCoast;
  road.show($("road-form"), mode, w);
}

async function take(files: Iterable<File>): Promise<void> {
  for (const file of files) {
    const mb = file.size / 1e6;
    if (mb > MOST) {
      logs.set(file.name, { file, fault: fill(w.tooLarge, fixed(mb, 0, w.tag), MOST) });
    } else if (/\.(gpx|nmea)$/i.test(file.name)) {
      logs.set(file.name, { file, fault: w.roadTracks });
    } else if (file.name.endsWith(".toml")) {
      area().value = await file.text();
      written = "";
      logs.delete(file.name);
    } else {
      const log: Log = { file };
      logs.set(file.name, log);
      showFiles();
      try {
        const told = await desk.ask({ kind: "columns", name: file.name, file });
        if (told.kind === "columns") log.columns = told.answer;
        else if (told.kind === "fault") log.fault = told.fault.problem;
      } catch (e) {
        log.fault = e instanceof Error ? e.message : String(e);
      }
    }
  }
  showFiles();
  showForm();
  if (mode === "rig") await checkJob();
}

function showFiles(): void {
  const rows = [...logs].map(([name, log]): Child[] => [
    name,
    log.file.size < 1e6 ? `${fixed(log.file.size / 1e3, 0, w.tag)} kB` : `${fixed(log.file.size / 1e6, 1, w.tag)} MB`,
    log.fault
      ? el("span", { class: "out" }, fill(w.kindBad, said(log.fault, w).text))
      : log.columns ? fill(w.kindLog, said(log.columns.format, w).text) : fill(w.kindLog, "…"),
    el(
      "button",
      {
        type: "button",
        "aria-label": fill(w.removeFile, name),
        onClick: () => {
          logs.delete(name);
          showFiles();
          showForm();
        },
      },
      w.remove,
    ),
  ]);
  $("files").replaceChildren(...kept([rows.length > 0 && table(w.files, [w.file, `>${w.size}`, `_${w.kind}`, w.remove], rows)]));
}

async function checkJob(): Promise<boolean> {
  const text = area().value;
  const out = $("job-faults");
  area().removeAttribute("aria-invalid");
  out.replaceChildren();
  if (text.trim() === "") return false;
  try {
    const told = await desk.ask({ kind: "job", text });
    if (text !== area().value) return false;
    if (told.kind === "fault") {
      area().setAttribute("aria-invalid", "true");
      out.replaceChildren(faultNode(told.fault, area(), w));
      return false;
    }
    if (told.kind === "job") {
      const missing = told.answer.states.flatMap((s) => s.logs).filter((l) => !l.skip && !logs.has(l.file));
      if (missing.length > 0) {
        out.replaceChildren(el("p", { class: "general" }, fill(w.missing, missing.map((l) => l.file).join(", "))));
        return false;
      }
    }
    return true;
  } catch (e) {
    if (e instanceof Cancelled) return false;
    out.replaceChildren(el("p", { class: "general" }, fill(w.lost, e instanceof Error ? e.message : String(e))));
    return false;
  }
}

/** Asks the worker what the page is set to, and shows the answer. */
async function run(): Promise<void> {
  const status = $("status");
  const there = mode === "rig" ? [] : road.files("there");
  const back = mode === "rig" ? [] : road.files("back");
  if (mode === "rig" ? area().value.trim() === "" : there.length + back.length === 0) {
    status.textContent = mode === "rig" ? w.nothing : w.roadNothing;
    return;
  }
  const bar = $<HTMLProgressElement>("bar");
  const busy = (on: boolean) => {
    $<HTMLButtonElement>("run").disabled = on;
    $("cancel").hidden = !on;
    bar.hidden = !on;
  };
  busy(true);
  status.textContent = mode === "rig" ? w.starting : w.readingRoad;
  bar.removeAttribute("value");
  const begun = performance.now();
  const heard = (told: Told) => {
    if (told.kind === "progress") {
      bar.max = told.total;
      bar.value = told.done;
      status.textContent = fill(w.running, Math.min(told.done + 1, told.total), told.total);
    } else status.textContent = w.rendering;
  };
  try {
    const files = [...logs].map(([name, log]): [string, Blob] => [name, log.file]);
    const text = area().value;
    if (mode === "rig") {
      const told = await desk.ask({ kind: "reduce", text, files, language: w.tag }, heard);
      if (told.kind === "fault") return showFault(told.fault);
      if (told.kind === "reduced") last = { ...told, job: text };
    } else if (mode === "pull") {
      const question = road.question(mode) as RoadLogQuestion;
      const told = await desk.ask({ kind: "pull", question, files, there: there.length > 0 ? there : back, back: there.length > 0 ? back : [] });
      if (told.kind === "fault") return showFault(told.fault);
      if (told.kind === "pull") last = { kind: "pull", answer: told.answer, question };
    } else {
      const question = road.question(mode) as CoastDownQuestion;
      const told = await desk.ask({ kind: "coast", question, files, there, back });
      if (told.kind === "fault") return showFault(told.fault);
      if (told.kind === "coast") last = { kind: "coast", answer: told.answer, question };
    }
    await showLast();
    status.textContent = fill(w.done, fixed((performance.now() - begun) / 1000, 1, w.tag));
    $("result-head").focus();
  } catch (e) {
    if (e instanceof Cancelled) status.textContent = w.cancelled;
    else if (e instanceof Lost) status.textContent = fill(w.lost, e.message);
    else throw e;
  } finally {
    busy(false);
  }
}

function showFault(f: Fault): void {
  $("status").textContent = "";
  $("outcome").replaceChildren(faultNode(f, area(), w));
  if (mode !== "rig") road.fault(f.field, kept([said(f.problem, w).text, f.mend && said(f.mend, w).text]).join("; "));
}

async function showLast(): Promise<void> {
  if (!last) return;
  await learn(w.tag);
  if (last.kind === "reduced") return showResult($("outcome"), last, w);
  const { showRoad } = await import("./road-outcome.js");
  showRoad($("outcome"), last, w);
}

const numbered = (name: string, count: number) => Array.from({ length: count }, (_, k) => `${name}-${k + 1}.csv`);
const DEMO = {
  rig: { files: [...numbered("before", 4), ...numbered("after", 4), "job.toml"], values: {} },
  pull: { files: ["pull-north.csv", "pull-south.csv"], values: { "car.mass": "1575 kg ± 15 kg", "car.drag_area": "0.65 m2", "car.rolling": "0.011" } },
  coast: { files: [...numbered("coast-north", 3), ...numbered("coast-south", 3)], values: { mean_mass: "1600 kg", temperature: "20 C", pressure: "100 kPa" } },
};

async function demo(): Promise<void> {
  const base = beside("demo/");
  const { files: names, values } = DEMO[mode];
  road.set(values);
  const files = await Promise.all(
    names.map(async (n) => new File([await (await fetch(new URL(n, base))).blob()], n)),
  );
  await take(files);
}

function writeJob(): void {
  if (area().value.trim() !== "" && area().value !== written && !confirm(w.overwrite)) return;
  written = form.text();
  area().value = written;
  void checkJob();
  area().focus();
}

function listen(): void {
  const drop = $("drop");
  const over = (on: boolean) => drop.classList.toggle("over", on);
  drop.addEventListener("dragover", (e) => {
    e.preventDefault();
    over(true);
  });
  drop.addEventListener("dragleave", () => over(false));
  drop.addEventListener("drop", (e) => {
    e.preventDefault();
    over(false);
    if (e.dataTransfer) void take(e.dataTransfer.files);
  });
  // a file dropped beside the box must not replace the page
  addEventListener("dragover", (e) => e.preventDefault());
  addEventListener("drop", (e) => e.preventDefault());
  const picker = $<HTMLInputElement>("picker");
  picker.addEventListener("change", () => {
    if (picker.files) void take([...picker.files]);
    picker.value = "";
  });
  $("demo").addEventListener("click", () => void demo());
  $("write").addEventListener("click", writeJob);
  $("run").addEventListener("click", () => void run());
  $("cancel").addEventListener("click", () => desk.cancel());
  for (const radio of document.querySelectorAll<HTMLInputElement>("#mode input")) {
    radio.addEventListener("change", () => {
      mode = radio.value as typeof mode;
      showForm();
    });
  }
  let pause: ReturnType<typeof setTimeout> | undefined;
  area().addEventListener("input", () => {
    clearTimeout(pause);
    pause = setTimeout(() => void checkJob(), 300);
    if ($<HTMLInputElement>("keep").checked) localStorage.setItem(STORE, area().value);
  });
  const keep = $<HTMLInputElement>("keep");
  keep.addEventListener("change", () => {
    if (keep.checked) localStorage.setItem(STORE, area().value);
    else localStorage.removeItem(STORE);
    $("kept").textContent = keep.checked ? w.kept : "";
  });
  const stored = localStorage.getItem(STORE);
  if (stored !== null) {
    keep.checked = true;
    area().value = stored;
    $("kept").textContent = w.kept;
    void checkJob();
  }
}

chrome(() => {
  w = words();
  void learn(w.tag).then(() => {
    showFiles();
    showForm();
    return showLast();
  });
});
form.mount($("form"), w);
const chosen = document.querySelector<HTMLInputElement>("#mode input:checked");
if (chosen) mode = chosen.value as typeof mode; // a reload may keep the choice
showForm();
void learn(w.tag).then(showForm);
listen();
// once the page stands; the reader still has files to find
addEventListener("load", () => setTimeout(() => desk.warm(), 0));
// for tests: what a lost worker looks like
Object.assign(globalThis, { fairpullLoseWorker: () => desk.lose() });
