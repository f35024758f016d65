//! The job file, parsed once into types.

use fairpull_core::{
    AbsolutePressure, Air, ChargeCooling, Charging, Engine, Gearbox, Ignition, Rating, Temperature,
};
use fairpull_recordings::Layout;

/// Schema of the job file.
pub const JOB_SCHEMA: &str = "fairpull-job-1";

/// A value with a relative standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// SI value.
    pub value: f64,
    /// Relative standard uncertainty, 0.01 for 1 %.
    pub relative: f64,
}

/// Everything a job declares.
#[derive(Clone, Debug)]
pub struct Job {
    /// Name of the job file as given.
    pub file: String,
    /// Title.
    pub title: String,
    /// Note, e.g. that the data is invented.
    pub note: Option<String>,
    /// The car.
    pub vehicle: Vehicle,
    /// The rig.
    pub rig: Rig,
    /// Driveline loss.
    pub loss: Loss,
    /// Id of the standard of the basis.
    pub standard: String,
    /// Rating of the engine as dressed on the rig.
    pub rating: Rating,
    /// Further standards to restate the peak on.
    pub also: Vec<String>,
    /// Units of power for reading, symbols of `fairpull-units`.
    pub power_units: Vec<&'static str>,
    /// Units of torque for reading.
    pub torque_units: Vec<&'static str>,
    /// Standard uncertainty of the barometer, Pa.
    pub pressure_u: f64,
    /// Standard uncertainty of the thermometer, K.
    pub temperature_u: f64,
    /// Standard uncertainty of relative humidity, 0 to 1.
    pub humidity_u: f64,
    /// Engine-speed grid.
    pub grid: Grid,
    /// How the logs are read.
    pub layout: Layout,
    /// Fuel grades the customer can buy, as written.
    pub fuels: Vec<String>,
    /// Octane requirement and weight of sensitivity, if the job states them.
    pub knock: Option<Knock>,
    /// States.
    pub states: Vec<StateJob>,
    /// What was assumed because the job does not say, in words.
    pub assumed: Vec<String>,
}

/// The car in the gear used.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// Name.
    pub name: String,
    /// Kind of engine.
    pub engine: Engine,
    /// Displacement, m³.
    pub displacement: Option<f64>,
    /// Cylinders.
    pub cylinders: Option<u32>,
    /// Bore, m.
    pub bore: Option<f64>,
    /// Stroke, m.
    pub stroke: Option<f64>,
    /// Compression ratio.
    pub compression_ratio: Option<f64>,
    /// Driven wheels.
    pub driven_wheels: u8,
    /// Loaded tyre radius, m.
    pub tyre_radius: Known,
    /// Engine revolutions per wheel revolution.
    pub ratio: f64,
    /// Engine, flywheel and clutch, kg·m².
    pub engine_inertia: Known,
    /// Gearbox referred to the engine, kg·m².
    pub gearbox_inertia: f64,
    /// Each driven wheel with tyre, kg·m².
    pub wheel_inertia: f64,
    /// Kind of gearbox.
    pub gearbox: Option<Gearbox>,
}

/// Kind of rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RigKind {
    /// The roller's inertia is the only load.
    InertiaRoller,
    /// Roller with a brake and a force cell.
    BrakedRoller,
    /// Brakes at the hubs with torque sensors.
    Hub,
}

/// The rig.
#[derive(Clone, Debug)]
pub struct Rig {
    /// Name.
    pub name: Option<String>,
    /// Kind.
    pub kind: RigKind,
    /// Inertia of roller set or hub brakes, kg·m².
    pub inertia: Known,
    /// Radius of the roller, m; the tyre radius on a hub rig.
    pub radius: Known,
    /// Own drag, N, N per m/s, N per (m/s)².
    pub parasitic: [f64; 3],
    /// Relative standard uncertainty of the force or torque reading.
    pub force: f64,
}

/// Driveline loss.
#[derive(Clone, Debug)]
pub struct Loss {
    /// Id of the loss model.
    pub model: String,
    /// Load-proportional share and its standard uncertainty.
    pub share: Option<(f64, f64)>,
    /// Constant drag, W, and its standard uncertainty.
    pub constant: Option<(f64, f64)>,
    /// Largest permitted input torque, N·m.
    pub max_input_torque: Option<f64>,
    /// Direct gear.
    pub direct_gear: Option<bool>,
    /// Elements in series.
    pub elements: Vec<fairpull_core::Element>,
}

