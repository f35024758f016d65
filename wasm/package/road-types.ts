/** Questions and answers about road logs and coast-downs. */
import type { CarQuestion, Measure } from "./advice-types.js";
import type { Interval } from "./result.js";
import type { Quantity } from "./types.js";

/** Columns by name; a guess from the header when left out. A unit is needed where the log does not say it. */
export interface LogColumns {
  time?: string;
  time_unit?: string;
  speed?: string;
  speed_unit?: string;
  /** To check the slope. */
  height?: string;
  height_unit?: string;
}

export interface RoadLogQuestion {
  /** Mass, road load, air; power and gears are not used. */
  car: CarQuestion;
  /** The usual speeds inside the log when left out. */
  measures?: string[];
  columns?: LogColumns;
  /** Factor of the rotating parts, one for each gear of the pull. */
  mass_factors?: number[];
  /** Standard uncertainty of the scale of speed: 0 % for satellite speed (default), about 1 % for wheel speed. */
  speed_scale?: Quantity;
  /** Step of the power curve, 5 km/h by default. */
  step?: Quantity;
  /** Power of the rig at the same air. */
  rig?: { speed: Quantity; wheel_power: Quantity; crank_power?: Quantity }[];
}

export interface LoggedTime {
  measure: Measure;
  name: string;
  time_s: Interval;
  run_u_s: number;
  rig_u_s: number;
  distance_m: number;
  end_speed_kmh: number;
}

export interface RoadPower {
  speed_kmh: number;
  wheel_power_kw: Interval;
  run_u_kw: number;
  rig_u_kw: number;
  acceleration_mps2: number;
}

export interface RoadLog {
  file: string;
  pull_s: [number, number];
  pulls: number;
  rate_hz: number;
  noise_kmh: number;
  noise_correlation: number;
  shifts: { from_s: number; to_s: number }[];
  slope: { slope_percent: Interval; climb_m: number; residual_m: number } | null;
  times: LoggedTime[];
  power: RoadPower[];
  /** `interior` is false when the true peak may lie outside the log. */
  peak: { at: RoadPower; interior: boolean } | null;
  notices: string[];
}

export interface RoadLogAnswer {
  schema: "fairpull-road-log-1";
  logs: RoadLog[];
  both_directions?: { times: [string, Interval][]; power: RoadPower[] };
  rig?: {
    points: {
      speed_kmh: number;
      difference_kw: Interval;
      difference_percent: number;
      mass_percent: number;
      drag_percent: number;
      slope_percent: number;
      loss_percent: number | null;
    }[];
    mean_percent: Interval;
    agreement: "agree" | "differ";
    finding: string;
  };
  assumed: string[];
  cautions: string[];
}

export interface CoastDownQuestion {
  /** Mean of the mass before and after the runs. */
  mean_mass: Quantity;
  /** 3 % of the mean mass when left out. */
  rotating_mass?: Quantity;
  /** The mean mass when left out. */
  test_mass?: Quantity;
  temperature: Quantity;
  pressure: Quantity;
  /** Mean along the track over both directions; 0 when left out. */
  wind?: Quantity;
  /** Factor of the precision criterion. */
  factor?: "student-t" | "un-gtr15-table";
  /** Times, s, in the order of the pairs. */
  points?: { speed: Quantity; half_width?: Quantity; a_s: number[]; b_s: number[] }[];
  /** Reference speeds for logs; every 10 km/h that all logs cross when left out. */
  speeds?: Quantity[];
  half_width?: Quantity;
  columns?: LogColumns;
}

export interface CoastDownPoint {
  speed_kmh: number;
  time_s: number;
  deviation_s: number;
  precision: number;
  precise: boolean;
  force_n: Interval;
  residual_n: number;
}

/** Three coefficients: f0 (N), f1 (N/(km/h)), f2 (N/(km/h)²). */
export type RoadLoadKmh = [number, number, number];

export interface CoastDownAnswer {
  schema: "fairpull-road-coastdown-1";
  points: CoastDownPoint[];
  measured_kmh: RoadLoadKmh;
  /** At 20 °C, 100 kPa, still air and test mass. */
  corrected_kmh: RoadLoadKmh;
  u_kmh: RoadLoadKmh | null;
  load: { f0_n: number; f1_n_per_mps: number; f2_n_per_mps2: number; density_kg_per_m3: number };
  /** K0 (1/K), K1 (N), K2 (1), w1 (N). */
  corrections: [number, number, number, number];
  precise: boolean;
  notices: string[];
  drag_area_m2: number;
  assumed: string[];
  cautions: string[];
}
