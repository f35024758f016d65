/** The form of a road test: car and air, columns, direction of each log. It makes the question of the command line. */
import { el, kept, table, type Child } from "./dom.js";
import type { PageKey as WordKey, PageWords as Words } from "./page-words.js";
import { fill, said } from "./words.js";
import type { ColumnsAnswer } from "../package/result.js";
import type { CoastDownQuestion, LogColumns, RoadLogQuestion } from "../package/road-types.js";

export type RoadMode = "pull" | "coast";
export type Direction = "there" | "back" | "";

interface Line {
  /** Dotted key of the question. */
  key: string;
  label: WordKey;
  hint?: WordKey;
}

const LINES: Record<RoadMode, Line[]> = {
  pull: [
    { key: "car.mass", label: "mass", hint: "massHint" },
    { key: "measures", label: "measures", hint: "logMeasuresHint" },
    { key: "car.drag_area", label: "dragArea", hint: "dragAreaHint" },
    { key: "car.rolling", label: "rolling", hint: "rollingHint" },
    { key: "car.mass_factor", label: "massFactor", hint: "massFactorHint" },
    { key: "speed_scale", label: "speedScale", hint: "speedScaleHint" },
    { key: "car.slope", label: "slope", hint: "slopeHint" },
    { key: "car.headwind", label: "headwind", hint: "headwindHint" },
    { key: "car.air.pressure", label: "pressure", hint: "pressureHint" },
    { key: "car.air.temperature", label: "airTemperature", hint: "temperatureHint" },
    { key: "car.air.humidity", label: "humidity", hint: "humidityHint" },
  ],
  coast: [
    { key: "mean_mass", label: "meanMass", hint: "meanMassHint" },
    { key: "temperature", label: "airTemperature", hint: "temperatureHint" },
    { key: "pressure", label: "pressure", hint: "pressureHint" },
    { key: "rotating_mass", label: "rotatingMass", hint: "rotatingMassHint" },
    { key: "test_mass", label: "testMass", hint: "testMassHint" },
    { key: "wind", label: "wind", hint: "windHint" },
    { key: "half_width", label: "halfWidth", hint: "halfWidthHint" },
  ],
};

const ROLES = ["time", "speed", "height"] as const;
type Role = (typeof ROLES)[number];
const GUESSED: Record<string, Role> = { time: "time", road_speed: "speed", height: "height" };

export class RoadForm {
  #values = new Map<string, string>();
  #roles = new Map<string, Role | "">();
  #units = new Map<string, string>();
  #directions = new Map<string, Direction>();

  constructor(private readonly logs: () => ColumnsAnswer[]) {}

  /** Fills fields, for the demo. */
  set(values: Record<string, string>): void {
    for (const [key, value] of Object.entries(values)) this.#values.set(key, value);
  }

