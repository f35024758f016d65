import { Card, type Field, type Values } from "./card.js";
import { advice } from "./module.js";
import { el, table, type Child } from "./dom.js";
import { digits } from "./numbers.js";
import type { Advice } from "../package/advice.js";
import type { VetCheck } from "../package/advice-types.js";
import { fill, type Words } from "./words.js";

/** Keys of a claim that take a bare number. */
const NUMBERS = new Set(["parts.injectors", "fuel.required_ron", "stock.gain_percent"]);

export class Vet extends Card {
  protected override module(): Promise<Advice> {
    return advice();
  }

  head(w: Words): [string, string] {
    return [w.vetTitle, w.vetLead];
  }

  fields(): Field[] {
    const crank = (w: Words): [string, string][] => [["crank", w.crank], ["wheel", w.wheel], ["hub", w.hub]];
    return [
      { name: "engine.power", label: "claimedPower", initial: "430 PS" },
      { name: "engine.power_speed", label: "atSpeed", initial: "6500 1/min" },
      { name: "engine.site", label: "site", kind: "choice", initial: "crank", choices: (_, w) => crank(w) },
      { name: "engine.torque", label: "claimedTorque", initial: "440 Nm" },
      { name: "engine.torque_speed", label: "atSpeed" },
      { name: "engine.displacement", label: "displacement", hint: "displacementHint", initial: "1984 cm3" },
      { name: "engine.charging", label: "charging", kind: "choice", initial: "turbocharged", choices: (_, w) => [["none", w.naturally], ["supercharged", w.supercharged], ["turbocharged", w.turbocharged]] },
      { name: "engine.ignition", label: "ignition", kind: "choice", initial: "spark", choices: (_, w) => [["spark", w.spark], ["compression", w.compression]] },
      { name: "engine.stroke", label: "stroke", hint: "strokeHint", group: "partsGroup" },
      { name: "engine.wheel_power", label: "wheelPower", group: "partsGroup" },
      { name: "fuel.grade", label: "fuelGrade", hint: "fuelGradeHint", group: "partsGroup" },
      { name: "fuel.required_ron", label: "requiredRon", group: "partsGroup" },
      { name: "parts.injectors", label: "injectors", group: "partsGroup" },
      { name: "parts.injector_flow", label: "injectorFlow", hint: "injectorFlowHint", group: "partsGroup" },
      { name: "parts.compressor_flow", label: "compressorFlow", hint: "compressorFlowHint", group: "partsGroup" },
      { name: "parts.manifold_pressure", label: "manifoldPressure", hint: "manifoldPressureHint", group: "partsGroup" },
      { name: "stock.power", label: "stockPower", group: "carGroup" },
      { name: "car.mass", label: "mass", hint: "massHint", group: "carGroup" },
      { name: "car.drag_area", label: "dragArea", hint: "dragAreaHint", group: "carGroup" },
    ];
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const w = this.words;
    const set: Record<string, string> = {};
    for (const [name, text] of Object.entries(v)) {
      if (text.trim()) set[name] = NUMBERS.has(name) ? text.trim().replace(",", ".") : text.trim();
    }
    const a = (this.calc as Advice).vet({ set });
    return {
      value: a.outcome,
      nodes: [
        el(
          "output",
          {},
          el("div", { class: a.outcome === "contradicted" ? "big out" : "big" }, w[a.outcome]),
          el("div", { class: "what" }, this.say(a.statement)),
        ),
        table(w.vetCaption, [w.check, `>${w.claimed}`, `>${w.bound}`, `_${w.verdict}`, `_${w.source}`], a.checks.map((c) => this.#row(c))),
        this.fold(w.notRun, a.not_run.map((n) => el("span", {}, this.say(n.needs)))),
        this.fold(w.notices, a.cautions.map((c) => this.say(c)), true),
      ],
    };
  }

  #row(c: VetCheck): Child[] {
    const w = this.words;
    const n = (x: number) => digits(x, 4, this.tag);
    const bound =
      c.low !== null && c.high !== null
        ? fill(w.boundBoth, n(c.low), n(c.high))
        : c.high !== null
          ? fill(w.upTo, n(c.high))
          : c.low !== null
            ? fill(w.fromUp, n(c.low))
            : "–";
    return [
      this.say(c.title),
      `${n(c.value)} ${c.unit}`,
      bound,
      el("span", {}, el("span", c.outcome === "contradicted" ? { class: "out" } : {}, w[c.outcome]), el("br"), el("span", { class: "small" }, this.say(c.place))),
      el("span", { class: "small" }, el("span", { lang: "en" }, c.source), ", ", this.say(c.grade)),
    ];
  }
}
