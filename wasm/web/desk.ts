/** The page's side of the worker: asks, answers, progress, cancel, and a fresh worker when one is lost. */
import type { Ask, Told } from "./worker.js";

type Without<T> = T extends unknown ? Omit<T, "id"> : never;

export class Lost extends Error {}
export class Cancelled extends Error {}

interface Waiting {
  resolve: (told: Told) => void;
  reject: (e: Error) => void;
  heard?: ((told: Told) => void) | undefined;
}

export class Desk {
  #worker: Worker | undefined;
  #next = 0;
  readonly #waiting = new Map<number, Waiting>();

  constructor(private readonly url: URL) {}

  #start(): Worker {
    const worker = new Worker(this.url, { type: "module" });
    worker.addEventListener("message", (e: MessageEvent<Told>) => {
      const told = e.data;
      const w = this.#waiting.get(told.id);
      if (!w) return;
      if (told.kind === "progress" || told.kind === "rendering") return w.heard?.(told);
      this.#waiting.delete(told.id);
      w.resolve(told);
      if (told.kind === "fault" && told.fault.field === "module") this.#drop(worker, new Lost(told.fault.problem));
    });
    const lost = (e: Event) => this.#drop(worker, new Lost((e as ErrorEvent).message || "no answer"));
    worker.addEventListener("error", lost);
    worker.addEventListener("messageerror", lost);
    return worker;
  }

  #drop(worker: Worker, why: Error): void {
    worker.terminate();
    if (this.#worker === worker) this.#worker = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const w of waiting) w.reject(why);
  }

  /** Asks; `heard` is told of progress. */
  ask(ask: Without<Ask>, heard?: (told: Told) => void): Promise<Told> {
    this.#worker ??= this.#start();
    const id = ++this.#next;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, heard });
      this.#worker?.postMessage({ ...ask, id });
    });
  }

  /** Loads the module and runs it in, before anything is asked. */
  warm(): void {
    this.#worker ??= this.#start();
    this.#worker.postMessage({ id: 0, kind: "warm" } satisfies Ask);
  }

  /** Stops everything that is under way. */
  cancel(): void {
    if (this.#worker) this.#drop(this.#worker, new Cancelled("cancelled"));
  }

  /** What a lost worker looks like, for tests. */
  lose(): void {
    if (this.#worker) this.#drop(this.#worker, new Lost("no answer"));
  }
}
