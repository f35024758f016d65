// The package in Node: every function, errors, and that the types say what the functions answer.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { FairpullError, load as loadCalculator } from "fairpull";
import { load as loadAdvice } from "fairpull/advice";
import { load as loadWorkshop } from "fairpull/workshop";

const demo = fileURLToPath(new URL("../../fixtures/demo/", import.meta.url));
const AIR = { pressure: "985hPa", temperature: "24C", humidity: "55%" };
let c, a, w;

before(async () => {
  [c, a, w] = await Promise.all([loadCalculator(), loadAdvice(), loadWorkshop()]);
});

const near = (x, y, tolerance) => assert.ok(Math.abs(x - y) <= tolerance, `${x} is not ${y} within ${tolerance}`);
const refused = (work, field) =>
  assert.throws(work, (e) => e instanceof FairpullError && e.field === field && e.problem !== "" && !/undefined/.test(e.message));

test("conversions by exact definition", () => {
  // DIN 66036 and the exact international definitions: 1 PS = 75 kgf·m/s, 1 lbf = 4.4482216152605 N, 1 ft = 0.3048 m
  assert.equal(c.convert("1PS", "W").value, 735.49875);
  near(c.convert("1hp", "W").value, 550 * 4.4482216152605 * 0.3048, 1e-9);
  near(c.convert("530,5 PS", "kW").value, 390.1820868750, 1e-9);
});

test("the air by its definition: total is dry plus vapour", () => {
  const x = c.air(AIR);
  near(x.station_pressure_kpa, 98.5, 1e-12);
  near(x.dry_pressure_kpa + x.vapour_pressure_kpa, x.station_pressure_kpa, 1e-12);
  near(x.relative_humidity_percent, 55, 1e-9);
});

test("a factor is 1 at the reference air of its standard (ISO 1585: 99 kPa dry, 25 °C)", () => {
  const one = c.factorMany("iso-1585", {}, {
    total_kpa: Float64Array.of(100),
    vapour_kpa: Float64Array.of(1),
    temperature_c: Float64Array.of(25),
  });
  near(one[0], 1, 1e-12);
});

test("columns give the same bits as the question", () => {
  const air = c.air(AIR);
  const at = (x) => Float64Array.of(x);
  for (const f of c.factors({ air: AIR }).factors) {
    const [x] = c.factorMany(f.standard, {}, {
      total_kpa: at(air.station_pressure_kpa),
      vapour_kpa: at(air.vapour_pressure_kpa),
      temperature_c: at(air.temperature_c),
    });
    if (f.factor === undefined) assert.ok(Number.isNaN(x), f.standard);
    else near(x, f.factor, 1e-14);
  }
});

test("every plug-in has a card", () => {
  const all = a.catalogue();
  assert.ok(all.length > 20);
  for (const e of all) assert.ok(a.card(e.id).sources.length > 0, e.id);
});

test("a figure, its notation and back", () => {
  const f = c.figure({ figure: "400kW", from: "din-70020", site: "wheel", engine_speed: "6200rpm", air: AIR });
  assert.equal(encodeURI(f.link), f.link);
  const again = c.figure({ figure: f.link });
  assert.deepEqual({ ...again, text: "" }, { ...f, text: "" });
  const r = c.restate({ figure: f.link, to: "iso-1585" });
  assert.ok(r.lo95 < r.value && r.value < r.hi95 && r.steps.length >= 3);
  assert.equal(c.restateAll({ figure: f.link }).length % 2, 0);
});

test("errors name field, value, problem and mend", () => {
  refused(() => c.convert("530 PS", "hPa"), "unit");
  refused(() => c.convert("530 Pferde", "kW"), "quantity");
  refused(() => c.air({ ...AIR, pressure: "985" }), "pressure");
  refused(() => c.air({ ...AIR, humidity: "155%" }), "humidity");
  refused(() => c.air({ temprature: "24C" }), "question");
  refused(() => c.card("iso-1858"), "id");
  refused(() => c.restate({ figure: "400kW" }), "to");
  refused(() => c.ask("sing", "{}"), "name");
  refused(() => c.ask("air", "{"), "question");
  refused(() => c.factorMany("iso-1585", {}, { total_kpa: new Float64Array(2), vapour_kpa: new Float64Array(1), temperature_c: new Float64Array(1) }), "columns");
  refused(() => a.knock({ fuels: ["en-228-95"] }), "requirement");
  refused(() => a.vet({ set: { "engine.powr": "221kW" } }), "engine.powr");
  refused(() => a.road({ car: {} }), "car.mass");
  refused(() => a.stress({}), "before");
});

