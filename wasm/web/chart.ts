/** Curves with intervals as SVG: move, zoom, read out; by mouse, finger or keyboard. */
import { el } from "./dom.js";
import { digits, interval } from "./numbers.js";
import type { PageWords as Words } from "./page-words.js";
import { fill } from "./words.js";

export interface Point {
  x: number;
  value: number;
  lo95: number;
  hi95: number;
}

/** What a curve runs over: name of the axis, and the unit as it is read out. */
export interface Axis {
  name: string;
  unit: string;
}

export interface Series {
  name: string;
  points: Point[];
}

const NS = "http://www.w3.org/2000/svg";
const DASH = ["", "10 4", "2 4", "12 4 2 4", "5 3", "16 6"];
const PAD = { left: 58, right: 26, top: 14, bottom: 40 };
const HEIGHT = 380;

function svg(name: string, props: Record<string, string | number> = {}, text?: string): SVGElement {
  const node = document.createElementNS(NS, name);
  for (const [k, v] of Object.entries(props)) node.setAttribute(k, String(v));
  if (text !== undefined) node.textContent = text;
  return node;
}

/** Round steps that give about so many ticks. */
export function ticks(low: number, high: number, about: number): number[] {
  const raw = (high - low) / Math.max(about, 1);
  if (!(raw > 0) || !Number.isFinite(raw)) return [];
  const ten = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * ten).find((s) => s >= raw) ?? 10 * ten;
  const out: number[] = [];
  for (let k = Math.ceil(low / step); k * step <= high + 1e-9 * step; k++) out.push(k * step + 0);
  return out;
}

export class CurveChart {
  readonly node: HTMLElement;
  readonly #svg = svg("svg", { class: "curve-chart", role: "img" });
  readonly #out = el("p", { class: "read-out", role: "status" });
  #width = 800;
  #whole: [number, number];
  #view: [number, number];
  #cursor: number | undefined;
  #drag: { x: number; view: [number, number] } | undefined;

