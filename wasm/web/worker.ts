/** The worker of the workshop page: the large module lives here, so that the page stays alive and work can be stopped. */
import * as raw from "../lib/raw-workshop.js";
import { beside } from "./beside.js";
import { loader } from "../package/load.js";
import { Workshop } from "../package/workshop.js";
import { fairpullError } from "../package/fault.js";
import { warm } from "./warm.js";
import type { Fault } from "../package/types.js";
import type { ColumnsAnswer, JobAnswer, ResultModel } from "../package/result.js";
import type { CoastDownAnswer, CoastDownQuestion, RoadLogAnswer, RoadLogQuestion } from "../package/road-types.js";

/** Only workers have it. */
declare const FileReaderSync: new () => { readAsArrayBuffer(file: Blob): ArrayBuffer };

const load = loader(raw, () => beside("workshop.wasm"), (r) => new Workshop(r));

export type Ask =
  | { id: number; kind: "warm" }
  | { id: number; kind: "columns"; name: string; file: Blob }
  | { id: number; kind: "job"; text: string }
  | { id: number; kind: "reduce"; text: string; files: [string, Blob][]; language: string }
  | { id: number; kind: "pull"; question: RoadLogQuestion; files: [string, Blob][]; there: string[]; back: string[] }
  | { id: number; kind: "coast"; question: CoastDownQuestion; files: [string, Blob][]; there: string[]; back: string[] };

export type Told =
  | { id: number; kind: "warm"; rounds: number }
  | { id: number; kind: "columns"; answer: ColumnsAnswer }
  | { id: number; kind: "job"; answer: JobAnswer }
  | { id: number; kind: "progress"; done: number; total: number }
  | { id: number; kind: "rendering" }
  | { id: number; kind: "reduced"; json: string; result: ResultModel; html: string; csv: string }
  | { id: number; kind: "pull"; answer: RoadLogAnswer }
  | { id: number; kind: "coast"; answer: CoastDownAnswer }
  | { id: number; kind: "fault"; fault: Fault };

const tell = (told: Told) => postMessage(told);

let asked = false;

addEventListener("message", (e: MessageEvent<Ask>) => {
  if (e.data.kind === "warm") return void runIn(e.data.id);
  asked = true;
  void answer(e.data);
});

async function runIn(id: number): Promise<void> {
  try {
    tell({ id, kind: "warm", rounds: await warm(await load(), () => asked) });
  } catch {
    // what keeps the module from loading is told when something is asked
  }
}

async function answer(ask: Exclude<Ask, { kind: "warm" }>): Promise<void> {
  try {
    const workshop = await load();
    if (ask.kind === "columns") {
      // header and first rows are enough, and half a line at the end does no harm there
      const bytes = new Uint8Array(await ask.file.slice(0, 1 << 18).arrayBuffer());
      tell({ id: ask.id, kind: "columns", answer: workshop.columns(whole(bytes, ask.file.size), ask.name) });
    } else if (ask.kind === "job") {
      tell({ id: ask.id, kind: "job", answer: workshop.job(ask.text) });
    } else if (ask.kind === "pull") {
      const [there = "", back] = [ask.there[0], ask.back[0]];
      tell({ id: ask.id, kind: "pull", answer: workshop.roadLog(ask.question, reading(ask.files), there, back) });
    } else if (ask.kind === "coast") {
      const answer = workshop.roadCoastDown(ask.question, reading(ask.files), ask.there, ask.back);
      tell({ id: ask.id, kind: "coast", answer });
    } else {
      const done = workshop.reduce(ask.text, reading(ask.files), {
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

/** Files read when the module asks for them, so that no more than one is held. */
function reading(given: [string, Blob][]): (name: string) => Uint8Array | undefined {
  const reader = new FileReaderSync();
  const files = new Map(given);
  return (name) => {
    const file = files.get(name);
    return file && new Uint8Array(reader.readAsArrayBuffer(file));
  };
}

/** The bytes up to the last line end, when they are only the beginning of the file. */
function whole(bytes: Uint8Array, size: number): Uint8Array {
  if (bytes.length >= size) return bytes;
  const end = bytes.lastIndexOf(10);
  return end > 0 ? bytes.subarray(0, end + 1) : bytes;
}
