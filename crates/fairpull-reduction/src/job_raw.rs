//! The job file as it is written: text with spans, nothing interpreted yet.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_spanned::Spanned;

pub(crate) type Text = Spanned<String>;
pub(crate) type Number = Spanned<f64>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawJob {
    pub schema: Text,
    pub title: Option<String>,
    pub note: Option<String>,
    pub vehicle: RawVehicle,
    pub rig: RawRig,
    #[serde(default)]
    pub loss: RawLoss,
    pub basis: RawBasis,
    #[serde(default)]
    pub units: RawUnits,
    #[serde(default)]
    pub air: RawAirUncertainty,
    #[serde(default)]
    pub grid: RawGrid,
    #[serde(default)]
    pub format: RawFormat,
    pub columns: BTreeMap<Spanned<String>, RawColumn>,
    #[serde(default)]
    pub fuels: Vec<Text>,
    pub knock: Option<RawKnock>,
    pub state: Vec<RawState>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawVehicle {
    pub name: String,
    pub ignition: Text,
    pub charging: Text,
    pub charge_cooling: Option<Text>,
    #[serde(default)]
    pub ambient_compensated: bool,
    pub displacement: Option<Text>,
    pub cylinders: Option<Spanned<u32>>,
    pub bore: Option<Text>,
    pub stroke: Option<Text>,
    pub compression_ratio: Option<Number>,
    pub driven_wheels: Option<Spanned<u8>>,
    pub tyre_radius: Text,
    pub tyre_radius_u: Option<Text>,
    pub ratio: Number,
    pub engine_inertia: Text,
    pub engine_inertia_u: Option<Text>,
    pub gearbox_inertia: Option<Text>,
    pub wheel_inertia: Option<Text>,
    pub gearbox: Option<Text>,
    pub fuel_per_cycle: Option<Number>,
    pub charge_pressure_ratio: Option<Number>,
    pub mechanical_efficiency: Option<Text>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawRig {
    pub name: Option<String>,
    pub kind: Text,
    pub roller_inertia: Option<Text>,
    pub roller_inertia_u: Option<Text>,
    pub roller_radius: Option<Text>,
    pub roller_radius_u: Option<Text>,
    pub parasitic_a: Option<Text>,
    pub parasitic_b: Option<Number>,
    pub parasitic_c: Option<Number>,
    pub force_u: Option<Text>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawLoss {
    pub model: Option<Text>,
    pub load_share: Option<Text>,
    pub load_share_u: Option<Text>,
    pub constant_drag: Option<Text>,
    pub constant_drag_u: Option<Text>,
    pub max_input_torque: Option<Text>,
    pub direct_gear: Option<bool>,
    #[serde(default)]
    pub elements: Vec<Text>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawBasis {
    pub standard: Text,
    #[serde(default)]
    pub also: Vec<Text>,
    pub rating: Option<Text>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawUnits {
    #[serde(default)]
    pub power: Vec<Text>,
    #[serde(default)]
    pub torque: Vec<Text>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawAirUncertainty {
    pub pressure_u: Option<Text>,
    pub temperature_u: Option<Text>,
    pub humidity_u: Option<Text>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawGrid {
    pub from: Option<Text>,
    pub to: Option<Text>,
    pub step: Option<Text>,
    pub smoothing: Option<Text>,
    pub seed: Option<u64>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawFormat {
    pub separator: Option<Spanned<fairpull_recordings::Separator>>,
    pub decimal: Option<Spanned<fairpull_recordings::Decimal>>,
    pub encoding: Option<Spanned<fairpull_recordings::Encoding>>,
    pub sample_rate_hz: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawColumn {
    pub name: String,
    pub unit: Option<String>,
    pub reference: Option<fairpull_recordings::PressureReference>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawKnock {
    pub requirement: Option<Number>,
    pub requirement_u: Option<Number>,
    pub k: Option<Number>,
    pub k_u: Option<Number>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawState {
    pub name: Text,
    pub fuel: Option<Text>,
    pub air: Option<Spanned<RawAir>>,
    #[serde(default)]
    pub log: Vec<RawLog>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawLog {
    pub file: Text,
    pub start: Option<Text>,
    pub air: Option<Spanned<RawAir>>,
    pub skip: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawAir {
    pub pressure: Option<Text>,
    pub qnh: Option<Text>,
    pub elevation: Option<Text>,
    pub temperature: Text,
    pub humidity: Option<Text>,
    pub dew_point: Option<Text>,
    pub wet_bulb: Option<Text>,
}
