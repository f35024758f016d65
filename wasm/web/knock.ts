import { Card, given, plainNumber, type Field, type Values } from "./card.js";
import { advice } from "./module.js";
import { el, table, type Child } from "./dom.js";
import { fixed } from "./numbers.js";
import type { Advice } from "../package/advice.js";
import type { ChangesQuestion, FuelMargin, KnockQuestion } from "../package/advice-types.js";
import { fill, type WordKey, type Words } from "./words.js";

const CHANGES: [string, WordKey, WordKey][] = [
  ["spark_advance", "changeSpark", "changeSparkHint"],
  ["intake_temperature", "changeTemperature", "changeTemperatureHint"],
  ["intake_pressure", "changePressure", "changePressureHint"],
  ["compression_ratio", "changeRatio", "changeRatioHint"],
  ["exhaust_pressure", "changeExhaust", "changeExhaustHint"],
];

export class Knock extends Card {
  protected override module(): Promise<Advice> {
    return advice();
  }

  head(w: Words): [string, string] {
    return [w.knockTitle, w.knockLead];
  }

  fields(): Field[] {
    return [
      { name: "requirement", label: "requirement", hint: "requirementHint", initial: "96 ± 2" },
      { name: "k", label: "k", hint: "kHint", initial: "boosted-direct" },
      { name: "fuels", label: "fuels", hint: "fuelsHint", initial: "en-228-95, RON 98 MON 88", wide: true },
      ...CHANGES.map(([name, label, hint]): Field => ({ name: `changes.${name}`, label, hint, group: "changesGroup" })),
    ];
  }

  show(v: Values): { value: string; nodes: Child[] } {
    const w = this.words;
    const q: KnockQuestion = {
      ...given(v, ["requirement", "k"]),
      fuels: (v.fuels ?? "").split(/[;,](?!\d)/).map((f) => f.trim()).filter((f) => f !== ""),
    };
    const changes: Record<string, string | number> = {};
    for (const [name] of CHANGES) {
      const text = v[`changes.${name}`]?.trim();
      if (text) changes[name] = name === "compression_ratio" ? plainNumber(`changes.${name}`, text, w) : text;
    }
    if (Object.keys(changes).length > 0) q.changes = changes as ChangesQuestion;
    const a = (this.calc as Advice).knock(q);
    const rows = a.fuels.map((f) => [
      f.name === f.fuel ? f.fuel : el("span", {}, f.fuel, el("br"), el("span", { class: "small" }, this.say(f.name))),
      f.margin_on ? fill(w.marginOf, fixed(f.margin_on.value, 1, this.tag), fixed(1.96 * f.margin_on.uncertainty, 1, this.tag)) : "–",
      f.spark_deg === null ? "–" : fixed(f.spark_deg, 1, this.tag),
      this.#verdict(f),
    ]);
    const notices = [...new Set(a.fuels.flatMap((f) => [...f.assumed, ...f.notices]))];
    return {
      value: JSON.stringify(Object.fromEntries(a.fuels.map((f) => [f.fuel, f.verdict]))),
      nodes: [
        table(w.knockCaption, [w.fuel, `>${w.margin}`, `>${w.sparkLeft}`, `_${w.verdict}`], rows),
        el("p", { class: "caution" }, w.knockCaution),
        el(
          "details",
          {},
          el("summary", {}, w.model),
          el("p", {}, this.say(a.title)),
          el("p", { class: "small" }, `${w.leavesOut}: `, this.say(a.leaves_out)),
        ),
        this.fold(w.notices, notices.map((n) => this.say(n))),
      ],
    };
  }

  #verdict(f: FuelMargin): Child {
    if (f.refused) return el("span", { class: "out" }, this.say(f.refused));
    const text = f.verdict ? this.words[f.verdict] : "";
    return f.verdict === "knock-expected" ? el("span", { class: "out" }, text) : text;
  }
}