  constructor(
    private readonly title: string,
    private readonly unit: string,
    private readonly series: Series[],
    private readonly words: Words,
    private readonly withZero: boolean,
    private readonly axis: Axis = { name: words.speedAxis, unit: "1/min" },
  ) {
    const xs = series.flatMap((s) => s.points.map((p) => p.x));
    this.#whole = [Math.min(...xs), Math.max(...xs)];
    this.#view = [...this.#whole];
    const stage = el("div", {
      class: "stage",
      tabindex: 0,
      role: "group",
      "aria-label": `${title}, ${unit}. ${words.chartHelp}`,
      onKeydown: (e) => this.#key(e as KeyboardEvent),
      onPointerdown: (e) => this.#down(e as PointerEvent),
      onPointermove: (e) => this.#move(e as PointerEvent),
      onPointerup: () => (this.#drag = undefined),
      onPointerleave: () => this.#leave(),
    });
    stage.addEventListener("wheel", (e) => this.#wheel(e), { passive: false });
    stage.append(this.#svg);
    const button = (text: string, label: string, work: () => void) =>
      el("button", { type: "button", "aria-label": `${label}: ${title}`, onClick: work }, text);
    this.node = el(
      "figure",
      { class: "chart" },
      el("figcaption", {}, `${title}, ${unit}`),
      stage,
      el(
        "div",
        { class: "chart-tools" },
        button("+", words.chartZoomIn, () => this.#zoom(0.5)),
        button("−", words.chartZoomOut, () => this.#zoom(2)),
        button("↔", words.chartWhole, () => this.#set([...this.#whole])),
        this.#out,
      ),
    );
    new ResizeObserver(() => {
      const w = Math.round(stage.clientWidth);
      if (w > 0 && w !== this.#width) {
        this.#width = w;
        this.#draw();
      }
    }).observe(stage);
    this.#draw();
  }

  #px(x: number): number {
    const [a, b] = this.#view;
    return PAD.left + ((x - a) / (b - a)) * (this.#width - PAD.left - PAD.right);
  }

  #xAt(px: number): number {
    const [a, b] = this.#view;
    return a + ((px - PAD.left) / (this.#width - PAD.left - PAD.right)) * (b - a);
  }

  #set(view: [number, number]): void {
    const [low, high] = this.#whole;
    const span = Math.min(Math.max(view[1] - view[0], (high - low) / 50), high - low);
    const start = Math.min(Math.max(view[0], low), high - span);
    this.#view = [start, start + span];
    this.#draw();
  }

  #zoom(by: number, at = this.#cursor ?? (this.#view[0] + this.#view[1]) / 2): void {
    const [a, b] = this.#view;
    this.#set([at - (at - a) * by, at + (b - at) * by]);
  }

  #key(e: KeyboardEvent): void {
    const step = this.#step();
    const now = this.#cursor ?? this.#view[0];
    const work: Record<string, () => void> = {
      ArrowLeft: () => this.#read(now - step),
      ArrowRight: () => this.#read(this.#cursor === undefined ? now : now + step),
      Home: () => this.#read(this.#whole[0]),
      End: () => this.#read(this.#whole[1]),
      "+": () => this.#zoom(0.5),
      "-": () => this.#zoom(2),
      "0": () => this.#set([...this.#whole]),
      Escape: () => this.#leave(),
    };
    const known = work[e.key];
    if (!known || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    known();
  }

  #step(): number {
    const p = this.series[0]?.points ?? [];
    return p.length > 1 ? (p[1] as Point).x - (p[0] as Point).x : 1;
  }

  #wheel(e: WheelEvent): void {
    if (document.activeElement !== e.currentTarget && !e.ctrlKey) return; // the page scrolls until the chart is chosen
    e.preventDefault();
    this.#zoom(e.deltaY > 0 ? 1.25 : 0.8, this.#xAt(e.offsetX));
  }

  #down(e: PointerEvent): void {
    this.#drag = { x: e.clientX, view: [...this.#view] };
  }

  #move(e: PointerEvent): void {
    if (this.#drag && e.buttons) {
      const span = this.#drag.view[1] - this.#drag.view[0];
      const by = ((this.#drag.x - e.clientX) / (this.#width - PAD.left - PAD.right)) * span;
      this.#set([this.#drag.view[0] + by, this.#drag.view[1] + by]);
    }
    const box = this.#svg.getBoundingClientRect();
    this.#read(this.#xAt(e.clientX - box.left));
  }

  #leave(): void {
    this.#drag = undefined;
    this.#cursor = undefined;
    this.#out.textContent = "";
    this.#draw();
  }

  #near(s: Series, x: number): Point | undefined {
    let best: Point | undefined;
    for (const p of s.points) if (!best || Math.abs(p.x - x) < Math.abs(best.x - x)) best = p;
    return best && Math.abs(best.x - x) <= this.#step() ? best : undefined;
  }

  #read(x: number): void {
    const [low, high] = this.#whole;
    const at = Math.min(Math.max(x, low), high);
    const all = this.series.map((s) => this.#near(s, at));
    const found = all.find((p) => p);
    if (!found) return;
    this.#cursor = found.x;
    const [a, b] = this.#view;
    if (found.x < a || found.x > b) this.#set([found.x - (b - a) / 2, found.x + (b - a) / 2]);
    const lang = this.words.tag;
    const parts = this.series.map((s, k) => {
      const p = all[k];
      if (!p) return "";
      const i = interval(p.value, p.lo95, p.hi95, lang);
      return fill(this.words.readOne, s.name, i.value, this.unit, i.low, i.high).trim();
    });
    this.#out.textContent = fill(this.words.readOut, digits(found.x, 5, lang), this.axis.unit, parts.filter((p) => p).join("; "));
    this.#draw();
  }

  #draw(): void {
    const [a, b] = this.#view;
    const inside = this.series.map((s) => {
      const first = s.points.findIndex((p) => p.x >= a);
      const last = s.points.findLastIndex((p) => p.x <= b);
      return first < 0 || last < 0 ? [] : s.points.slice(Math.max(0, first - 1), last + 2);
    });
    const ys = inside.flat().flatMap((p) => [p.lo95, p.hi95]);
    let low = Math.min(...ys);
    let high = Math.max(...ys);
    if (this.withZero) [low, high] = [Math.min(low, 0), Math.max(high, 0)];
    const margin = (high - low || 1) * 0.06;
    [low, high] = [low - margin, high + margin];
    const bottom = HEIGHT - PAD.bottom;
    const py = (y: number) => bottom - ((y - low) / (high - low)) * (bottom - PAD.top);
    const right = this.#width - PAD.right;
    const lang = this.words.tag;
    const nodes: SVGElement[] = [svg("title", {}, `${this.title}, ${this.unit}`)];
    for (const y of ticks(low, high, 6)) {
      nodes.push(svg("line", { class: y === 0 && this.withZero ? "rule" : "grid", x1: PAD.left, x2: right, y1: py(y), y2: py(y) }));
      nodes.push(svg("text", { class: "dim", x: PAD.left - 8, y: py(y) + 4, "text-anchor": "end" }, digits(y, 6, lang)));
    }
    for (const x of ticks(a, b, this.#width < 500 ? 4 : 9)) {
      nodes.push(svg("line", { class: "tick", x1: this.#px(x), x2: this.#px(x), y1: bottom, y2: bottom + 5 }));
      nodes.push(svg("text", { class: "dim", x: this.#px(x), y: bottom + 20, "text-anchor": "middle" }, digits(x, 6, lang)));
    }
    nodes.push(svg("line", { class: "axis", x1: PAD.left, x2: right, y1: bottom, y2: bottom }));
    nodes.push(svg("text", { class: "dim", x: right, y: HEIGHT - 4, "text-anchor": "end" }, this.axis.name));
    const clip = svg("svg", { x: PAD.left, y: 0, width: right - PAD.left, height: bottom, viewBox: `${PAD.left} 0 ${right - PAD.left} ${bottom}`, overflow: "hidden" });
    inside.forEach((points, k) => {
      if (points.length === 0) return;
      const c = k % 6;
      const up = points.map((p) => `${this.#px(p.x).toFixed(1)},${py(p.hi95).toFixed(1)}`);
      const down = points.map((p) => `${this.#px(p.x).toFixed(1)},${py(p.lo95).toFixed(1)}`).reverse();
      clip.append(svg("polygon", { class: `f${c}`, points: [...up, ...down].join(" ") }));
    });
    inside.forEach((points, k) => {
      const c = k % 6;
      const line = points.map((p) => `${this.#px(p.x).toFixed(1)},${py(p.value).toFixed(1)}`).join(" ");
      clip.append(svg("polyline", { class: `c${c}`, points: line, "stroke-dasharray": DASH[c] ?? "" }));
    });
    nodes.push(clip);
    let lastY = -99;
    const ends = inside
      .map((points, k) => ({ k, name: this.series[k]?.name ?? "", p: points.at(Math.floor(points.length * 0.6)) }))
      .filter((e) => e.p && e.name)
      .sort((m, n) => py((m.p as Point).value) - py((n.p as Point).value));
    for (const e of ends) {
      const p = e.p as Point;
      const y = Math.max(py(p.value) - 10, lastY + 16);
      lastY = y;
      nodes.push(svg("text", { class: `name t${e.k % 6}`, x: Math.min(this.#px(p.x), right - 60), y, "text-anchor": "middle" }, e.name));
    }
    if (this.#cursor !== undefined && this.#cursor >= a && this.#cursor <= b) {
      const x = this.#px(this.#cursor);
      nodes.push(svg("line", { class: "cursor", x1: x, x2: x, y1: PAD.top, y2: bottom }));
      this.series.forEach((s, k) => {
        const p = this.#near(s, this.#cursor as number);
        if (p) nodes.push(svg("circle", { class: `t${k % 6}`, cx: x, cy: py(p.value), r: 4 }));
      });
    }
    this.#svg.setAttribute("viewBox", `0 0 ${this.#width} ${HEIGHT}`);
    this.#svg.setAttribute("width", String(this.#width));
    this.#svg.setAttribute("height", String(HEIGHT));
    this.#svg.replaceChildren(...nodes);
  }
}
