/** A finished job on the page: verdict, curves, repairs, report, downloads. */
import { el, kept, table, type Child } from "./dom.js";
import { downloads } from "./download.js";
import { fixed, interval } from "./numbers.js";
import type { PageWords as Words } from "./page-words.js";
import { fill, said, spoken } from "./words.js";
import type { Interval, ResultModel } from "../package/result.js";
import type { CurveChart, Point, Series } from "./chart.js";

export interface Reduced {
  json: string;
  result: ResultModel;
  html: string;
  csv: string;
  job: string;
}

export async function showResult(out: HTMLElement, r: Reduced, w: Words): Promise<void> {
  const { CurveChart } = await import("./chart.js");
  const m = r.result;
  const say = (text: string) => spoken(text, w);
  const unit = (text: string) => said(text, w).text;
  const pm = (i: Interval, unit: string): Child => {
    const x = interval(i.value, i.lo95, i.hi95, w.tag);
    return el("span", {}, el("b", {}, x.value), ` ${unit}`, x.half && el("span", { class: "pm" }, ` ± ${x.half}`));
  };
  const verdicts = m.comparisons.map((c) => {
    const i = interval(c.mean_gain_percent.value, c.mean_gain_percent.lo95, c.mean_gain_percent.hi95, w.tag);
    const sign = c.mean_gain_percent.value > 0 ? "+" : "";
    return el(
      "div",
      { class: "found" },
      el("p", { class: "word" }, { gain: w.gain, loss: w.lossWord, "no-detectable-change": w.noChange }[c.verdict]),
      el("p", { class: "big" }, `${sign}${i.value} %`, el("span", { class: "pm" }, ` ± ${i.half}`)),
      el("p", { class: "what" }, fill(w.meanGain, c.from, c.to, fixed(c.band_rpm[0], 0, w.tag), fixed(c.band_rpm[1], 0, w.tag))),
      c.cost && el("p", {}, say(c.cost)),
      el("p", { class: "what" }, fill(w.detectable, fixed(c.smallest_detectable_percent, 2, w.tag))),
    );
  });
  const states = m.states.map((s) => [
    s.name,
    pm(s.peak_power, "kW"),
    fixed(s.peak_power.engine_speed_rpm, 0, w.tag),
    pm(s.peak_torque, "N·m"),
    fixed(s.peak_torque.engine_speed_rpm, 0, w.tag),
    String(s.pulls.length),
  ]);
  const point = (x: number, i: Interval): Point => ({ x, ...i });
  const curve = (pick: (p: ResultModel["states"][number]["curve"][number]) => Interval): Series[] =>
    m.states.map((s) => ({ name: s.name, points: s.curve.map((p) => point(p.engine_speed_rpm, pick(p))) }));
  const charts: CurveChart[] = [
    new CurveChart(w.chartPower, "kW", curve((p) => p.crank_power_kw), w, false),
    new CurveChart(w.chartTorque, "N·m", curve((p) => p.crank_torque_nm), w, false),
    ...m.comparisons.map(
      (c) =>
        new CurveChart(
          `${w.chartGain}: ${c.from} → ${c.to}`,
          "%",
          [{ name: "", points: c.curve.map((p) => point(p.engine_speed_rpm, p.gain_percent)) }],
          w,
          true,
        ),
    ),
  ];
  const costs = m.comparisons.flatMap((c) =>
    [...c.channels, ...(c.stress ?? [])].filter((k) => k.detectable).map((k): Child[] => [
      say(k.name),
      `${fixed(k.from, 1, w.tag)} ${unit(k.unit)}`,
      `${fixed(k.to, 1, w.tag)} ${unit(k.unit)}`,
      pm(k.change, unit(k.unit)),
    ]),
  );
  const margins = m.states.flatMap((s) =>
    (s.margins ?? []).map((f): Child[] => [
      say(f.name),
      s.name,
      f.margin_on ? pm(f.margin_on, "") : "–",
      el("span", f.verdict === "knock-expected" ? { class: "out" } : {}, say(f.statement)),
    ]),
  );
  const stress = m.states.flatMap((s) =>
    (s.stress ?? []).map((f): Child[] => [say(f.name), s.name, pm(f.value, unit(f.unit)), f.remark ? say(f.remark) : ""]),
  );
  const repairs = m.states
    .flatMap((s) => s.pulls)
    .flatMap((p) => p.repairs.map((x): Child[] => [p.file, say(x.what), String(x.count), String(x.first_line)]));
  const report = el("iframe", { title: w.fullReport, sandbox: "allow-same-origin allow-modals", class: "report" });
  report.srcdoc = r.html;
  report.addEventListener("load", () => {
    const height = report.contentDocument?.documentElement.scrollHeight;
    if (height) report.style.height = `${height + 4}px`;
  });
  const printReport = () => report.contentWindow?.print();
  out.replaceChildren(
    ...kept([
      el("h3", { id: "result-head", tabindex: -1 }, w.verdictHead),
      m.note && el("p", { class: "note" }, m.note),
      ...verdicts,
      el("p", { class: "what" }, say(m.basis.statement)),
      table(w.peaks, [w.state, `>${w.peakPower}`, `>${w.atEngineSpeed}`, `>${w.peakTorque}`, `>${w.atEngineSpeed}`, `>${w.pulls}`], states),
      el("h3", {}, w.curves),
      el("p", { class: "hint" }, w.chartHelp),
      ...charts.map((c) => c.node),
      costs.length > 0 && table(w.costs, [w.channel, `>${w.fromState}`, `>${w.toState}`, `>${w.changeBy}`], costs),
      stress.length > 0 && table(w.stressCaption, [w.channel, w.state, `>${w.value}`, `_${w.remarks}`], stress),
      margins.length > 0 && table(w.marginsCaption, [w.fuel, w.state, `>${w.margin}`, `_${w.verdict}`], margins),
      margins.length > 0 && el("p", { class: "hint" }, w.knockCaution),
      el("h3", {}, w.repairs),
      repairs.length > 0 ? table(w.repairs, [w.file, w.repair, `>${w.count}`, `>${w.firstLine}`], repairs) : el("p", {}, w.repairsNone),
      m.notices.length > 0 && el("h3", {}, w.notices),
      m.notices.length > 0 && el("ul", {}, ...m.notices.map((n) => el("li", {}, say(n)))),
      el("h3", {}, w.downloads),
      downloads(
        [
          ["report.html", "text/html", r.html],
          ["result.json", "application/json", r.json],
          ["curves.csv", "text/csv", r.csv],
          ["job.toml", "application/toml", r.job],
        ],
        el("button", { type: "button", onClick: printReport }, w.print),
      ),
      el("h3", {}, w.cautionHead),
      el("ul", { class: "caution" }, ...m.cautions.map((c) => el("li", {}, say(c)))),
      el("details", { class: "report-fold" }, el("summary", {}, w.fullReport), report),
    ]),
  );
}
