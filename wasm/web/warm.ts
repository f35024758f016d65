/** Runs the module on small invented pulls while the reader looks for files, so that the browser has turned its busy
 * parts into fast code before the first real log comes. Stops as soon as something is asked. */
import type { Workshop } from "../package/workshop.js";

const JOB = `schema = "fairpull-job-1"
title = "warm"
[vehicle]
name = "invented"
ignition = "spark"
charging = "none"
tyre_radius = "316mm"
ratio = 5.62
driven_wheels = 2
engine_inertia = "0.16kg.m2"
wheel_inertia = "1.1kg.m2"
[rig]
kind = "inertia-roller"
roller_inertia = "50kg.m2"
roller_radius = "159mm"
[loss]
model = "coast-down"
[basis]
standard = "iso-1585"
[columns.time]
name = "Time"
unit = "s"
[columns.roller_speed]
name = "Roller"
unit = "km/h"
[columns.engine_speed]
name = "Engine"
unit = "rpm"
`;
const state = (name: string) => `[[state]]
name = "${name}"
air = { pressure = "985hPa", temperature = "20C", humidity = "50%" }
[[state.log]]
file = "${name}1"
[[state.log]]
file = "${name}2"
`;
const TEXT = JOB + state("a") + state("b");
const ROUNDS = 6;

/** A pull of 90 kW and the coast-down after it, with noise of its own. */
function log(name: string): Uint8Array {
  let seed = name.charCodeAt(0) * 7 + name.charCodeAt(1);
  const noise = () => (seed = (seed * 48271) % 2147483647) / 2147483647 - 0.5;
  const rows = ["Time [s],Roller [km/h],Engine [rpm]"];
  let v = 15;
  for (let k = 0, rising = true; k < 500; k++) {
    rising &&= v < 46;
    const a = k < 40 ? 0 : rising ? 90000 / v / 2200 : -(300 + 0.5 * v * v) / 2200;
    v = Math.max(5, v + a * 0.04);
    rows.push(`${(k * 0.04).toFixed(2)},${(v * 3.6 + noise() * 0.2).toFixed(2)},${(v * 169.8 + noise() * 20).toFixed(0)}`);
  }
  return new TextEncoder().encode(`${rows.join("\n")}\n`);
}

/** Until `asked` says that there is real work; answers how many rounds were run. */
export async function warm(workshop: Workshop, asked: () => boolean): Promise<number> {
  for (let round = 0; round < ROUNDS; round++) {
    if (asked()) return round;
    try {
      const done = workshop.reduce(TEXT, log, { onProgress: () => !asked() });
      done.html();
      done.csv();
      done.free();
    } catch {
      return round; // the real job will tell what is wrong
    }
    await new Promise((next) => setTimeout(next, 0)); // lets a question in
  }
  return ROUNDS;
}
