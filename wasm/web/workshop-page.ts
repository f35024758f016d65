/** The workshop page. */
import { el, kept, table, type Child } from "./dom.js";
import { beside } from "./beside.js";
import { Desk, Cancelled, Lost } from "./desk.js";
import { JobFormView } from "./job-form.js";
import { showResult, type Reduced } from "./outcome.js";
import { fixed } from "./numbers.js";
import { fill, said, type Words } from "./words.js";
import { chrome, words } from "./page.js";
import type { Told } from "./worker.js";
import type { ColumnsAnswer } from "../package/result.js";
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
let last: Reduced | undefined;

const area = () => $<HTMLTextAreaElement>("job");
const form = new JobFormView(() => [...logs.values()].flatMap((l) => (l.columns ? [l.columns] : [])));

async function take(files: Iterable<File>): Promise<void> {
  for (const file of files) {
    const mb = file.size / 1e6;
    if (mb > MOST) {
      logs.set(file.name, { file, fault: fill(w.tooLarge, fixed(mb, 0, w.tag), MOST) });
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
  form.show(w);
  await checkJob();
}

function showFiles(): void {
  const rows = [...logs].map(([name, log]): Child[] => [
    name,
    `${fixed(log.file.size / 1e6, 2, w.tag)} MB`,
    log.fault
      ? el("span", { class: "out" }, fill(w.kindBad, said(log.fault, w).text))
      : fill(w.kindLog, log.columns?.format ?? "…"),
    el(
      "button",
      {
        type: "button",
        "aria-label": fill(w.removeFile, name),
        onClick: () => {
          logs.delete(name);
          showFiles();
          form.show(w);
        },
      },
      w.remove,
    ),
  ]);
  $("files").replaceChildren(...kept([rows.length > 0 && table(w.files, [w.file, `>${w.size}`, w.kind, w.remove], rows)]));
}

/** A fault with its line, and a way to that line. */
function faultNode(f: Fault): HTMLElement {
  const where = f.line > 0 ? fill(w.fileLine, f.file || "job.toml", f.line) : f.file;
  const s = said(f.problem, w);
  const m = said(f.mend, w);
  return el(
    "p",
    { class: "general" },
    where ? `${where}: ` : "",
    f.field && f.field !== "file" ? `${f.field}: ` : "",
    f.value ? `“${f.value}” ` : "",
    el("span", s.lang ? { lang: s.lang } : {}, s.text),
    m.text ? "; " : "",
    m.text ? el("span", m.lang ? { lang: m.lang } : {}, m.text) : "",
    f.line > 0 && f.file.endsWith(".toml") ? " " : "",
    f.line > 0 &&
      f.file.endsWith(".toml") &&
      el("button", { type: "button", onClick: () => goTo(f.line) }, fill(w.toLine, f.line)),
  );
}

function goTo(line: number): void {
  const lines = area().value.split("\n");
  const start = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0);
  area().focus();
  area().setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
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
      out.replaceChildren(faultNode(told.fault));
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

async function run(): Promise<void> {
  const status = $("status");
  const out = $("outcome");
  if (area().value.trim() === "") {
    status.textContent = w.nothing;
    return;
  }
  const bar = $<HTMLProgressElement>("bar");
  const busy = (on: boolean) => {
    $<HTMLButtonElement>("run").disabled = on;
    $("cancel").hidden = !on;
    bar.hidden = !on;
  };
  busy(true);
  status.textContent = w.starting;
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
    const told = await desk.ask({ kind: "reduce", text: area().value, files, language: w.tag }, heard);
    if (told.kind === "fault") {
      status.textContent = "";
      out.replaceChildren(faultNode(told.fault));
    } else if (told.kind === "reduced") {
      last = { ...told, job: area().value };
      await showResult(out, last, w);
      status.textContent = fill(w.done, fixed((performance.now() - begun) / 1000, 1, w.tag));
      $("result-head").focus();
    }
  } catch (e) {
    if (e instanceof Cancelled) status.textContent = w.cancelled;
    else if (e instanceof Lost) status.textContent = fill(w.lost, e.message);
    else throw e;
  } finally {
    busy(false);
  }
}

async function demo(): Promise<void> {
  const base = beside("demo/");
  const names = ["before-1.csv", "before-2.csv", "before-3.csv", "before-4.csv", "after-1.csv", "after-2.csv", "after-3.csv", "after-4.csv", "job.toml"];
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
  showFiles();
  form.show(w);
  if (last) void showResult($("outcome"), last, w);
});
form.mount($("form"), w);
listen();
// for tests: what a lost worker looks like
Object.assign(globalThis, { fairpullLoseWorker: () => desk.lose() });
