import { Advice } from "./advice.js";
import { call, type Raw } from "./calculator.js";
import type { ColumnsAnswer, JobAnswer, ResultModel } from "./result.js";
import type { CoastDownAnswer, CoastDownQuestion, RoadLogAnswer, RoadLogQuestion } from "./road-types.js";

/** What the larger module offers beside the plain questions. */
export interface RawWorkshop extends Raw {
  columns(bytes: Uint8Array, file: string): string;
  job(job: string, file: string): string;
  reduce(job: string, file: string, bench: Bench): RawReduced;
  phrases(language: string): string;
  road_log(question: string, there: string, back: string | undefined, bench: Bench): string;
  road_coast_down(question: string, there: string[], back: string[], bench: Bench): string;
}

/** A finished job inside the module. */
export interface RawReduced {
  json(): string;
  html(language: string): string;
  csv(): string;
  text(language: string): string;
  free(): void;
}

interface Bench {
  read(name: string): Uint8Array;
  progress(done: number, total: number): boolean;
}

/** Logs by the name the job uses, or a function that gives them. */
export type Logs = ReadonlyMap<string, Uint8Array> | ((name: string) => Uint8Array | undefined);

export interface ReduceOptions {
  /** Name of the job in messages. */
  file?: string;
  /** Told after each log; `false` stops the work. */
  onProgress?: (done: number, total: number) => boolean | void;
}

/** A finished job, in any form. Call `free()` when many are made. */
export class Reduced {
  readonly #raw: RawReduced;
  /** result.json as the command line writes it. */
  readonly json: string;
  /** The same, read. */
  readonly result: ResultModel;

  constructor(raw: RawReduced) {
    this.#raw = raw;
    this.json = call(() => raw.json());
    this.result = JSON.parse(this.json) as ResultModel;
  }

  /** The report as one HTML page. */
  html(language = "en"): string {
    return call(() => this.#raw.html(language));
  }

  /** The curves as CSV. */
  csv(): string {
    return call(() => this.#raw.csv());
  }

  /** A summary as plain text. */
  text(language = "en"): string {
    return call(() => this.#raw.text(language));
  }

  /** Gives the memory inside the module back. */
  free(): void {
    this.#raw.free();
  }
}

/** The plain questions, and logs to report. */
export class Workshop extends Advice {
  readonly #raw: RawWorkshop;

  constructor(raw: RawWorkshop) {
    super(raw);
    this.#raw = raw;
  }

  /** Looks at a log and proposes what each column is. */
  columns(bytes: Uint8Array, file: string): ColumnsAnswer {
    return JSON.parse(call(() => this.#raw.columns(bytes, file))) as ColumnsAnswer;
  }

  /** What a job asks for. */
  job(text: string, file = "job.toml"): JobAnswer {
    return JSON.parse(call(() => this.#raw.job(text, file))) as JobAnswer;
  }

  /** The main job. Runs until it is done: call it in a worker. */
  reduce(job: string, logs: Logs, options: ReduceOptions = {}): Reduced {
    const file = options.file ?? "job.toml";
    return new Reduced(call(() => this.#raw.reduce(job, file, bench(logs, options.onProgress))));
  }

  /** Texts of a result in another language: English pattern and counterpart of each phrase. Slots of a pattern: `{n}` a
   * number, `{p}` a text of its own, `{e}` one that stays English, `{u}` one word, `{}` anything; the counterpart fills
   * them in turn, by place (`{2}`), or with a form by number (`{2:one|many}`). Empty for English. */
  phrases(language: string): [pattern: string, counterpart: string][] {
    return JSON.parse(call(() => this.#raw.phrases(language))) as [string, string][];
  }

  /** Times and power of a road log, or of two in opposite directions. */
  roadLog(question: RoadLogQuestion, logs: Logs, there: string, back?: string): RoadLogAnswer {
    const answer = call(() => this.#raw.road_log(JSON.stringify(question), there, back, bench(logs)));
    return JSON.parse(answer) as RoadLogAnswer;
  }

  /** Road load from coast-downs: times in the question, or logs of both directions. */
  roadCoastDown(question: CoastDownQuestion, logs: Logs = new Map(), there: string[] = [], back: string[] = []): CoastDownAnswer {
    const answer = call(() => this.#raw.road_coast_down(JSON.stringify(question), there, back, bench(logs)));
    return JSON.parse(answer) as CoastDownAnswer;
  }
}

function bench(logs: Logs, onProgress?: ReduceOptions["onProgress"]): Bench {
  const read = typeof logs === "function" ? logs : (name: string) => logs.get(name);
  return {
    read(name) {
      const bytes = read(name);
      if (!bytes) throw new Error("not given");
      return bytes;
    },
    progress: (done, total) => onProgress?.(done, total) !== false,
  };
}