test("hostile and broken text is refused or carried, never run and never fatal", () => {
  for (const text of ["", " ", "\0", "<script>alert(1)</script>", "1".repeat(10_000), "９９kW", "-0 kW", "1e400kW", "\ud800kW", "NaN kW"]) {
    for (const ask of [() => c.convert(text, "kW"), () => c.air({ ...AIR, pressure: text }), () => c.restate({ figure: text, to: "iso-1585" }), () => a.fuel({ fuel: text })]) {
      try {
        ask();
      } catch (e) {
        assert.ok(e instanceof FairpullError && e.field !== "module", `${JSON.stringify(text)}: ${e}`);
      }
    }
  }
  assert.equal(c.version(), c.version());
});

function demoJob() {
  const logs = new Map(readdirSync(demo).filter((f) => f.endsWith(".csv")).map((f) => [f, readFileSync(join(demo, f))]));
  return { text: readFileSync(join(demo, "job.toml"), "utf8"), logs };
}

test("the main job: result, report, curves, progress, cancel", () => {
  const { text, logs } = demoJob();
  const seen = [];
  const done = w.reduce(text, logs, { onProgress: (n, total) => void seen.push([n, total]) });
  const { json, result } = done;
  assert.deepEqual(seen.at(-1), [8, 8]);
  assert.equal(result.schema, "fairpull-result-1");
  assert.equal(result.states.length, 2);
  assert.equal(w.reduce(text, logs).json, json, "same input, same bytes");
  assert.match(done.html(), /^<!DOCTYPE html>/i);
  assert.match(done.csv(), /\n/);
  assert.ok(done.text().length > 100);
  assert.equal(w.job(text).states[0].logs.length, 4);
  refused(() => w.reduce(text, logs, { onProgress: () => false }), "cancelled");
  refused(() => w.reduce(text, new Map()), "file");
  assert.throws(() => w.job(text.replace("985.6hPa", "985.6")), (e) => e.line > 0 && e.file === "job.toml");
});

const roadFolder = fileURLToPath(new URL("../../fixtures/road/demo/", import.meta.url));
const roadLogs = (name) => readFileSync(join(roadFolder, name));
const pulls = (more = {}) =>
  w.roadLog({ car: { mass: "1575kg ± 15kg", drag_area: "0.65m2", rolling: "0.011", slope: "0%" }, ...more }, roadLogs, "pull-north.csv", "pull-south.csv");
const coastDowns = () => {
  const three = (way) => [1, 2, 3].map((k) => `coast-${way}-${k}.csv`);
  return w.roadCoastDown({ mean_mass: "1600kg", rotating_mass: "48kg", temperature: "20C", pressure: "100kPa" }, roadLogs, three("north"), three("south"));
};

test("road logs: power against the invented truth, both directions, faults by field", () => {
  // truth of tests/reference/road_demo.py: P(v) = 158 kW (1 - 0.55 ((v - 165)/165)²), slope ±0.3 % one way and the other
  const a = pulls();
  for (const p of a.both_directions.power.filter((p) => p.speed_kmh > 80 && p.speed_kmh < 195)) {
    const truth = 158 * (1 - 0.55 * ((p.speed_kmh - 165) / 165) ** 2);
    assert.ok(p.wheel_power_kw.lo95 < truth && truth < p.wheel_power_kw.hi95, `${p.speed_kmh} km/h: ${JSON.stringify(p.wheel_power_kw)}, truth ${truth}`);
  }
  assert.ok(a.logs[0].times[0].time_s.value > a.logs[1].times[0].time_s.value, "uphill is slower");
  refused(() => w.roadLog({ car: {} }, roadLogs, "pull-north.csv"), "car.mass");
  refused(() => w.roadLog({ car: { mass: "1575kg" } }, new Map(), "pull-north.csv"), "file");
});

test("coast-downs: road load of the invented car", () => {
  // truth of tests/reference/road_demo.py: F = 120 N + 0.35052 N/(m/s)² v²
  const a = coastDowns();
  for (const p of a.points) near(p.force_n.value, 120 + 0.35052 * (p.speed_kmh / 3.6) ** 2, 3);
  near(a.drag_area_m2, (2 * 0.35052) / 1.189, 0.02);
  refused(() => w.roadCoastDown({ temperature: "20C", pressure: "100kPa" }), "mean_mass");
});

