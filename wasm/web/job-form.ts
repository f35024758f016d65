/** The form that writes a job file: car, rig, columns, states with their air. */
import { el, kept, table, type Child } from "./dom.js";
import { jobText, needsReference, type JobForm } from "./job-text.js";
import { calculator } from "./module.js";
import type { PageKey as WordKey, PageWords as Words } from "./page-words.js";
import { fill, said } from "./words.js";
import type { ColumnEntry, ColumnsAnswer } from "../package/result.js";

type Option = [string, string];

interface Line {
  part: "vehicle" | "rig";
  key: string;
  label: WordKey;
  hint?: WordKey;
  options?: (w: Words) => Option[];
  initial?: string;
}

const LINES: Line[] = [
  { part: "vehicle", key: "name", label: "vehicleName" },
  { part: "vehicle", key: "ignition", label: "ignition", initial: "spark", options: (w) => [["spark", w.spark], ["compression", w.compression]] },
  { part: "vehicle", key: "charging", label: "charging", initial: "none", options: (w) => [["none", w.naturally], ["supercharged", w.supercharged], ["turbocharged", w.turbocharged]] },
  { part: "vehicle", key: "displacement", label: "displacement", hint: "displacementHint" },
  { part: "vehicle", key: "cylinders", label: "cylinders" },
  { part: "vehicle", key: "driven_wheels", label: "drivenWheels", initial: "2" },
  { part: "vehicle", key: "tyre_radius", label: "tyreRadius", hint: "tyreRadiusHint" },
  { part: "vehicle", key: "ratio", label: "gearRatio", hint: "gearRatioHint" },
  { part: "vehicle", key: "engine_inertia", label: "engineInertia", hint: "engineInertiaHint" },
  { part: "vehicle", key: "wheel_inertia", label: "wheelInertia", hint: "wheelInertiaHint" },
  { part: "rig", key: "kind", label: "rigKind", initial: "inertia-roller", options: (w) => [["inertia-roller", w.inertiaRoller], ["braked-roller", w.brakedRoller], ["hub", w.hubRig]] },
  { part: "rig", key: "roller_inertia", label: "rollerInertia", hint: "rollerInertiaHint" },
  { part: "rig", key: "roller_radius", label: "rollerRadius", hint: "rollerRadiusHint" },
];

const AIR: [string, WordKey, WordKey][] = [
  ["pressure", "pressure", "pressureHint"],
  ["temperature", "temperature", "temperatureHint"],
  ["humidity", "humidity", "humidityHint"],
];

/** Roles a person may choose; the guess brings any other. */
const ROLES = [
  "time",
  "roller_speed",
  "road_speed",
  "engine_speed",
  "force",
  "intake_temperature",
  "charge_temperature",
  "manifold_pressure",
  "pre_turbine_pressure",
  "exhaust_temperature",
  "coolant_temperature",
  "oil_temperature",
  "lambda",
  "spark_advance",
];

export class JobFormView {
  #values = new Map<string, string>();
  #roles = new Map<string, string>();
  #dynamic = el("div");
  #references = new Map<string, string>();
  #standards: Option[] = [["iso-1585", "ISO 1585"]];
  #losses: Option[] = [];

  constructor(private readonly logs: () => ColumnsAnswer[]) {}

