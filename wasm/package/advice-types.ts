/** Questions and answers about fuel, knock, stress, road times and claims. */
import type { AirQuestion, Quantity } from "./types.js";
import type { Interval } from "./result.js";

/** A value with its standard uncertainty. */
export interface Stated {
  value: number;
  uncertainty: number;
}

/** A property; for a grade with the range that its source states. */
export interface Spread extends Stated {
  low?: number;
  high?: number;
}

export interface FuelQuestion {
  /** `en-228-95`, `RON 98 MON 88`, `AKI 93`, `70% en-228-95 + 30% ethanol`; every grade when left out. */
  fuel?: string;
}

export interface FuelEntry {
  id: string;
  title: string;
  kind: string;
  ron?: Spread;
  mon?: Spread;
  aki?: Spread;
  sensitivity?: Spread;
  density_kg_m3: Spread;
  lower_heating_value_mj_kg: Spread;
  stoichiometric_ratio: Spread;
  heat_of_vaporisation_kj_kg: Spread;
  molar_mass_g_mol: Spread;
  heat_per_air_mj_kg: number;
  ethanol_percent?: Spread;
  note: string;
  assumed: string[];
  /** Property, source, grade of reading. */
  sources: [string, string, string][];
}

export interface FuelAnswer {
  schema: "fairpull-fuel-1";
  fuels: FuelEntry[];
  caution: string;
}

/** A closed cycle. Angles count from firing top dead centre, negative before it. */
export interface CycleQuestion {
  bore?: Quantity;
  stroke?: Quantity;
  rod?: Quantity;
  compression_ratio?: number;
  engine_speed?: Quantity;
  /** At intake valve closing, `180kPa(a)`, or gauge with a barometer. */
  pressure?: Quantity;
  barometer?: Quantity;
  temperature?: Quantity;
  intake_closing?: Quantity;
  burn_start?: Quantity;
  burn_duration?: Quantity;
  air_fuel_ratio?: number;
  residual?: Quantity;
}

/** A measured borderline point. */
export interface AnchorQuestion {
  fuel: string;
  uncertainty?: number;
  cycle?: CycleQuestion;
}

/** New less old. */
export interface ChangesQuestion {
  spark_advance?: Quantity;
  intake_temperature?: Quantity;
  intake_pressure?: Quantity;
  compression_ratio?: number;
  exhaust_pressure?: Quantity;
  coolant_temperature?: Quantity;
  humidity?: Quantity;
  altitude?: Quantity;
  lambda?: [number, number];
}

export interface KnockQuestion {
  fuels: string[];
  model?: string;
  /** `-0.2 ± 0.3`, or `boosted-direct`, `port`, `hot` for a published prior. */
  k?: string;
  /** Octane index at which the engine is just borderline, `96 ± 2`. */
  requirement?: string;
  cycle?: CycleQuestion;
  anchor?: AnchorQuestion;
  changes?: ChangesQuestion;
  /** Own slopes, for the model `declared-slopes-own`. */
  slopes?: object;
}

export interface FuelMargin {
  fuel: string;
  name: string;
  /** Octane numbers. */
  margin_on: Stated | null;
  fuel_index_on: number | null;
  requirement_on: number | null;
  requirement_change_on: Stated | null;
  /** Negative: retard needed. */
  spark_deg: number | null;
  knock_limited_start_deg: number | null;
  anchored: boolean;
  verdict: "margin-expected" | "undecided" | "knock-expected" | null;
  assumed: string[];
  notices: string[];
  refused: string | null;
  words: string;
}

export interface KnockAnswer {
  schema: "fairpull-knock-1";
  model: string;
  title: string;
  leaves_out: string;
  fuels: FuelMargin[];
  caution: string;
}

/** Each `<number><unit>`, with its standard uncertainty where it is known: `221kW ± 2kW`. Pressures say (a) or (g). */
export type StateQuestion = { charged?: boolean; injectors?: number } & {
  [field in
    | "barometer"
    | "swept_volume"
    | "stroke"
    | "engine_speed"
    | "power"
    | "torque"
    | "intake_temperature"
    | "compressor_inlet"
    | "compressor_outlet"
    | "compressor_outlet_temperature"
    | "compressor_efficiency"
    | "manifold"
    | "charge_temperature"
    | "coolant_temperature"
    | "charge_temperature_limit"
    | "pre_turbine"
    | "post_turbine"
    | "pre_turbine_temperature"
    | "turbine_efficiency"
    | "turbocharger_mechanical_efficiency"
    | "air_flow"
    | "volumetric_efficiency"
    | "fuel_flow"
    | "consumption"
    | "lambda"
    | "stoichiometric_ratio"
    | "fuel_density"
    | "injector_flow"
    | "rail"
    | "injector_rated_drop"
    | "injector_rated_density"]?: Quantity;
};

