//! The one result model: what report, command line, JSON and page know of a reduction, and nothing else.
//!
//! Keys carry their unit. A number with a 95 % interval is `{"value", "lo95", "hi95"}`.

pub use crate::model_stress::{FuelMargin, StressChange, StressStat};
use serde::{Deserialize, Serialize};

/// Name and version of the schema; a breaking change takes the next number.
pub const SCHEMA: &str = "fairpull-result-1";

/// A value with its 95 % interval, in the unit its key states.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// Best value.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub lo95: f64,
    /// Upper end of the 95 % interval.
    pub hi95: f64,
}

/// A label and what stands beside it, ready for print.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fact {
    /// Label.
    pub label: String,
    /// Text with units.
    pub value: String,
}

/// Everything a reduction found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ResultModel {
    /// [`SCHEMA`].
    pub schema: String,
    /// Program and version that made it.
    pub program: String,
    /// Title of the job.
    pub title: String,
    /// Note of the job, e.g. that the data is invented.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub note: Option<String>,
    /// Job file as it was named.
    pub job: String,
    /// Vehicle, line by line.
    pub vehicle: Vec<Fact>,
    /// Rig, line by line.
    pub rig: Vec<Fact>,
    /// The basis every figure of this result stands on.
    pub basis: Basis,
    /// Units the reader asked for, first one first.
    pub units: Units,
    /// States in the order of the job.
    pub states: Vec<State>,
    /// Comparisons of states.
    pub comparisons: Vec<Comparison>,
    /// The steps from recording to figure.
    pub trail: Vec<Step>,
    /// Remarks that must travel with the result.
    pub notices: Vec<String>,
    /// Cautions for the work itself.
    pub cautions: Vec<String>,
    /// Seed of every random draw behind the whole-curve bands.
    pub seed: u64,
}

/// Basis of the figures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Basis {
    /// `crank`, `wheel` or `hub`.
    pub site: String,
    /// Id of the standard.
    pub standard: String,
    /// Designation of the standard.
    pub designation: String,
    /// `net`, `gross`.
    pub rating: String,
    /// Status of the standard in words.
    pub status: String,
    /// Reference air in words.
    pub reference: String,
    /// Grade of reading of the standard's text, in words.
    pub reading: String,
    /// How wheel became crank.
    pub loss_model: String,
    /// One sentence that states the whole basis.
    pub statement: String,
}

/// Units for reading: the first is the main one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Units {
    /// Unit words for power, e.g. kW, PS.
    pub power: Vec<String>,
    /// Unit words for torque, e.g. Nm, lbf·ft.
    pub torque: Vec<String>,
}

/// One state of the car: the repeats under one name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// Name.
    pub name: String,
    /// Fuel as the job states it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub fuel: Option<String>,
    /// Pulls in the order of their logs.
    pub pulls: Vec<Pull>,
    /// Curve on the engine-speed grid.
    pub curve: Vec<CurvePoint>,
    /// Peak power of the fitted curve.
    pub peak_power: Peak,
    /// Peak torque of the fitted curve.
    pub peak_torque: Peak,
    /// Peak power on other standards, each from the same observed curve.
    pub restated: Vec<Restated>,
    /// Pull-to-pull standard deviation of the level, percent.
    pub repeatability_percent: f64,
    /// Trend over the pulls.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub soak: Option<Soak>,
    /// What each source adds to the uncertainty of the peak power.
    pub budget: Vec<BudgetLine>,
    /// Channels beside the power.
    pub channels: Vec<ChannelStat>,
    /// Stress figures from the channels and the stated engine.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub stress: Vec<StressStat>,
    /// Knock margin of each fuel grade that the job lists.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub margins: Vec<FuelMargin>,
}

/// One full-load pull.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pull {
    /// Log file and, when it holds several pulls, which one.
    pub name: String,
    /// Log file.
    pub file: String,
    /// Start of the pull in the log, s.
    pub start_s: f64,
    /// Length of the pull, s.
    pub duration_s: f64,
    /// Samples used.
    pub samples: usize,
    /// Engine speed covered.
    pub from_rpm: f64,
    /// Engine speed covered.
    pub to_rpm: f64,
    /// Station pressure, kPa.
    pub station_pressure_kpa: f64,
    /// Intake air temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, percent.
    pub humidity_percent: f64,
    /// Vapour pressure, kPa.
    pub vapour_pressure_kpa: f64,
    /// Correction factor used.
    pub factor: f64,
    /// Factor that the formula alone would have used, when control compensates for the ambient.
    pub blind_factor: f64,
    /// Remarks on the factor.
    pub factor_notes: Vec<String>,
    /// Peak crank power of this pull, kW.
    pub peak_power_kw: f64,
    /// Engine speed of that peak.
    pub peak_power_rpm: f64,
    /// Level against the state's mean, percent.
    pub level_percent: f64,
    /// Power lost in the driveline at the peak, kW.
    pub loss_kw: f64,
    /// Coast-down in words: range, samples, fit.
    pub coast_down: String,
    /// Repairs of the recording.
    pub repairs: Vec<Repair>,
    /// Anything unusual about this pull, in words.
    pub flags: Vec<String>,
    /// Corrected crank power on the state's grid, kW; absent where the pull does not reach.
    pub curve_kw: Vec<Option<f64>>,
}

/// A counted repair of a recording.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Repair {
    /// What was done, in words.
    pub what: String,
    /// How often.
    pub count: usize,
    /// First line of the file concerned.
    pub first_line: usize,
}