test("phrases of the report in German, none in English", () => {
  const german = new Map(w.phrases("de"));
  assert.ok(german.size > 300);
  assert.equal(german.get("turbocharged"), "Abgasturbolader");
  assert.deepEqual(w.phrases("en"), []);
});

test("hostile names stay text in the report", () => {
  const { text, logs } = demoJob();
  const evil = "<script>alert(1)</script><img src=x onerror=alert(2)>";
  const html = w.reduce(text.replace("Demo hatch (invented)", evil), logs).html();
  assert.ok(!/<script|<img/i.test(html));
});

test("logs that are none", () => {
  const bytes = (s) => new TextEncoder().encode(s);
  refused(() => w.columns(new Uint8Array(0), "empty.csv"), "file");
  refused(() => w.columns(Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256), "photo.jpg"), "file");
  refused(() => w.columns(bytes("no numbers\nat all\n"), "words.csv"), "file");
  const { text, logs } = demoJob();
  for (const [name, whole] of logs) logs.set(name, whole.subarray(0, Math.floor(whole.length / 2)));
  try {
    assert.ok(w.reduce(text, logs).json);
  } catch (e) {
    assert.ok(e instanceof FairpullError && e.field !== "module", String(e));
  }
});

test("the types say exactly what the functions answer", () => {
  const { text, logs } = demoJob();
  const stress = { before: { power: "180kW ± 2kW", engine_speed: "5600rpm", swept_volume: "1984cm3", stroke: "92.8mm", barometer: "985hPa", charged: true, manifold: "220kPa(a)", pre_turbine: "1.4bar(g)" }, after: { power: "221kW", engine_speed: "5600rpm", swept_volume: "1984cm3", stroke: "92.8mm", barometer: "985hPa", charged: true } };
  const log = logs.get("before-1.csv");
  const answers = {
    ConvertAnswer: c.convert("530PS", "kW"),
    AirAnswer: c.air(AIR),
    FactorsAnswer: c.factors({ air: AIR, engine: { charging: "turbocharged", ambient_compensated: true } }),
    "CatalogueEntry[]": c.catalogue(),
    CardAnswer: c.card("iso-1585"),
    "UnitEntry[]": c.units(),
    FigureAnswer: c.figure({ figure: "400kW @ 6200rpm; crank; iso-1585; air 985hPa, 34C, 55%" }),
    RestatedAnswer: c.restate({ figure: "400kW", to: "iso-1585" }),
    "BasisRow[]": c.restateAll({ figure: "400kW; crank; din-70020" }),
    FuelAnswer: a.fuel(),
    KnockAnswer: a.knock({ fuels: ["en-228-95", "nonsense"], requirement: "96 ± 2", changes: { spark_advance: "2deg" } }),
    StressAnswer: a.stress(stress),
    RoadAnswer: a.road({ car: { mass: "1575kg", power: "221kW" }, measures: ["100-200km/h", "1000m from 80km/h", "100-400km/h"] }),
    VetAnswer: a.vet({ set: { "engine.power": "430PS", "engine.power_speed": "6500rpm", "engine.torque": "440Nm", "engine.displacement": "1984cm3" } }),
    ColumnsAnswer: w.columns(log, "before-1.csv"),
    JobAnswer: w.job(text),
    ResultModel: w.reduce(text, logs).result,
    RoadLogAnswer: pulls({ rig: [{ speed: "140km/h", wheel_power: "150kW ± 2kW" }] }),
    CoastDownAnswer: coastDowns(),
  };
  const root = fileURLToPath(new URL("..", import.meta.url));
  const dir = mkdtempSync(join(root, "types-"));
  try {
    const lines = Object.entries(answers).map(([type, value], k) => `export const x${k}: F.${type} = ${JSON.stringify(value)};`);
    writeFileSync(join(dir, "answers.ts"), `import type * as F from "fairpull/workshop";\n${lines.join("\n")}\n`);
    writeFileSync(join(dir, "tsconfig.json"), JSON.stringify({
      compilerOptions: { strict: true, noEmit: true, module: "nodenext", moduleResolution: "nodenext", target: "es2022", lib: ["es2023", "dom"], types: [], skipLibCheck: true },
      include: ["answers.ts"],
    }));
    execFileSync(process.execPath, [join(root, "node_modules/typescript/bin/tsc"), "-p", dir], { encoding: "utf8" });
  } catch (e) {
    assert.fail(e.stdout || e.message);
  } finally {
    rmSync(dir, { recursive: true });
  }
});
