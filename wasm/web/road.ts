import { Card, given, type Field, type Values } from "./card.js";
import { airFields, airOf } from "./air-fields.js";
import { advice } from "./module.js";
import { el, table, type Child } from "./dom.js";
import { fixed, interval } from "./numbers.js";
import type { Advice } from "../package/advice.js";
import type { CarQuestion } from "../package/advice-types.js";
import { type Words } from "./words.js";

const CAR = [
  "mass",
  "power",
  "site",
  "driveline_efficiency",
  "drag_area",
  "rolling",
  "mass_factor",
  "friction",
  "driven",
  "slope",
  "headwind",
];

export class Road extends Card {
  protected override module(): Promise<Advice> {
    return advice();
  }

  head(w: Words): [string, string] {
    return [w.roadTitle, w.roadLead];
  }

  fields(): Field[] {
    return [
      { name: "power", label: "power", hint: "powerHint", initial: "221 kW" },
      { name: "site", label: "site", kind: "choice", initial: "crank", choices: (_, w) => [["crank", w.crank], ["wheel", w.wheel]] },
      { name: "mass", label: "mass", hint: "massHint", initial: "1575 kg" },
      { name: "measures", label: "measures", hint: "measuresHint", initial: "100-200 km/h, 60-130 mph", wide: true },
      { name: "drag_area", label: "dragArea", hint: "dragAreaHint", group: "carGroup" },
      { name: "rolling", label: "rolling", hint: "rollingHint", group: "carGroup" },
      { name: "driveline_efficiency", label: "drivelineEfficiency", hint: "drivelineEfficiencyHint", group: "carGroup" },
      { name: "mass_factor", label: "massFactor", hint: "massFactorHint", group: "carGroup" },
      { name: "driven", label: "driven", kind: "choice", initial: "", group: "carGroup", choices: (_, w) => [["", w.notStated], ["front", w.front], ["rear", w.rear], ["all", w.all]] },
      { name: "friction", label: "friction", hint: "frictionHint", group: "carGroup" },
      { name: "slope", label: "slope", hint: "slopeHint", group: "carGroup" },
      { name: "headwind", label: "headwind", hint: "headwindHint", group: "carGroup" },
      ...airFields("airRun"),
    ];
  }

  protected override place(field: string): string {
    return field.replace(/^car\.(air\.)?/, "");
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const w = this.words;
    const car = { ...given(v, CAR), air: airOf(v) } as CarQuestion;
    const measures = (v.measures ?? "").split(/[;,](?!\d)/).map((m) => m.trim()).filter((m) => m !== "");
    const a = (this.calc as Advice).road({ car, measures });
    const rows = a.times.map((t) => {
      if (!t.predicted) return [this.say(t.name), "–", "", el("span", { class: "small" }, this.say(t.why ?? ""))];
      const p = t.predicted;
      const i = interval(p.time_s.value, p.time_s.lo95, p.time_s.hi95, this.tag);
      const main = p.shares.reduce((x, s) => (Math.abs(s.effect_s) > Math.abs(x.effect_s) ? s : x), { input: "", effect_s: 0 });
      return [
        this.say(t.name),
        el("span", {}, el("b", {}, i.value), " s", i.half ? ` ± ${i.half}` : ""),
        `${fixed(p.distance_m, 0, this.tag)} m`,
        el("span", { class: "small" }, this.say(main.input), ` ± ${fixed(Math.abs(main.effect_s), 2, this.tag)} s`),
      ];
    });
    return {
      value: JSON.stringify(Object.fromEntries(a.times.map((t) => [t.name, t.predicted?.time_s.value ?? null]))),
      nodes: [
        table(w.roadCaption, [w.measures, `>${w.time}`, `>${w.distance}`, `_${w.mostFrom}`], rows),
        this.fold(w.assumed, a.assumed.map((x) => this.say(x)), true),
        el("p", { class: "caution" }, w.roadCaution),
        this.fold(w.cautionHead, a.cautions.map((x) => this.say(x))),
      ],
    };
  }
}
