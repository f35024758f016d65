import { Card, given, type Field, type Values } from "./card.js";
import { airFields, airOf, engineFields, engineOf } from "./air-fields.js";
import { el, kept, table, type Child } from "./dom.js";
import { digits, interval } from "./numbers.js";
import type { Calculator } from "../package/calculator.js";
import type { BasisRow, RestateQuestion, RestatedAnswer, RestatedStep } from "../package/types.js";
import { fill, said, type Words } from "./words.js";

export class Restate extends Card {
  head(w: Words): [string, string] {
    return [w.restateTitle, w.restateLead];
  }

  fields(): Field[] {
    const standards = (c: Calculator): [string, string][] =>
      c.catalogue().filter((e) => e.family === "standard").map((e) => [e.id, e.title]);
    const sites = (w: Words): [string, string][] => [["crank", w.crank], ["wheel", w.wheel], ["hub", w.hub]];
    return [
      { name: "figure", label: "figure", hint: "figureHint", initial: "400 kW", wide: true },
      {
        name: "from",
        label: "from",
        kind: "choice",
        initial: "din-70020",
        choices: (c, w) => [["", w.notStated], ["observed", w.observed], ...standards(c)],
      },
      { name: "site", label: "site", kind: "choice", initial: "crank", choices: (_, w) => [["", w.notStated], ...sites(w)] },
      { name: "engine_speed", label: "engineSpeed", hint: "engineSpeedHint" },
      {
        name: "to",
        label: "to",
        kind: "choice",
        initial: "iso-1585",
        choices: (c, w) => [...standards(c), ["observed", w.toObserved]],
      },
      { name: "to_site", label: "toSite", kind: "choice", initial: "crank", choices: (_, w) => sites(w) },
      ...airFields("airKnown"),
      { name: "month", label: "month", group: "airKnown" },
      {
        name: "loss",
        label: "loss",
        kind: "choice",
        initial: "",
        group: "lossKnown",
        choices: (c, w) => [
          ["", w.lossAny],
          ...c.catalogue().filter((e) => e.family === "loss").map((e): [string, string] => [e.id, said(e.title, w).text]),
        ],
      },
      { name: "load_share", label: "loadShare", hint: "loadShareHint", group: "lossKnown" },
      { name: "constant_drag", label: "constantDrag", hint: "constantDragHint", group: "lossKnown" },
      ...engineFields("engineMore"),
    ];
  }

  question(v: Values): RestateQuestion {
    const q = given(v, ["figure", "from", "site", "engine_speed", "to", "to_site", "loss", "load_share", "constant_drag"]);
    const air = airOf(v);
    const engine = ["charging", "charge_cooling", "ignition", "ambient_compensated", "fuel_per_stroke", "charge_pressure_ratio", "mechanical_efficiency"];
    const stated = engine.some((n) => v[n] && !["none", "spark"].includes(v[n] ?? ""));
    return {
      ...q,
      figure: q.figure ?? "",
      air,
      ...(stated ? { engine: engineOf(v, this.words) } : {}),
      ...(v.month?.trim() ? { month: Math.round(Number(v.month)) || 0 } : {}),
    } as RestateQuestion;
  }

