//! What a reduction found, in SI units; words and units for reading are made elsewhere.

/// Value with standard uncertainty in two parts, and 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounded {
    /// Best value.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end of the 95 % interval.
    pub high: f64,
}

impl Bounded {
    /// `value`·(1 ± `half`).
    #[must_use]
    pub fn relative(value: f64, half: f64) -> Self {
        Self { value, low: value * (1.0 - half), high: value * (1.0 + half) }
    }

    /// `value` ± `half`.
    #[must_use]
    pub fn absolute(value: f64, half: f64) -> Self {
        Self { value, low: value - half, high: value + half }
    }
}

/// Everything a reduction found.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Engine-speed grid, 1/min.
    pub grid: Vec<f64>,
    /// Band that every pull covers, 1/min.
    pub band: (f64, f64),
    /// Id of the loss model used in the end.
    pub loss_model: &'static str,
    /// Ratio and slip.
    pub drive: DriveOutcome,
    /// States.
    pub states: Vec<StateOutcome>,
    /// Comparisons of the first state with every other.
    pub comparisons: Vec<ComparisonOutcome>,
    /// Remarks that must travel with the result.
    pub notices: Vec<String>,
    /// One point worked through, for the trail.
    pub worked: Option<Worked>,
    /// Seed of the draws behind whole-curve bands.
    pub seed: u64,
}

/// What joins engine and roller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveOutcome {
    /// Roller travel per engine revolution without force, m.
    pub travel_per_turn: f64,
    /// Slip per kilonewton, as a ratio.
    pub slip_per_kilonewton: f64,
    /// Delay of the engine-speed channel, s.
    pub delay: f64,
    /// From the recordings, or from the job and an assumption.
    pub measured: bool,
}

/// One state.
#[derive(Clone, Debug)]
pub struct StateOutcome {
    /// Name.
    pub name: String,
    /// Fuel as written.
    pub fuel: Option<String>,
    /// Pulls.
    pub pulls: Vec<PullOutcome>,
    /// Curve on the grid points that enough pulls reach.
    pub curve: Vec<Point>,
    /// Peak power, W.
    pub peak_power: PeakOutcome,
    /// Peak torque, N·m.
    pub peak_torque: PeakOutcome,
    /// Peak on other standards.
    pub restated: Vec<RestatedOutcome>,
    /// Relative standard deviation of a pull's level and its degrees of freedom.
    pub repeatability: (f64, f64),
    /// True when it is assumed for want of repeats.
    pub repeatability_assumed: bool,
    /// Heat soak.
    pub soak: Option<SoakOutcome>,
    /// Budget of the peak power.
    pub budget: Vec<BudgetItem>,
    /// Monte Carlo 95 % interval of the power at the peak's grid point, W, beside the propagated one.
    pub monte_carlo: (f64, f64),
    /// Channels.
    pub channels: Vec<ChannelOutcome>,
}

/// One pull.
#[derive(Clone, Debug)]
pub struct PullOutcome {
    /// Name.
    pub name: String,
    /// Log file.
    pub file: String,
    /// Start in the log, s.
    pub start: f64,
    /// Length, s.
    pub seconds: f64,
    /// Samples used.
    pub samples: usize,
    /// Engine speeds covered, 1/min.
    pub reach: (f64, f64),
    /// Weather reading of the log.
    pub air: crate::AirReading,
    /// Factor and what the formula alone gives.
    pub factor: f64,
    /// What the formula alone gives.
    pub blind: f64,
    /// Remarks on the factor.
    pub factor_notes: Vec<String>,
    /// Peak corrected crank power of this pull, W and 1/min.
    pub peak: (f64, f64),
    /// Level against the mean of the state, relative.
    pub level: f64,
    /// Loss at the peak, W.
    pub loss: f64,
    /// Coast-down in words.
    pub coast: String,
    /// Repairs: words, count, first line.
    pub repairs: Vec<(String, usize, usize)>,
    /// Anything unusual.
    pub flags: Vec<String>,
    /// Corrected crank power on the grid, W; NaN where not reached.
    pub curve: Vec<f64>,
}

/// One point of a state's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Index on the grid.
    pub index: usize,
    /// Engine speed, 1/min.
    pub rpm: f64,
    /// Corrected crank power, W.
    pub power: Bounded,
    /// With the interval that holds for the whole curve, W.
    pub band: Bounded,
    /// Observed power at the measuring point, W.
    pub wheel: Bounded,
    /// Pulls that reach it.
    pub pulls: usize,
    /// Relative standard uncertainty: run part and rig part.
    pub run: f64,
    /// Rig part.
    pub rig: f64,
}

/// Peak of a fitted curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeakOutcome {
    /// Value.
    pub value: Bounded,
    /// Engine speed, 1/min.
    pub rpm: f64,
    /// At the end of the range.
    pub at_edge: bool,
}

/// Peak on another standard.
#[derive(Clone, Debug, PartialEq)]
pub struct RestatedOutcome {
    /// Id.
    pub standard: String,
    /// Mean factor and peak power, W; or the refusal.
    pub figure: Result<(f64, Bounded), String>,
    /// Remarks.
    pub notes: Vec<String>,
    /// Outside the standard's range in any pull.
    pub outside: bool,
}

