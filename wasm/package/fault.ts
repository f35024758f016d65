import type { Fault } from "./types.js";

/** The error every function throws: the facts apart, and one sentence of them in `message`. */
export class FairpullError extends Error implements Fault {
  readonly field: string;
  readonly value: string;
  readonly problem: string;
  readonly mend: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;

  constructor(fault: Fault) {
    const place = fault.file ? [fault.file, fault.line, fault.column].filter((x) => x).join(":") + ": " : "";
    const value = fault.value ? ` ${JSON.stringify(fault.value)}` : "";
    super(`${place}${fault.field}${value}: ${fault.problem}${fault.mend ? `; ${fault.mend}` : ""}`);
    this.name = "FairpullError";
    this.field = fault.field;
    this.value = fault.value;
    this.problem = fault.problem;
    this.mend = fault.mend;
    this.file = fault.file;
    this.line = fault.line;
    this.column = fault.column;
  }
}

const NONE: Fault = { field: "", value: "", problem: "", mend: "", file: "", line: 0, column: 0 };

/** What the module threw, as an error of this package. */
export function fairpullError(thrown: unknown): FairpullError {
  if (thrown instanceof FairpullError) return thrown;
  if (typeof thrown === "string") {
    try {
      return new FairpullError({ ...NONE, ...(JSON.parse(thrown) as Fault) });
    } catch {
      return new FairpullError({ ...NONE, field: "module", problem: thrown });
    }
  }
  const problem = thrown instanceof Error ? thrown.message : String(thrown);
  const trap = thrown instanceof WebAssembly.RuntimeError || thrown instanceof RangeError;
  const mend = trap ? "the module has stopped, most likely for want of memory; load it again" : "";
  return new FairpullError({ ...NONE, field: "module", problem, mend });
}
