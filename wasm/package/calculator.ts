import { fairpullError } from "./fault.js";
import type * as T from "./types.js";

/** What the bindings offer; the same names in both modules. */
export interface Raw {
  ask(name: string, question: string): string;
  factor_many(id: string, engine: string, a: Float64Array, b: Float64Array, c: Float64Array): Float64Array;
  crank_many(id: string, driveline: string, a: Float64Array, b: Float64Array, c: Float64Array): Float64Array;
}

/** The plain questions. Every method throws a `FairpullError`. */
export class Calculator {
  readonly #raw: Raw;

  constructor(raw: Raw) {
    this.#raw = raw;
  }

  /** A question by name, both sides JSON text: the same bytes as the command line's JSON values. */
  ask(name: string, question: string): string {
    return call(() => this.#raw.ask(name, question));
  }

  protected json<A>(name: string, question: object = {}): A {
    return JSON.parse(this.ask(name, JSON.stringify(question))) as A;
  }

  /** Version of the calculations. */
  version(): string {
    return this.json<{ version: string }>("version").version;
  }

  /** Every unit. */
  units(): T.UnitEntry[] {
    return this.json("units");
  }

  /** `convert("530PS", "kW")`. */
  convert(quantity: T.Quantity, unit: string): T.ConvertAnswer {
    return this.json("convert", { quantity, unit } satisfies T.ConvertQuestion);
  }

  /** What air is this? */
  air(question: T.AirQuestion): T.AirAnswer {
    return this.json("air", question);
  }

  /** The factor of every standard for an air and an engine. */
  factors(question: T.FactorsQuestion): T.FactorsAnswer {
    return this.json("factors", question);
  }

  /** Every plug-in. */
  catalogue(): T.CatalogueEntry[] {
    return this.json("catalogue");
  }

  /** The whole card of a plug-in. */
  card(id: string): T.CardAnswer {
    return this.json("card", { id });
  }

  /** A figure read, and written in the one-line notation. */
  figure(question: T.RestateQuestion): T.FigureAnswer {
    return this.json("figure", question);
  }

  /** A figure on another basis, with interval and trail. */
  restate(question: T.RestateQuestion): T.RestatedAnswer {
    return this.json("restate", question);
  }

  /** A figure on every basis. */
  restateAll(question: T.RestateQuestion): T.BasisRow[] {
    return this.json("restate_all", question);
  }

  /** Factors of one standard for whole columns of readings; `NaN` where the standard refuses. */
  factorMany(id: string, engine: T.EngineQuestion, air: T.AirColumns): Float64Array {
    const text = JSON.stringify(engine);
    return call(() => this.#raw.factor_many(id, text, air.total_kpa, air.vapour_kpa, air.temperature_c));
  }

  /** Observed power at the crankshaft, W, by one loss model; `NaN` where the model refuses. */
  crankMany(id: string, driveline: T.DrivelineQuestion, at: T.WheelColumns): Float64Array {
    const text = JSON.stringify(driveline);
    return call(() =>
      this.#raw.crank_many(id, text, at.wheel_w, at.road_speed_m_s, at.engine_speed_rpm),
    );
  }
}

/** Runs a call into the module and turns what it throws into a `FairpullError`. */
export function call<A>(work: () => A): A {
  try {
    return work();
  } catch (thrown) {
    throw fairpullError(thrown);
  }
}
