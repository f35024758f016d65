import type { Field, Values } from "./card.js";
import { given, plainNumber } from "./card.js";
import type { AirQuestion, EngineQuestion } from "../package/types.js";
import type { WordKey, Words } from "./words.js";

const AIR = ["pressure", "qnh", "elevation", "temperature", "humidity", "dew_point", "wet_bulb"];

/** Fields for the air; `main` are shown at once, the rest on demand. */
export function airFields(group?: WordKey): Field[] {
  const rest: WordKey = group ?? "otherReadings";
  const at = group ? { group } : {};
  return [
    { name: "pressure", label: "pressure", hint: "pressureHint", ...at },
    { name: "temperature", label: "temperature", hint: "temperatureHint", ...at },
    { name: "humidity", label: "humidity", hint: "humidityHint", ...at },
    { name: "qnh", label: "qnh", hint: "qnhHint", group: rest },
    { name: "elevation", label: "elevation", group: rest },
    { name: "dew_point", label: "dewPoint", hint: "dewPointHint", group: rest },
    { name: "wet_bulb", label: "wetBulb", hint: "dewPointHint", group: rest },
  ];
}

export function airOf(v: Values): AirQuestion {
  return given(v, AIR) as AirQuestion;
}

/** Fields for the kind of engine. */
export function engineFields(group?: WordKey): Field[] {
  const at = group ? { group } : {};
  return [
    {
      name: "ignition",
      label: "ignition",
      kind: "choice",
      initial: "spark",
      choices: (_, w) => [["spark", w.spark], ["compression", w.compression]],
      ...at,
    },
    {
      name: "charging",
      label: "charging",
      kind: "choice",
      initial: "none",
      choices: (_, w) => [["none", w.naturally], ["supercharged", w.supercharged], ["turbocharged", w.turbocharged]],
      ...at,
    },
    {
      name: "charge_cooling",
      label: "chargeCooling",
      kind: "choice",
      initial: "none",
      choices: (_, w) => [["none", w.none], ["air", w.byAir], ["liquid", w.byLiquid]],
      ...at,
    },
    { name: "ambient_compensated", label: "compensated", kind: "tick", wide: true, ...at },
    { name: "fuel_per_stroke", label: "fuelPerStroke", hint: "fuelPerStrokeHint", group: group ?? "engineMore" },
    { name: "charge_pressure_ratio", label: "chargeRatio", hint: "chargeRatioHint", group: group ?? "engineMore" },
    { name: "mechanical_efficiency", label: "efficiency", hint: "efficiencyHint", group: group ?? "engineMore" },
  ];
}

export function engineOf(v: Values, w: Words): EngineQuestion {
  const e: EngineQuestion = given(v, [
    "ignition",
    "charging",
    "charge_cooling",
    "fuel_per_stroke",
    "mechanical_efficiency",
  ]) as EngineQuestion;
  if (v.ambient_compensated === "yes") e.ambient_compensated = true;
  if (v.charge_pressure_ratio?.trim()) {
    e.charge_pressure_ratio = plainNumber("charge_pressure_ratio", v.charge_pressure_ratio, w);
  }
  return e;
}
