import { Card, type Field, type Values } from "./card.js";
import { airFields, airOf, engineFields, engineOf } from "./air-fields.js";
import { el, table, type Child } from "./dom.js";
import { fixed } from "./numbers.js";
import type { AirAnswer, FactorEntry } from "../package/types.js";
import { fill, type Words } from "./words.js";

export class Factors extends Card {
  head(w: Words): [string, string] {
    return [w.factorsTitle, w.factorsLead];
  }

  fields(): Field[] {
    const initial: Record<string, string> = { pressure: "985 hPa", temperature: "24 C", humidity: "55 %" };
    const air = airFields().map((f) => (initial[f.name] ? { ...f, initial: initial[f.name] } : f));
    return [...air, ...engineFields()];
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const w = this.words;
    const a = this.calc.factors({ air: airOf(v), engine: engineOf(v, w) });
    const real = a.factors.filter((f) => f.factor !== undefined).map((f) => f.factor as number);
    const spread = real.length > 1 ? 100 * (Math.max(...real) / Math.min(...real) - 1) : 0;
    const rows = a.factors.map((f) => [
      el("span", {}, f.designation, f.designation.toLowerCase().replace(/\W+/g, "-") === f.standard ? "" : el("span", { class: "small" }, ` ${f.standard}`)),
      f.factor === undefined ? "–" : fixed(f.factor, 4, this.tag),
      this.#status(f),
      this.#remarks(f),
    ]);
    return {
      value: JSON.stringify(Object.fromEntries(a.factors.map((f) => [f.standard, f.factor ?? null]))),
      nodes: [
        el("output", { class: "what" }, fill(w.factorsSpread, fixed(spread, 2, this.tag))),
        table(w.factorsCaption, [w.standard, `>${w.factor}`, w.status, `_${w.remarks}`], rows),
        this.#air(a.air),
      ],
    };
  }

  #status(f: FactorEntry): Child {
    const w = this.words;
    const text = { within: w.within, outside: w.outside, "no-range-known": w.noRange, "not-applicable": w.notApplicable }[f.status];
    return f.status === "within" || f.status === "no-range-known" ? text : el("span", { class: "out" }, text);
  }

  #remarks(f: FactorEntry): Child {
    const w = this.words;
    const lines: Child[] = [];
    if (f.blind_factor !== undefined) lines.push(fill(w.blind, fixed(f.blind_factor, 4, this.tag)));
    if (f.why) lines.push(this.say(f.why));
    for (const n of f.notices) lines.push(this.say(n));
    return el("span", { class: "small" }, ...lines.flatMap((l, i) => (i ? [el("br"), l] : [l])));
  }

  #air(a: AirAnswer): Child {
    const w = this.words;
    const row = (label: string, x: number | null | undefined, decimals: number, unit: string): Child[] =>
      x === undefined || x === null
        ? []
        : [el("dt", {}, label), el("dd", {}, `${fixed(x, decimals, this.tag)} ${unit}`)];
    return el(
      "details",
      {},
      el("summary", {}, w.airOf),
      el(
        "dl",
        {},
        ...row(w.station, a.station_pressure_kpa, 3, "kPa"),
        ...row(w.vapour, a.vapour_pressure_kpa, 3, "kPa"),
        ...row(w.dry, a.dry_pressure_kpa, 3, "kPa"),
        ...row(w.temperature, a.temperature_c, 1, "°C"),
        ...row(w.humidity, a.relative_humidity_percent, 1, "%"),
        ...row(w.dewPoint, a.dew_point_c, 1, "°C"),
        ...row(w.wetBulb, a.wet_bulb_c, 1, "°C"),
        ...row(w.density, a.density_kg_m3, 4, "kg/m³"),
        ...row(w.densityAltitude, a.density_altitude_m, 0, "m"),
      ),
    );
  }
}