  show(root: HTMLElement, mode: RoadMode, w: Words): void {
    const logs = this.logs();
    root.replaceChildren(
      ...kept([
        el("div", { class: "fields" }, ...LINES[mode].map((l) => this.#field(l, w))),
        logs[0] && this.#columns(logs[0], w),
        logs.length > 0 && table(w.roadLogs, [w.file, w.direction], logs.map((l) => [l.file, this.#pick(l.file, w)])),
      ]),
    );
  }

  #field(l: Line, w: Words): HTMLElement {
    const id = idOf(l.key);
    const onInput = (e: Event) => {
      const input = e.target as HTMLInputElement;
      this.#values.set(l.key, input.value);
      input.removeAttribute("aria-invalid");
      document.getElementById(`${id}-e`)?.replaceChildren();
    };
    const input = el("input", { id, type: "text", autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}-h ${id}-e`, onInput });
    input.value = this.#values.get(l.key) ?? "";
    return el(
      "div",
      { class: "field" },
      el("label", { for: id }, w[l.label]),
      input,
      el("p", { class: "hint", id: `${id}-h` }, l.hint ? w[l.hint] : ""),
      el("p", { class: "fault", id: `${id}-e` }),
    );
  }

  #columns(log: ColumnsAnswer, w: Words): HTMLElement {
    const words: Record<Role, string> = { time: w.time_column, speed: w.speed_column, height: w.height_column };
    const rows = log.columns.map((c): Child[] => {
      const unit = el("input", {
        type: "text",
        class: "unit",
        autocomplete: "off",
        "aria-label": fill(w.unitOf, c.name),
        onInput: (e) => this.#units.set(c.name, (e.target as HTMLInputElement).value),
      });
      unit.value = this.#units.get(c.name) ?? "";
      const pick = el(
        "select",
        {
          "aria-label": `${w.role}: ${c.name}`,
          onInput: (e) => {
            this.#roles.set(c.name, (e.target as HTMLSelectElement).value as Role | "");
            unit.hidden = !this.#role(c) || Boolean(c.unit);
          },
        },
        el("option", { value: "" }, w.ignored),
        ...ROLES.map((r) => el("option", { value: r }, words[r])),
      );
      pick.value = this.#role(c);
      unit.hidden = !this.#role(c) || Boolean(c.unit);
      return [c.name, el("span", {}, pick, " ", unit), said(c.confidence, w).text, c.samples.slice(0, 3).join("  ")];
    });
    return table(fill(w.columnsOf, log.file), [w.column, w.role, w.confidence, w.samples], rows);
  }

  #role(c: ColumnsAnswer["columns"][number]): Role | "" {
    return this.#roles.get(c.name) ?? GUESSED[c.role ?? ""] ?? "";
  }

  #pick(file: string, w: Words): HTMLElement {
    const set = (e: Event) => this.#directions.set(file, (e.target as HTMLSelectElement).value as Direction);
    const options: [Direction, string][] = [["there", w.there], ["back", w.back], ["", w.unused]];
    const pick = el("select", { "aria-label": fill(w.directionOf, file), onInput: set }, ...options.map(([v, t]) => el("option", { value: v }, t)));
    pick.value = this.#direction(file);
    return pick;
  }

  #direction(file: string): Direction {
    return this.#directions.get(file) ?? directionOf(file);
  }

  /** Files of a direction, in their order. */
  files(direction: Direction): string[] {
    return this.logs().map((l) => l.file).filter((f) => this.#direction(f) === direction);
  }

  /** The question as the command line reads it with `--question`. */
  question(mode: RoadMode): RoadLogQuestion | CoastDownQuestion {
    const q: Record<string, unknown> = mode === "pull" ? { car: {} } : {};
    for (const { key } of LINES[mode]) {
      const text = (this.#values.get(key) ?? "").trim();
      if (text === "") continue;
      const value = key === "measures" ? text.split(/[;,](?!\d)/).map((m) => m.trim()).filter((m) => m !== "") : text;
      put(q, key.split("."), value);
    }
    const columns: LogColumns = {};
    for (const c of this.logs()[0]?.columns ?? []) {
      const role = this.#role(c);
      if (!role || columns[role]) continue;
      columns[role] = c.name;
      const unit = (this.#units.get(c.name) ?? "").trim();
      if (unit && !c.unit) columns[`${role}_unit`] = unit;
    }
    return { ...q, columns } as unknown as RoadLogQuestion | CoastDownQuestion;
  }

  /** Marks the field that a fault is about; false when none is. */
  fault(field: string, text: string): boolean {
    // the air names its fields without saying whose they are
    const input = [field, `car.air.${field}`, `car.${field}`].map((f) => document.getElementById(idOf(f))).find((i) => i);
    if (!input) return false;
    input.setAttribute("aria-invalid", "true");
    document.getElementById(`${input.id}-e`)?.replaceChildren(text);
    input.focus();
    return true;
  }
}

const idOf = (key: string) => `road-${key.replace(/[^a-z]/g, "-")}`;

/** `pull-south.csv` beside `pull-north.csv` most likely runs the other way. */
function directionOf(file: string): Direction {
  return /(back|return|south|west|zur|rueck|rück|sued|süd|[-_ ]b\d*\.)/i.test(file) ? "back" : "there";
}

function put(into: Record<string, unknown>, path: string[], value: unknown): void {
  const [head = "", ...rest] = path;
  if (rest.length === 0) into[head] = value;
  else put((into[head] ??= {}) as Record<string, unknown>, rest, value);
}