/// Engine-speed grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Lowest speed, 1/min; none: as low as the pulls go.
    pub from: Option<f64>,
    /// Highest speed, 1/min; none: as high as the pulls go.
    pub to: Option<f64>,
    /// Step, 1/min.
    pub step: f64,
    /// Finest detail of the curve, 1/min, for the expert; none: the default.
    pub smoothing: Option<f64>,
    /// Seed of the random draws.
    pub seed: u64,
}

/// Octane requirement of the engine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knock {
    /// Requirement and standard uncertainty, octane number.
    pub requirement: Option<(f64, f64)>,
    /// Weight of sensitivity and standard uncertainty.
    pub k: Option<(f64, f64)>,
}

/// One state of the car.
#[derive(Clone, Debug)]
pub struct StateJob {
    /// Name.
    pub name: String,
    /// Fuel as written.
    pub fuel: Option<String>,
    /// Logs.
    pub logs: Vec<LogJob>,
}

/// One log of a state.
#[derive(Clone, Debug)]
pub struct LogJob {
    /// File as written in the job.
    pub file: String,
    /// Byte range of the file name in the job.
    pub span: core::ops::Range<usize>,
    /// Start, minutes since 1970-01-01T00:00.
    pub start_minute: Option<f64>,
    /// Weather station during the log.
    pub air: AirReading,
    /// Why the log is left out, when it is.
    pub skip: Option<String>,
}

/// A weather reading, kept as read so that its uncertainty can be propagated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirReading {
    /// Station pressure.
    pub station: AbsolutePressure,
    /// Temperature.
    pub temperature: Temperature,
    /// Relative humidity, 0 to 1, at that temperature.
    pub humidity: f64,
    /// The air of that reading.
    pub air: Air,
}

pub(crate) fn ignition(word: &str) -> Option<Ignition> {
    match word {
        "spark" => Some(Ignition::Spark),
        "compression" => Some(Ignition::Compression),
        _ => None,
    }
}

pub(crate) fn charging(word: &str) -> Option<Charging> {
    match word {
        "none" => Some(Charging::None),
        "supercharged" => Some(Charging::Supercharged),
        "turbocharged" => Some(Charging::Turbocharged),
        _ => None,
    }
}

pub(crate) fn cooling(word: &str) -> Option<ChargeCooling> {
    match word {
        "none" => Some(ChargeCooling::None),
        "air" => Some(ChargeCooling::Air),
        "liquid" => Some(ChargeCooling::Liquid),
        _ => None,
    }
}

pub(crate) fn rig_kind(word: &str) -> Option<RigKind> {
    match word {
        "inertia-roller" => Some(RigKind::InertiaRoller),
        "braked-roller" => Some(RigKind::BrakedRoller),
        "hub" => Some(RigKind::Hub),
        _ => None,
    }
}

pub(crate) fn gearbox(word: &str) -> Option<Gearbox> {
    match word {
        "manual" | "dual-clutch" | "automated-manual" => Some(Gearbox::ToothClutch),
        "planetary" => Some(Gearbox::Planetary),
        "converter" => Some(Gearbox::Converter),
        _ => None,
    }
}

pub(crate) fn rating(word: &str) -> Option<Rating> {
    match word {
        "net" => Some(Rating::Net),
        "gross" => Some(Rating::Gross),
        _ => None,
    }
}

pub(crate) fn element(word: &str) -> Option<fairpull_core::Element> {
    use fairpull_core::Element as E;
    Some(match word {
        "spur-gear" => E::SpurGear,
        "helical-gear" => E::HelicalGear,
        "bevel-gear" => E::BevelGear,
        "roller-chain" => E::RollerChain,
        "silent-chain" => E::SilentChain,
        "cogged-belt" => E::CoggedBelt,
        "vee-belt" => E::VeeBelt,
        "hydraulic-coupling" => E::HydraulicCoupling,
        "hydraulic-converter" => E::HydraulicConverter,
        _ => return None,
    })
}
