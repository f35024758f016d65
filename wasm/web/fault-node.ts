/** A fault as the workshop page shows it. */
import { el } from "./dom.js";
import type { PageWords as Words } from "./page-words.js";
import { fill, spoken } from "./words.js";
import type { Fault } from "../package/types.js";

/** A fault with its line, and a way to that line. */
export function faultNode(f: Fault, job: HTMLTextAreaElement, w: Words): HTMLElement {
  const where = f.line > 0 ? fill(w.fileLine, f.file || "job.toml", f.line) : f.file;
  return el(
    "p",
    { class: "general" },
    where ? `${where}: ` : "",
    f.field && f.field !== "file" ? `${f.field}: ` : "",
    f.value ? `“${f.value}” ` : "",
    spoken(f.problem, w),
    f.mend && "; ",
    f.mend && spoken(f.mend, w),
    f.line > 0 && f.file.endsWith(".toml") ? " " : "",
    f.line > 0 &&
      f.file.endsWith(".toml") &&
      el("button", { type: "button", onClick: () => goTo(job, f.line) }, fill(w.toLine, f.line)),
  );
}

function goTo(job: HTMLTextAreaElement, line: number): void {
  const lines = job.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0);
  job.focus();
  job.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
}
