import { Card, type Field, type Values } from "./card.js";
import { FairpullError } from "../package/fault.js";
import { el, table, type Child } from "./dom.js";
import { digits } from "./numbers.js";
import type { UnitEntry } from "../package/types.js";
import type { Words } from "./words.js";

/** Units in everyday use stand first in the list. */
const COMMON = ["kW", "PS", "hp", "N·m", "lbf·ft", "hPa", "kPa", "bar", "psi", "inHg", "°C", "°F", "km/h", "mph", "g/s", "kg"];

export class Convert extends Card {
  #units: UnitEntry[] = [];

  head(w: Words): [string, string] {
    return [w.convertTitle, w.convertLead];
  }

  fields(): Field[] {
    return [
      { name: "quantity", label: "quantity", hint: "quantityHint", initial: "530 PS" },
      { name: "unit", label: "toUnit", kind: "choice", initial: "kW", choices: () => this.#choices() },
    ];
  }

  #all(): UnitEntry[] {
    if (this.#units.length === 0) this.#units = this.calc.units();
    return this.#units;
  }

  #choices(): [string, string][] {
    const rank = (u: UnitEntry) => (COMMON.includes(u.symbol) ? COMMON.indexOf(u.symbol) : COMMON.length);
    // a temperature and its difference share a symbol
    const once = new Map(this.#all().map((u) => [u.symbol, u]));
    return [...once.values()].sort((a, b) => rank(a) - rank(b)).map((u) => [u.symbol, u.symbol]);
  }

  /** The kind of a quantity: the first unit that takes it says so; the fault is that of the unit asked for. */
  #dimension(quantity: string, unit: string): string {
    try {
      return this.calc.convert(quantity, unit).dimension;
    } catch (asked) {
      for (const u of new Map(this.#all().map((x) => [x.dimension, x])).values()) {
        try {
          return this.calc.convert(quantity, u.symbol).dimension;
        } catch (e) {
          if (!(e instanceof FairpullError) || e.field === "quantity") throw e;
        }
      }
      throw asked;
    }
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const quantity = v.quantity ?? "";
    const kind = this.#dimension(quantity, v.unit ?? "");
    const same = this.#all().filter((u) => u.dimension === kind);
    const wanted = same.some((u) => u.symbol === v.unit) ? (v.unit ?? "") : (same[0]?.symbol ?? "");
    const main = this.calc.convert(quantity, wanted);
    const w = this.words;
    const rows = same.map((u) => {
      const a = this.calc.convert(quantity, u.symbol);
      return [u.symbol, digits(a.value, 7, this.tag), u.definition];
    });
    return {
      value: `${main.value} ${main.unit}`,
      nodes: [
        el(
          "output",
          { class: "big" },
          digits(main.value, 7, this.tag),
          " ",
          el("span", { class: "unit" }, main.unit),
        ),
        table(w.otherUnits, [w.unit, `>${w.value}`, `_${w.definition}`], rows),
      ],
    };
  }
}