  /** The figure with all that belongs to it in one line, then where it goes. */
  protected override linked(v: Values): [string, string][] {
    const own = ["figure", "from", "site", "engine_speed", "pressure", "temperature", "humidity"];
    try {
      const line = this.calc.figure(this.question(v)).link;
      // the line says it all, so what else could say it is emptied
      const rest = super.linked(v).filter(([n]) => !own.includes(n));
      return [["figure", line], ["from", ""], ["site", ""], ...rest];
    } catch {
      return super.linked(v);
    }
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const w = this.words;
    const q = this.question(v);
    const a = this.calc.restate(q);
    const i = interval(a.value, a.lo95, a.hi95, this.tag);
    const bases = el("details", { "data-own": true }, el("summary", {}, w.allBases));
    bases.addEventListener("toggle", () => {
      if (bases.open && bases.childElementCount === 1) bases.append(this.#all(this.calc.restateAll(q)));
    });
    return {
      value: a.figure,
      nodes: [
        el(
          "output",
          {},
          el("div", { class: "big" }, i.value, " ", el("span", { class: "unit" }, a.unit, i.half ? ` ± ${i.half}` : "")),
          el("div", { class: "pm" }, a.exact ? w.exact : fill(w.interval, i.low, i.high, a.unit)),
          el("div", { class: "what" }, this.#basis(a)),
        ),
        !a.basis_known && el("p", { class: "out" }, w.basisUnknown),
        this.#steps(a),
        this.fold(w.assumed, a.assumptions.map((x) => this.#assumption(x, a.unit)), true),
        this.fold(w.notices, a.notices.map((n) => this.say(n)), true),
        this.fold(w.alternatives, a.alternatives.map((x) => {
          const b = interval(x.value, x.lo95, x.hi95, this.tag);
          return el("span", {}, this.say(x.what), `: ${b.value} ${a.unit}${b.half ? ` ± ${b.half}` : ""}`);
        })),
        bases,
      ],
    };
  }

  #basis(a: RestatedAnswer): string {
    const w = this.words;
    const [site = "", ...rest] = a.basis.split("; ");
    const basis = [{ crank: w.crank, wheel: w.wheel, hub: w.hub }[site] ?? site, ...rest].join("; ");
    return fill(w.restated, basis, fill(w.ratio, digits(a.ratio, 5, this.tag)));
  }

  #assumption(x: RestatedAnswer["assumptions"][number], unit: string): Child {
    const adds = x.contribution > 0 ? ` (± ${digits(x.contribution, 2, this.tag)} ${unit})` : "";
    return el("span", {}, this.say(x.what), adds, el("br"), el("span", { class: "small" }, this.say(x.because)));
  }

  #steps(a: RestatedAnswer): Child {
    const w = this.words;
    const unit = a.quantity === "power" ? "kW" : "N·m";
    const scale = a.quantity === "power" ? 1e-3 : 1;
    const small = (...parts: Child[]) => el("span", { class: "small" }, ...parts);
    const rows = a.steps.map((s) => [
      this.say(s.what),
      digits(s.factor, 6, this.tag),
      `${digits(s.result_si * scale, 6, this.tag)} ${unit}`,
      el("span", {}, small(this.#inputs(s)), el("br"), small(...this.#source(s.source))),
    ]);
    return el("details", { open: true }, el("summary", {}, w.steps), table(w.steps, [w.step, `>${w.factor}`, `>${w.result}`, `_${w.inputsSource}`], rows));
  }

  /** A citation stays English; how far it was read does not. */
  #source(text: string): Child[] {
    const at = text.lastIndexOf("; ");
    return at < 0 ? [el("span", { lang: "en" }, text)] : [el("span", { lang: "en" }, text.slice(0, at)), "; ", this.say(text.slice(at + 2))];
  }

  #inputs(s: RestatedStep): Child {
    const parts = s.inputs.map((x) => {
      const unit = x.unit === "1" ? "" : ` ${x.unit}`;
      return el("span", {}, this.say(x.what), ` ${x.value === null ? "–" : digits(x.value, 6, this.tag)}${unit}`);
    });
    return el("span", {}, ...kept(parts.flatMap((p, k) => (k ? ["; ", p] : [p]))));
  }

  #all(rows: BasisRow[]): HTMLElement {
    const w = this.words;
    const sites: Record<string, string> = { crank: w.crank, wheel: w.wheel, hub: w.hub };
    return table(
      w.allBases,
      [w.standard, w.site, `>${w.value}`, w.rangeOf],
      rows.map((r) => {
        const name = r.treatment === "observed" ? w.toObserved : (r.designation ?? r.treatment);
        if (!r.result) return [name, sites[r.site] ?? r.site, "–", el("span", { class: "small" }, this.say(r.why ?? ""))];
        const i = interval(r.result.value, r.result.lo95, r.result.hi95, this.tag);
        return [name, sites[r.site] ?? r.site, `${i.value} ${r.result.unit}`, i.half ? `± ${i.half}` : ""];
      }),
    );
  }
}