/// One point of a state's curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CurvePoint {
    /// Engine speed, 1/min.
    pub engine_speed_rpm: f64,
    /// Corrected power at the crankshaft, kW.
    pub crank_power_kw: Interval,
    /// The same with an interval that holds for the whole curve at once, kW.
    pub crank_power_band_kw: Interval,
    /// Corrected torque at the crankshaft, N·m.
    pub crank_torque_nm: Interval,
    /// Observed (uncorrected) power at the measuring point, kW.
    pub wheel_power_kw: Interval,
    /// How many pulls reach this speed.
    pub pulls: usize,
}

/// The peak of a fitted curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Peak {
    /// Value with interval; unit as the key of its parent says: kW for power, N·m for torque.
    #[serde(flatten)]
    pub value: Interval,
    /// Engine speed of the peak, 1/min.
    pub engine_speed_rpm: f64,
    /// True when the peak sits at the end of the range and the real one may lie beyond it.
    pub at_edge: bool,
}

/// Peak power on another standard.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Restated {
    /// Id.
    pub standard: String,
    /// Designation.
    pub designation: String,
    /// `within`, `outside` its range, `no-range-known`, or `not-applicable`.
    pub status: String,
    /// Mean factor of the pulls.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub factor: Option<f64>,
    /// Peak power, kW.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub peak_power_kw: Option<Interval>,
    /// Why, when there is no figure or it is doubtful.
    pub why: String,
}

/// Trend of power over the pulls of a state as the car soaks with heat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Soak {
    /// Change per pull, percent.
    pub percent_per_pull: Interval,
    /// Change from first to last pull, percent.
    pub first_to_last_percent: f64,
    /// In words.
    pub statement: String,
}

/// One line of an uncertainty budget.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BudgetLine {
    /// Source.
    pub source: String,
    /// `run` (shrinks with repeats), `rig` (common to all pulls of the rig) or `method` (the reduction itself).
    pub part: String,
    /// Stated or estimated standard uncertainty of the input, in words with its unit.
    pub input: String,
    /// Standard uncertainty it adds to the peak power, percent.
    pub percent: f64,
    /// Share of the combined variance, percent.
    pub share_percent: f64,
    /// What would shrink it.
    pub remedy: String,
}

/// A channel beside the power.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ChannelStat {
    /// Role id.
    pub role: String,
    /// Name in words.
    pub name: String,
    /// Unit of the values.
    pub unit: String,
    /// Mean over the compared engine-speed band, over the pulls, with interval from pull-to-pull scatter.
    pub mean: Interval,
    /// At the engine speed of peak power; absent where nothing was recorded there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_peak_power: Option<Interval>,
    /// Smallest reading within the pulls.
    pub smallest: f64,
    /// Largest reading within the pulls.
    pub largest: f64,
    /// Curve on the state's grid; absent where nothing was recorded.
    pub curve: Vec<Option<f64>>,
}

/// Two states compared on one rig.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Comparison {
    /// State compared from.
    pub from: String,
    /// State compared to.
    pub to: String,
    /// Gain over engine speed.
    pub curve: Vec<GainPoint>,
    /// Band over which the mean is taken, 1/min.
    pub band_rpm: [f64; 2],
    /// Mean gain over the band, percent.
    pub mean_gain_percent: Interval,
    /// Mean gain over the band, kW.
    pub mean_gain_kw: Interval,
    /// Gain of the peak power, percent.
    pub peak_gain_percent: Interval,
    /// Gain of the peak power, kW.
    pub peak_gain_kw: Interval,
    /// Smallest mean gain this job would detect in 80 % of repetitions at 5 % false alarm, percent.
    pub smallest_detectable_percent: f64,
    /// `gain`, `loss` or `no-detectable-change`.
    pub verdict: String,
    /// The verdict in a sentence.
    pub statement: String,
    /// Equivalence statement: the mean change lies within ± this many percent with 95 % confidence.
    pub within_percent: f64,
    /// How many more pulls a state would settle it; absent when settled or out of reach.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub more_pulls: Option<usize>,
    /// Order and soak remarks, outlying pulls.
    pub remarks: Vec<String>,
    /// Channels beside the power, with their change.
    pub channels: Vec<ChannelChange>,
    /// Stress figures, with their change.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub stress: Vec<StressChange>,
    /// Power and what it costs in one line.
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub cost: String,
}

/// Gain at one engine speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct GainPoint {
    /// Engine speed, 1/min.
    pub engine_speed_rpm: f64,
    /// Gain, percent.
    pub gain_percent: Interval,
    /// The same with an interval that holds for the whole curve at once, percent.
    pub gain_band_percent: Interval,
}

/// Change of a channel between two states.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ChannelChange {
    /// Role id.
    pub role: String,
    /// Name in words.
    pub name: String,
    /// Unit.
    pub unit: String,
    /// Mean over the band in the first state.
    pub from: f64,
    /// Mean over the band in the second state.
    pub to: f64,
    /// Change.
    pub change: Interval,
    /// True when the interval excludes zero.
    pub detectable: bool,
}

/// One step of the trail: a sceptic can redo it by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// What was done.
    pub what: String,
    /// Formula, with the symbols of its source.
    pub formula: String,
    /// Numbers that went in.
    pub inputs: String,
    /// Number that came out.
    pub output: String,
    /// Source with clause.
    pub source: String,
    /// Grade of reading in words.
    pub reading: String,
}
