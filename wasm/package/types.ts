/** Questions and answers: the keys are those of the command line's JSON, and carry their unit. */

/** A quantity as text: number and unit, e.g. `985hPa`, `24C`, `530PS`; a decimal comma is read where it is plain. */
export type Quantity = string;

/** Why there is no answer. */
export interface Fault {
  /** Field of the question; for a job the dotted key. */
  field: string;
  /** What was given, with its unit; empty when nothing was. */
  value: string;
  /** What is wrong with it, and what was expected. */
  problem: string;
  /** How to mend it; may be empty when the problem says it. */
  mend: string;
  /** File concerned; empty when none is. */
  file: string;
  /** Line in the file, from 1; 0 when the whole file is meant. */
  line: number;
  /** Column in the line, from 1; 0 when the whole line is meant. */
  column: number;
}

export interface ConvertQuestion {
  quantity: Quantity;
  /** Symbol of the unit wanted. */
  unit: string;
}

export interface ConvertAnswer {
  from_value: number;
  from_unit: string;
  value: number;
  unit: string;
  text: string;
  dimension: string;
  /** Exact definition of both units. */
  definition: string;
}

export interface UnitEntry {
  symbol: string;
  dimension: string;
  definition: string;
}

export interface AirQuestion {
  /** Station pressure: what a barometer at the rig shows. */
  pressure?: Quantity;
  /** Altimeter setting, with `elevation`, instead of the station pressure. */
  qnh?: Quantity;
  elevation?: Quantity;
  temperature?: Quantity;
  humidity?: Quantity;
  /** Instead of the humidity. */
  dew_point?: Quantity;
  /** Instead of the humidity. */
  wet_bulb?: Quantity;
}

export interface AirAnswer {
  station_pressure_kpa: number;
  vapour_pressure_kpa: number;
  dry_pressure_kpa: number;
  temperature_c: number;
  /** `null` where the saturation formula does not reach. */
  relative_humidity_percent: number | null;
  /** Absent for perfectly dry air. */
  dew_point_c?: number;
  wet_bulb_c?: number;
  density_kg_m3?: number;
  density_altitude_m: number;
}

export interface EngineQuestion {
  ignition?: "spark" | "compression";
  charging?: "none" | "supercharged" | "turbocharged";
  charge_cooling?: "none" | "air" | "liquid";
  /** Fuel per working cycle and litre of swept volume, mg/L. */
  fuel_per_stroke?: Quantity;
  /** Absolute, outlet over inlet. */
  charge_pressure_ratio?: number;
  mechanical_efficiency?: Quantity;
  /** The control holds the charge against the ambient. */
  ambient_compensated?: boolean;
}

export interface FactorsQuestion {
  air: AirQuestion;
  engine?: EngineQuestion;
}

export interface FactorEntry {
  standard: string;
  designation: string;
  /** Multiplier from measured to reference; absent when the standard does not apply. */
  factor?: number;
  /** What the formula alone gives, where a rule for compensating engines changes it. */
  blind_factor?: number;
  status: "within" | "outside" | "no-range-known" | "not-applicable";
  why: string;
  notices: string[];
  rating: string;
  text_status: string;
  reading: string;
}

export interface FactorsAnswer {
  schema: "fairpull-factors-1";
  air: AirAnswer;
  factors: FactorEntry[];
}

export interface CatalogueEntry {
  family: "standard" | "loss" | "knock";
  id: string;
  title: string;
  status: string;
  applies: string;
  reference: string;
  reading: string;
}

export interface CardAnswer {
  family: "standard" | "loss" | "knock";
  id: string;
  title: string;
  formula: string;
  /** Label and text. */
  facts: [string, string][];
  /** What was taken from where: what, source, grade. */
  sources: [string, string, string][];
  /** What could not be established. */
  gaps: string[];
}

export type Site = "crank" | "wheel" | "hub";

export interface RestateQuestion {
  /** `400kW`, or a whole figure in the one-line notation. */
  figure: string;
  /** Standard it is corrected to, or `observed`. */
  from?: string;
  site?: Site;
  engine_speed?: Quantity;
  /** Standard wanted, or `observed`. */
  to?: string;
  to_site?: Site;
  /** Loss model to use. */
  loss?: string;
  /** Air at the test, as far as it is known. */
  air?: AirQuestion;
  /** Month of the test, 1 to 12. */
  month?: number;
  engine?: EngineQuestion;
  load_share?: Quantity;
  constant_drag?: Quantity;
}

/** A figure field by field. A pair is the low and the high end of what is known. */
export interface FigureAnswer {
  value: number;
  unit: string;
  quantity: "power" | "torque";
  engine_speed_rpm: number | null;
  site: Site | null;
  treatment: string | null;
  rating: string | null;
  pressure_kpa: [number, number] | null;
  temperature_c: [number, number] | null;
  humidity_kind: "relative" | "dew_point_c" | "vapour_kpa" | null;
  humidity: [number, number] | null;
  fuel: string | null;
  /** The notation for people. */
  text: string;
  /** The notation for links: nothing in it needs escaping. */
  link: string;
}

export interface RestatedInput {
  what: string;
  value: number | null;
  unit: string;
}

export interface RestatedStep {
  what: string;
  plug_in: string;
  inputs: RestatedInput[];
  factor: number;
  /** W or N·m. */
  result_si: number;
  source: string;
}

export interface RestatedAssumption {
  what: string;
  because: string;
  contribution: number;
}

export interface RestatedAlternative {
  what: string;
  value: number;
  lo95: number;
  hi95: number;
}

/** Values are in `unit` unless said otherwise. */
export interface RestatedAnswer {
  quantity: "power" | "torque";
  unit: string;
  value: number;
  lo95: number;
  hi95: number;
  standard_uncertainty: number;
  ratio: number;
  /** Nothing is uncertain. */
  exact: boolean;
  /** False when site or treatment were not given. */
  basis_known: boolean;
  basis: string;
  loss: string | null;
  steps: RestatedStep[];
  assumptions: RestatedAssumption[];
  notices: string[];
  alternatives: RestatedAlternative[];
  seed: number;
  draws: number;
  /** The restated figure in the one-line notation. */
  figure: string;
}

/** One basis: either a result, or why there is none. */
export interface BasisRow {
  site: Site;
  treatment: string;
  designation: string | null;
  result: RestatedAnswer | null;
  why: string | null;
}

/** What a loss model may know of the driveline; a pair is value and standard uncertainty. */
export interface DrivelineQuestion {
  /** Force a + b·v + c·v², N, with v in m/s. */
  coast_down?: [number, number, number];
  load_share?: [number, number];
  constant_drag_w?: [number, number];
  rotating_mass_kg?: number;
  acceleration_m_s2?: number;
  gearbox?: "manual" | "dual-clutch" | "automated-manual" | "planetary" | "converter";
  direct_gear?: boolean;
  angle_drive?: boolean;
  max_input_torque_nm?: number;
  driven_wheels?: number;
  elements?: string[];
}

/** Columns of equal length. */
export interface AirColumns {
  total_kpa: Float64Array;
  vapour_kpa: Float64Array;
  temperature_c: Float64Array;
}

/** Columns of equal length. */
export interface WheelColumns {
  wheel_w: Float64Array;
  road_speed_m_s: Float64Array;
  engine_speed_rpm: Float64Array;
}