/// Heat soak of a state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoakOutcome {
    /// Relative change per pull.
    pub per_pull: Bounded,
    /// Relative change from first to last pull, as the heat model has it.
    pub first_to_last: f64,
    /// Heat of the last pull: K, or share of the largest (of what a pull leaves in an hour, where none was warmer).
    pub heat: f64,
    /// Heat is in kelvin of charge temperature.
    pub in_kelvin: bool,
}

/// Where a source of uncertainty lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Differs from pull to pull and averages out.
    Run,
    /// The same in every pull on one rig; cancels in a comparison as far as it acts alike on both states.
    Rig,
    /// The reduction itself: the same in every pull of a state; cancels in a comparison of curves of one shape.
    Method,
}

/// One line of a budget.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetItem {
    /// Source.
    pub source: &'static str,
    /// Where it comes from.
    pub part: Part,
    /// Input uncertainty in words.
    pub input: String,
    /// Relative standard uncertainty it adds.
    pub relative: f64,
    /// What would shrink it.
    pub remedy: &'static str,
}

/// A channel beside the power, SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct ChannelOutcome {
    /// Role.
    pub role: fairpull_recordings::Role,
    /// Mean over the band, mean of pulls.
    pub mean: Bounded,
    /// Standard deviation of a pull's mean and number of pulls.
    pub scatter: (f64, usize),
    /// Mean over the band of each pull.
    pub per_pull: Vec<f64>,
    /// At the speed of peak power.
    pub at_peak: Bounded,
    /// Smallest and largest reading in the pulls.
    pub extremes: (f64, f64),
    /// On the grid; NaN where nothing was read.
    pub curve: Vec<f64>,
}

/// Verdict on a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The interval of the mean change lies above zero.
    Gain,
    /// Below zero.
    Loss,
    /// It contains zero.
    NoDetectableChange,
}

/// Two states compared; gains are relative (0.02 for 2 %).
#[derive(Clone, Debug)]
pub struct ComparisonOutcome {
    /// Index of the state compared from.
    pub from: usize,
    /// Index of the state compared to.
    pub to: usize,
    /// Gain at each common grid speed: 1/min, pointwise, whole-curve.
    pub curve: Vec<(f64, Bounded, Bounded)>,
    /// Mean gain over the band.
    pub mean: Bounded,
    /// Mean gain over the band, W.
    pub mean_watts: Bounded,
    /// Gain of the peak.
    pub peak: Bounded,
    /// Gain of the peak, W.
    pub peak_watts: Bounded,
    /// Smallest detectable mean gain.
    pub smallest_detectable: f64,
    /// Verdict on the mean gain.
    pub verdict: Verdict,
    /// The change lies within ± this with 95 % confidence.
    pub within: f64,
    /// More pulls a state that would settle a change of the size seen.
    pub more_pulls: Option<usize>,
    /// Part of the naive difference that heat soak explains, relative.
    pub soak_removed: f64,
    /// Mean gain if the engine's control compensated for the ambient (factor 1 in both states), where the job does
    /// not say so of a charged engine and the air differs.
    pub if_compensated: Option<f64>,
    /// Remarks.
    pub remarks: Vec<String>,
    /// Channels: role, from, to, change.
    pub channels: Vec<(fairpull_recordings::Role, f64, f64, Bounded)>,
}

/// One grid point of one pull worked through, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// Pull.
    pub pull: String,
    /// Engine speed, 1/min.
    pub rpm: f64,
    /// Roller speed and acceleration.
    pub v: f64,
    /// Acceleration.
    pub a: f64,
    /// Equivalent mass of the rig, kg.
    pub mass: f64,
    /// Brake force or torque reading over radius, N.
    pub brake: f64,
    /// Own drag of the rig, N.
    pub parasitic: f64,
    /// Contact force, N.
    pub contact: f64,
    /// Slip as a ratio.
    pub slip: f64,
    /// Speed of the tyre's rim, m/s, and how fast it grows, m/s².
    pub rim: f64,
    /// Acceleration of the rim, m/s².
    pub rim_acceleration: f64,
    /// Rotating mass of the car, kg.
    pub rotating: f64,
    /// Observed wheel, crank and corrected power, W.
    pub wheel: f64,
    /// Crank power, W.
    pub crank: f64,
    /// Corrected, W.
    pub corrected: f64,
    /// Factor.
    pub factor: f64,
    /// Total, vapour pressure, kPa; temperature, °C.
    pub total_kpa: f64,
    /// Vapour pressure, kPa.
    pub vapour_kpa: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Drag force of driveline and tyres at the rim speed, N.
    pub drag: f64,
    /// Power handed to the loss model, W.
    pub handed: f64,
    /// Load share.
    pub share: f64,
    /// Speed of the rim at the two moments around the point and the two beside these, m/s.
    pub rims: [f64; 4],
    /// From the first to the third of these moments, and from the second to the fourth, s.
    pub apart: [f64; 2],
    /// How far the point lies from the second to the third, 0 to 1.
    pub between: f64,
    /// Rotating mass of the car with the clutch open, kg.
    pub open: f64,
    /// Own drag of the rig, or force read at the hubs, in the coast-down at the rim speed, N.
    pub minus: f64,
    /// Deceleration of the coast-down: m/s², 1/s, 1/m.
    pub coast: [f64; 3],
    /// The coast-down is the pull's own, not the mean of the others.
    pub own_coast: bool,
}
