import { Advice } from "./advice.js";
import { call, type Raw } from "./calculator.js";
import type { ColumnsAnswer, JobAnswer, ResultModel } from "./result.js";

/** What the larger module offers beside the plain questions. */
export interface RawWorkshop extends Raw {
  columns(bytes: Uint8Array, file: string): string;
  job(job: string, file: string): string;
  reduce(job: string, file: string, bench: Bench): string;
  render(result: string, form: string, language: string): string;
  road_log(question: string, there: string, back: string | undefined, bench: Bench): string;
  road_coast_down(question: string, there: string[], back: string[], bench: Bench): string;
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

/** A finished job. */
export interface Reduced {
  /** result.json as the command line writes it. */
  json: string;
  /** The same, read. */
  result: ResultModel;
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
    const json = call(() => this.#raw.reduce(job, options.file ?? "job.toml", bench(logs, options.onProgress)));
    return { json, result: JSON.parse(json) as ResultModel };
  }

  /** Times and power of a road log, or of two in opposite directions. */
  roadLog(question: object, logs: Logs, there: string, back?: string): Record<string, unknown> {
    const answer = call(() => this.#raw.road_log(JSON.stringify(question), there, back, bench(logs)));
    return JSON.parse(answer) as Record<string, unknown>;
  }

  /** Road load from coast-downs: times in the question, or logs of both directions. */
  roadCoastDown(question: object, logs: Logs = new Map(), there: string[] = [], back: string[] = []): Record<string, unknown> {
    const answer = call(() => this.#raw.road_coast_down(JSON.stringify(question), there, back, bench(logs)));
    return JSON.parse(answer) as Record<string, unknown>;
  }

  /** The report of a result as one HTML page. */
  reportHtml(json: string, language = "en"): string {
    return call(() => this.#raw.render(json, "html", language));
  }

  /** The curves of a result as CSV. */
  curvesCsv(json: string): string {
    return call(() => this.#raw.render(json, "csv", "en"));
  }

  /** A summary of a result as plain text. */
  summaryText(json: string, language = "en"): string {
    return call(() => this.#raw.render(json, "text", language));
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