  /** Puts the form into the page; the standards come from the catalogue. */
  mount(root: HTMLElement, w: Words): void {
    root.replaceChildren(el("div", { id: "form-fixed" }), this.#dynamic);
    this.show(w);
    void calculator().then((c) => {
      const family = (name: string) => c.catalogue().filter((e) => e.family === name).map((e): Option => [e.id, e.title]);
      [this.#standards, this.#losses] = [family("standard"), family("loss")];
      this.show(w);
    });
  }

  #field(id: string, label: string, hint = "", options?: Option[], initial = ""): HTMLElement {
    const value = this.#values.get(id) ?? initial;
    this.#values.set(id, value);
    const key = `form-${id.replace(/[^a-z0-9]/gi, "-")}`;
    const onInput = (e: Event) => {
      this.#values.set(id, (e.target as HTMLInputElement).value);
      if (id.startsWith("state/")) this.#showAir();
    };
    const told = { id: key, "aria-describedby": `${key}-h`, onInput };
    const input = options
      ? el("select", told, ...options.map(([v, t]) => el("option", { value: v }, t)))
      : el("input", { ...told, type: "text", autocomplete: "off", spellcheck: "false" });
    input.value = value;
    return el("div", { class: "field" }, el("label", { for: key }, label), input, el("p", { class: "hint", id: `${key}-h` }, hint));
  }

  #w!: Words;
  #airs = el("div");

  show(w: Words): void {
    this.#w = w;
    const fixedPart = document.getElementById("form-fixed");
    fixedPart?.replaceChildren(
      el(
        "div",
        { class: "fields" },
        this.#field("title", w.title),
        ...LINES.map((l) => this.#field(`${l.part}/${l.key}`, w[l.label], l.hint ? w[l.hint] : "", l.options?.(w), l.initial)),
        this.#field("loss", w.jobLoss, "", [["", w.jobLossNone], ...this.#losses.map(([id, title]): Option => [id, said(title, w).text])]),
        this.#field("standard", w.basisStandard, "", this.#standards, "iso-1585"),
      ),
    );
    const logs = this.logs();
    const first = logs[0];
    this.#dynamic.replaceChildren(
      ...kept([
        first && this.#columns(first),
        logs.length > 0 &&
          el(
            "fieldset",
            {},
            el("legend", {}, w.stateOf),
            el("p", { class: "hint" }, w.stateHint),
            el("div", { class: "fields" }, ...logs.flatMap((l) => [
              this.#field(`state/${l.file}`, fill(w.stateName, l.file), "", undefined, stateOf(l.file)),
              this.#field(`start/${l.file}`, fill(w.startOf, l.file), w.startHint),
            ])),
          ),
        this.#airs,
      ]),
    );
    this.#showAir();
  }

  #columns(log: ColumnsAnswer): HTMLElement {
    const w = this.#w;
    const row = (c: ColumnEntry): Child[] => {
      const now = this.#role(c);
      const counted = this.#reference(c);
      const roles = [...new Set([...ROLES, ...(c.role ? [c.role] : [])])];
      const pick = el(
        "select",
        {
          "aria-label": `${w.role}: ${c.name}`,
          onInput: (e) => {
            this.#roles.set(c.name, (e.target as HTMLSelectElement).value);
            counted.hidden = !needsReference(this.#role(c), c.unit);
          },
        },
        el("option", { value: "" }, w.ignored),
        ...roles.map((r) => el("option", { value: r }, said(r.replaceAll("_", " "), w).text)),
      );
      pick.value = now;
      return [`${c.name}${c.unit ? `, ${c.unit}` : ""}`, el("span", {}, pick, " ", counted), said(c.confidence, w).text, c.samples.slice(0, 3).join("  ")];
    };
    const title = fill(w.columnsOf, log.file);
    return table(title, [w.column, w.role, w.confidence, w.samples], log.columns.map(row));
  }

  /** What a column is taken as. */
  #role(c: ColumnEntry): string {
    return this.#roles.get(c.name) ?? c.role ?? "";
  }

  /** The choice between absolute and gauge, shown for a pressure whose unit does not say it. */
  #reference(c: ColumnEntry): HTMLSelectElement {
    const w = this.#w;
    const pick = el(
      "select",
      {
        "aria-label": `${w.pressureKind}: ${c.name}`,
        hidden: !needsReference(this.#role(c), c.unit),
        onInput: (e) => this.#references.set(c.name, (e.target as HTMLSelectElement).value),
      },
      el("option", { value: "" }, w.pressureUnsaid),
      el("option", { value: "absolute" }, w.absolute),
      el("option", { value: "gauge" }, w.gauge),
    );
    pick.value = this.#references.get(c.name) ?? "";
    return pick;
  }

  #states(): string[] {
    return [...new Set(this.logs().map((l) => (this.#values.get(`state/${l.file}`) ?? "").trim() || "1"))];
  }

  #showAir(): void {
    const w = this.#w;
    this.#airs.replaceChildren(
      ...this.#states().map((s) =>
        el(
          "fieldset",
          {},
          el("legend", {}, fill(w.airOfState, s)),
          el("div", { class: "fields" }, ...AIR.map(([key, label, hint]) => this.#field(`air/${s}/${key}`, w[label], w[hint]))),
        ),
      ),
    );
  }

  /** The job file of what stands in the form. */
  text(): string {
    const get = (id: string) => this.#values.get(id) ?? "";
    const part = (name: string) =>
      Object.fromEntries(LINES.filter((l) => l.part === name).map((l) => [l.key, get(`${name}/${l.key}`)]));
    const logs = this.logs();
    const vehicle: Record<string, string> = part("vehicle");
    const rig: Record<string, string> = part("rig");
    const job: JobForm = {
      title: get("title"),
      vehicle,
      rig,
      loss: get("loss"),
      standard: get("standard") || "iso-1585",
      columns: (logs[0]?.columns ?? []).map((entry) => ({
        entry,
        role: this.#role(entry),
        reference: this.#references.get(entry.name) ?? "",
      })),
      states: this.#states().map((name) => ({
        name,
        air: Object.fromEntries(AIR.map(([key]) => [key, get(`air/${name}/${key}`)])),
        logs: logs
          .filter((l) => (get(`state/${l.file}`).trim() || "1") === name)
          .map(({ file }) => ({ file, start: get(`start/${file}`) })),
      })),
    };
    return jobText(job);
  }
}

/** `before-2.csv` is most likely a repeat of `before`. */
function stateOf(file: string): string {
  return file.replace(/\.[a-z0-9]+$/i, "").replace(/[-_ ]*\d+$/, "") || "1";
}
