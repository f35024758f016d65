/** The worker of the workshop page: the large module lives here, so that the page stays alive and work can be stopped. */
import * as raw from "../lib/raw-workshop.js";
import { beside } from "./beside.js";
import { loader } from "../package/load.js";
import { Workshop } from "../package/workshop.js";
import { fairpullError } from "../package/fault.js";
import type { Fault } from "../package/types.js";
import type { ColumnsAnswer, JobAnswer, ResultModel } from "../package/result.js";

/** Only workers have it. */
declare const FileReaderSync: new () => { readAsArrayBuffer(file: Blob): ArrayBuffer };

const load = loader(raw, () => beside("workshop.wasm"), (r) => new Workshop(r));

export type Ask =
  | { id: number; kind: "columns"; name: string; file: Blob }
  | { id: number; kind: "job"; text: string }
  | { id: number; kind: "reduce"; text: string; files: [string, Blob][]; language: string };

export type Told =
  | { id: number; kind: "columns"; answer: ColumnsAnswer }
  | { id: number; kind: "job"; answer: JobAnswer }
  | { id: number; kind: "progress"; done: number; total: number }
  | { id: number; kind: "rendering" }
  | { id: number; kind: "reduced"; json: string; result: ResultModel; html: string; csv: string }
  | { id: number; kind: "fault"; fault: Fault };

const tell = (told: Told) => postMessage(told);

addEventListener("message", (e: MessageEvent<Ask>) => void answer(e.data));

async function answer(ask: Ask): Promise<void> {
  try {
    const workshop = await load();
    if (ask.kind === "columns") {
      // header and first rows are enough, and half a line at the end does no harm there
      const bytes = new Uint8Array(await ask.file.slice(0, 1 << 18).arrayBuffer());
      tell({ id: ask.id, kind: "columns", answer: workshop.columns(whole(bytes, ask.file.size), ask.name) });
    } else if (ask.kind === "job") {
      tell({ id: ask.id, kind: "job", answer: workshop.job(ask.text) });
    } else {
      const reader = new FileReaderSync();
      const files = new Map(ask.files);
      const logs = (name: string) => {
        const file = files.get(name);
        return file && new Uint8Array(reader.readAsArrayBuffer(file));
      };
      const done = workshop.reduce(ask.text, logs, {
        onProgress: (done, total) => tell({ id: ask.id, kind: "progress", done, total }),
      });
      tell({ id: ask.id, kind: "rendering" });
      const { json, result } = done;
      tell({ id: ask.id, kind: "reduced", json, result, html: done.html(ask.language), csv: done.csv() });
      done.free();
    }
  } catch (e) {
    const f = fairpullError(e);
    const { field, value, problem, mend, file, line, column } = f;
    tell({ id: ask.id, kind: "fault", fault: { field, value, problem, mend, file, line, column } });
  }
}

/** The bytes up to the last line end, when they are only the beginning of the file. */
function whole(bytes: Uint8Array, size: number): Uint8Array {
  if (bytes.length >= size) return bytes;
  const end = bytes.lastIndexOf(10);
  return end > 0 ? bytes.subarray(0, end + 1) : bytes;
}