export interface PipeQuestion {
  mass_flow: Quantity;
  temperature: Quantity;
  inlet?: Quantity;
  outlet?: Quantity;
  barometer?: Quantity;
  before: Quantity;
  after: Quantity;
  length: Quantity;
  roughness?: Quantity;
  loss_coefficients?: number;
  gamma?: number;
  expansion_ratio?: Quantity;
  measured_change?: Quantity;
}

export interface StressQuestion {
  before?: StateQuestion;
  after?: StateQuestion;
  /** Correlation of the errors of the two states, 0 to 1. */
  shared?: number;
  pipe?: PipeQuestion;
}

export interface StressFigure {
  id: string;
  title: string;
  unit: string;
  figure: Stated;
  remark: string | null;
}

export interface StressReport {
  figures: StressFigure[];
  refused: { id: string; why: string }[];
  caution: string;
}

export interface StressChange {
  id: string;
  title: string;
  unit: string;
  before: Stated;
  after: Stated;
  change: Stated;
  detectable: boolean;
  words: string;
}

export interface PipeSide {
  diameter_mm: number;
  mach: Stated;
  loss_kpa: Stated;
  incompressible_kpa: Stated;
  compressible: boolean;
}

export interface PipeReport {
  before: PipeSide;
  after: PipeSide;
  explained_kpa: Stated;
  explained_before_turbine_kpa: Stated | null;
  measured_kpa: Stated | null;
  unexplained_kpa: Stated | null;
  words: string;
  trade: string;
  caution: string;
}

export interface StressAnswer {
  schema: "fairpull-stress-1";
  before: StressReport;
  after?: StressReport;
  changes: StressChange[];
  pipe?: PipeReport;
  caution: string;
}

export interface CurveQuestion {
  engine_speed: Quantity;
  power?: Quantity;
  torque?: Quantity;
}

/** Whatever is not given and can be assumed is assumed, with an uncertainty, and said. */
export interface CarQuestion {
  mass: Quantity;
  power?: Quantity;
  site?: "crank" | "wheel";
  driveline_efficiency?: Quantity;
  curve?: CurveQuestion[];
  gears?: number[];
  final_drive?: number;
  tyre_radius?: Quantity;
  shift_time?: Quantity;
  shift_speed?: Quantity;
  launch_speed?: Quantity;
  drag_area?: Quantity;
  rolling?: Quantity;
  /** f0 (N), f1 (N/(km/h)), f2 (N/(km/h)²). */
  load_kmh?: [number, number, number];
  load_density?: Quantity;
  mass_factor?: Quantity;
  friction?: Quantity;
  driven?: "front" | "rear" | "all";
  air?: AirQuestion;
  air_density?: Quantity;
  slope?: Quantity;
  headwind?: Quantity;
}

export interface RoadQuestion {
  car: CarQuestion;
  /** `100-200km/h`, `60-130mph`, `quarter-mile`, `kilometre`, `1000m from 80km/h`; the usual ones when left out. */
  measures?: string[];
}

export type Measure =
  | { speeds: { from_kmh: number; to_kmh: number; rollout: boolean } }
  | { distance: { distance_m: number; from_kmh: number; rollout: boolean } };

export interface RoadEntry {
  name: string;
  predicted?: {
    measure: Measure;
    name: string;
    time_s: Interval;
    distance_m: number;
    end_speed_kmh: number;
    shares: { input: string; effect_s: number }[];
  };
  why?: string;
}

export interface RoadAnswer {
  schema: "fairpull-road-predict-1";
  times: RoadEntry[];
  assumed: string[];
  cautions: string[];
}

export interface VetQuestion {
  /** Text of a claim file. */
  text?: string;
  file?: string;
  /** Fields by section and key, e.g. `engine.power` to `221kW`. */
  set?: Record<string, string>;
}

export type VetOutcome = "consistent" | "cannot-tell" | "contradicted";

export interface VetCheck {
  id: string;
  title: string;
  inputs: { name: string; value: number; unit: string; assumed: boolean }[];
  value: number;
  unit: string;
  low: number | null;
  high: number | null;
  place: string;
  source: string;
  grade: string;
  outcome: VetOutcome;
}

export interface VetAnswer {
  schema: string;
  title: string;
  checks: VetCheck[];
  not_run: { id: string; needs: string }[];
  outcome: VetOutcome;
  statement: string;
  cautions: string[];
}
