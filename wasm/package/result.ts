/** Logs, jobs and results. The result's schema stands in `docs/result-schema.json`. */

export interface ColumnEntry {
  name: string;
  unit: string | null;
  role: string | null;
  confidence: string;
  why: string;
  samples: string[];
}

export interface ColumnsAnswer {
  schema: "fairpull-columns-1";
  file: string;
  format: string;
  columns: ColumnEntry[];
  /** Tables for the job file. */
  toml: string;
}

export interface JobAnswer {
  title: string;
  note: string | null;
  vehicle: string;
  standard: string;
  states: { name: string; fuel: string | null; logs: { file: string; skip: string | null }[] }[];
  assumed: string[];
}

/** A value with its 95 % interval. */
export interface Interval {
  value: number;
  lo95: number;
  hi95: number;
}

export interface Fact {
  label: string;
  value: string;
}

export interface CurvePoint {
  engine_speed_rpm: number;
  crank_power_kw: Interval;
  crank_power_band_kw: Interval;
  crank_torque_nm: Interval;
  wheel_power_kw: Interval;
  pulls: number;
}

export interface Peak extends Interval {
  engine_speed_rpm: number;
  at_edge: boolean;
}

export interface Repair {
  what: string;
  count: number;
  first_line: number;
}

export interface Pull {
  name: string;
  file: string;
  start_s: number;
  duration_s: number;
  samples: number;
  from_rpm: number;
  to_rpm: number;
  station_pressure_kpa: number;
  temperature_c: number;
  humidity_percent: number;
  vapour_pressure_kpa: number;
  factor: number;
  blind_factor: number;
  factor_notes: string[];
  peak_power_kw: number;
  peak_power_rpm: number;
  level_percent: number;
  loss_kw: number;
  coast_down: string;
  repairs: Repair[];
  flags: string[];
  curve_kw: (number | null)[];
}

export interface PeakRestated {
  standard: string;
  designation: string;
  status: "within" | "outside" | "no-range-known" | "not-applicable";
  factor?: number;
  peak_power_kw?: Interval;
  why: string;
}

export interface Soak {
  percent_per_pull: Interval;
  first_to_last_percent: number;
  statement: string;
}

export interface BudgetLine {
  source: string;
  part: "run" | "rig" | "method";
  input: string;
  percent: number;
  share_percent: number;
  remedy: string;
}

export interface ChannelStat {
  role: string;
  name: string;
  unit: string;
  mean: Interval;
  at_peak_power?: Interval;
  smallest: number;
  largest: number;
  curve: (number | null)[];
}

export interface State {
  name: string;
  fuel?: string;
  pulls: Pull[];
  curve: CurvePoint[];
  peak_power: Peak;
  peak_torque: Peak;
  restated: PeakRestated[];
  repeatability_percent: number;
  soak?: Soak;
  budget: BudgetLine[];
  channels: ChannelStat[];
  stress?: StressStat[];
  margins?: FuelMarginStat[];
}

/** A stress figure of a state. */
export interface StressStat {
  id: string;
  name: string;
  unit: string;
  value: Interval;
  remark?: string;
}

/** Change of a stress figure between two states. */
export interface StressStatChange {
  id: string;
  name: string;
  unit: string;
  from: number;
  to: number;
  change: Interval;
  detectable: boolean;
}

/** Knock margin of one fuel in one state. */
export interface FuelMarginStat {
  fuel: string;
  name: string;
  margin_on?: Interval;
  verdict: "margin-expected" | "undecided" | "knock-expected" | "none";
  statement: string;
}

export interface GainPoint {
  engine_speed_rpm: number;
  gain_percent: Interval;
  gain_band_percent: Interval;
}

export interface ChannelChange {
  role: string;
  name: string;
  unit: string;
  from: number;
  to: number;
  change: Interval;
  detectable: boolean;
}

export interface Comparison {
  from: string;
  to: string;
  curve: GainPoint[];
  band_rpm: [number, number];
  mean_gain_percent: Interval;
  mean_gain_kw: Interval;
  peak_gain_percent: Interval;
  peak_gain_kw: Interval;
  smallest_detectable_percent: number;
  verdict: "gain" | "loss" | "no-detectable-change";
  statement: string;
  within_percent: number;
  more_pulls?: number;
  remarks: string[];
  channels: ChannelChange[];
  stress?: StressStatChange[];
  cost?: string;
}

export interface TrailStep {
  what: string;
  formula: string;
  inputs: string;
  output: string;
  source: string;
  reading: string;
}

export interface ResultModel {
  schema: "fairpull-result-1";
  program: string;
  title: string;
  note?: string;
  job: string;
  vehicle: Fact[];
  rig: Fact[];
  basis: {
    site: string;
    standard: string;
    designation: string;
    rating: string;
    status: string;
    reference: string;
    reading: string;
    loss_model: string;
    statement: string;
  };
  units: { power: string[]; torque: string[] };
  states: State[];
  comparisons: Comparison[];
  trail: TrailStep[];
  notices: string[];
  cautions: string[];
  seed: number;
}
