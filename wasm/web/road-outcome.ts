/** A finished road test on the page: figures, curve, what was assumed, cautions, downloads. */
import { CurveChart, type Point } from "./chart.js";
import { el, kept, table, type Child } from "./dom.js";
import { downloads } from "./download.js";
import { digits, fixed, interval } from "./numbers.js";
import type { PageWords as Words } from "./page-words.js";
import { fill, spoken } from "./words.js";
import type { Interval } from "../package/result.js";
import type { CoastDownAnswer, CoastDownQuestion, RoadLog, RoadLogAnswer, RoadLogQuestion, RoadPower } from "../package/road-types.js";

export type RoadDone =
  | { kind: "pull"; answer: RoadLogAnswer; question: RoadLogQuestion }
  | { kind: "coast"; answer: CoastDownAnswer; question: CoastDownQuestion };

export function showRoad(out: HTMLElement, done: RoadDone, w: Words): void {
  const body = done.kind === "pull" ? pull(done.answer, w) : coast(done.answer, w);
  const notices = done.kind === "pull" ? done.answer.logs.flatMap((l) => l.notices.map((n) => `${l.file}: ${n}`)) : done.answer.notices;
  const list = (items: string[], cls = "") => el("ul", cls ? { class: cls } : {}, ...items.map((x) => el("li", {}, say(x, w))));
  out.replaceChildren(
    ...kept([
      el("h3", { id: "result-head", tabindex: -1 }, done.kind === "pull" ? w.chartWheel : w.roadLoad),
      ...body,
      notices.length > 0 && el("h3", {}, w.notices),
      notices.length > 0 && list(notices),
      el("h3", {}, w.assumed),
      list(done.answer.assumed),
      el("h3", {}, w.downloads),
      downloads([
        ["result.json", "application/json", JSON.stringify(done.answer, null, 2)],
        ["question.json", "application/json", JSON.stringify(done.question, null, 2)],
      ]),
      el("h3", {}, w.cautionHead),
      list(done.answer.cautions, "caution"),
    ]),
  );
}

/** A sentence, its file before it left as it is. */
function say(text: string, w: Words): HTMLElement {
  const [, file = "", rest = text] = /^([^:\s]+\.\w+: )(.*)$/s.exec(text) ?? [];
  return el("span", {}, file, spoken(rest, w));
}

function half(i: Interval, w: Words): [string, string] {
  const x = interval(i.value, i.lo95, i.hi95, w.tag);
  return [x.value, x.half && ` ± ${x.half}`];
}

function pm(i: Interval, unit: string, w: Words): Child {
  const [value, doubt] = half(i, w);
  return el("span", {}, el("b", {}, value), unit && ` ${unit}`, doubt && el("span", { class: "pm" }, doubt));
}

const points = (power: RoadPower[]): Point[] => power.map((p) => ({ x: p.speed_kmh, ...p.wheel_power_kw }));

function pull(a: RoadLogAnswer, w: Words): Child[] {
  const both = a.both_directions;
  const times = (title: string, rows: [string, Interval, number | undefined][]) => {
    const way = rows.some((r) => r[2] !== undefined);
    const heads = [w.timed, `>${w.time}`, ...(way ? [`>${w.distance}`] : [])];
    return rows.length > 0 && table(title, heads, rows.map(([n, t, d]) => [say(n, w), pm(t, "s", w), ...(d === undefined ? [] : [`${fixed(d, 0, w.tag)} m`])]));
  };
  const series = [
    ...(both ? [{ name: w.bothDirections, points: points(both.power) }] : []),
    ...a.logs.map((l, k) => ({ name: both ? (k === 0 ? w.there : w.back) : l.file, points: points(l.power) })),
  ];
  return [
    both && times(w.timesBoth, both.times.map(([n, t]) => [n, t, undefined])),
    new CurveChart(w.chartWheel, "kW", series, w, false, { name: w.roadAxis, unit: "km/h" }).node,
    el("p", { class: "hint" }, w.chartHelp),
    ...a.logs.flatMap((l) => [
      el("h3", {}, l.file),
      el("p", {}, ...kept(facts(l, w).flatMap((s, k) => (k ? [" ", s] : [s])))),
      times(fill(w.timesOf, l.file), l.times.map((t) => [t.name, t.time_s, t.distance_m])),
    ]),
    a.rig && el("p", {}, say(a.rig.finding, w)),
  ];
}

function facts(l: RoadLog, w: Words): string[] {
  const out = [fill(w.pullFound, fixed(l.pull_s[0], 1, w.tag), fixed(l.pull_s[1], 1, w.tag), fixed(l.rate_hz, 0, w.tag), fixed(l.noise_kmh, 2, w.tag), l.shifts.length)];
  if (l.peak) {
    out.push(fill(w.roadPeak, l.file, ...half(l.peak.at.wheel_power_kw, w), fixed(l.peak.at.speed_kmh, 0, w.tag)));
    if (!l.peak.interior) out.push(w.roadPeakEdge);
  }
  if (l.slope) out.push(fill(w.roadSlope, ...half(l.slope.slope_percent, w)));
  return out;
}

function coast(a: CoastDownAnswer, w: Words): Child[] {
  const f = (name: string, [f0, f1, f2]: [number, number, number]): Child[] => [name, digits(f0, 4, w.tag), digits(f1, 4, w.tag), digits(f2, 4, w.tag)];
  const rows = a.points.map((p): Child[] => [
    digits(p.speed_kmh, 4, w.tag),
    fixed(p.time_s, 2, w.tag),
    fixed(100 * p.precision, 2, w.tag),
    pm(p.force_n, "", w),
    fixed(p.residual_n, 2, w.tag),
    p.precise ? "" : el("span", { class: "out" }, w.outsideCriterion),
  ]);
  const series = [{ name: "", points: a.points.map((p) => ({ x: p.speed_kmh, ...p.force_n })) }];
  return [
    table(w.roadLoadForm, [w.condition, ">f0, N", ">f1, N/(km/h)", ">f2, N/(km/h)²"], [f(w.asMeasured, a.measured_kmh), f(w.atReference, a.corrected_kmh)]),
    el("p", {}, fill(w.roadDragArea, digits(a.drag_area_m2, 3, w.tag))),
    new CurveChart(w.chartForce, "N", series, w, false, { name: w.roadAxis, unit: "km/h" }).node,
    el("p", { class: "hint" }, w.chartHelp),
    table(w.coastPoints, [`>${w.speed}`, `>${w.time}, s`, `>${w.precision}`, `>${w.force}`, `>${w.residual}`, w.remarks], rows),
  ];
}
