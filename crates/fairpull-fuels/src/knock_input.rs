//! A question about knock margins as data: engine, anchor, fuels, changes.

use std::string::{String, ToString};
use std::vec::Vec;

use fairpull_core::{Anchor, Changes, Cite, CycleState, KnockPoint, Reading, Refusal, Span};
use serde::{Deserialize, Serialize};

use crate::{FuelTextError, Slopes, octane_index, parse_fuel};

/// A value with standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stated {
    /// Value.
    pub value: f64,
    /// Standard uncertainty.
    pub uncertainty: f64,
}

impl From<Stated> for Span {
    fn from(s: Stated) -> Self {
        Self::new(s.value, s.uncertainty)
    }
}

impl From<Span> for Stated {
    fn from(s: Span) -> Self {
        Self { value: s.value, uncertainty: s.uncertainty }
    }
}

/// A closed cycle in workshop units. Angles in degrees after firing top dead centre.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CycleGiven {
    /// Bore, mm.
    pub bore_mm: f64,
    /// Stroke, mm.
    pub stroke_mm: f64,
    /// Connecting-rod length, mm.
    pub rod_mm: f64,
    /// Compression ratio.
    pub compression_ratio: f64,
    /// Engine speed, 1/min.
    pub engine_speed_rpm: f64,
    /// Absolute pressure at intake valve closing, kPa; or give `ivc_gauge_kpa` with `barometer_kpa`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ivc_pressure_kpa: Option<f64>,
    /// Gauge pressure at intake valve closing, kPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ivc_gauge_kpa: Option<f64>,
    /// Station pressure, kPa absolute.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub barometer_kpa: Option<f64>,
    /// Temperature at intake valve closing, residual gas included, °C.
    pub ivc_temperature_c: f64,
    /// Intake valve closing, negative before top dead centre.
    pub ivc_angle_deg: f64,
    /// Start of burning: spark angle plus ignition lag.
    pub burn_start_deg: f64,
    /// Burn duration, 0 to 99.3 % burned: 2.016 times the 10 to 90 % duration.
    pub burn_duration_deg: f64,
    /// Air-fuel ratio by mass.
    pub air_fuel_ratio: f64,
    /// Residual gas fraction, 0 to 1.
    #[serde(default = "five_percent")]
    pub residual_fraction: f64,
}

const fn five_percent() -> f64 {
    0.05
}

const GAUGE: Cite =
    Cite::new("fairpull", "gauge pressure counts from the barometer of the moment", Reading::Derived);

impl CycleGiven {
    /// The cycle in SI units.
    ///
    /// # Errors
    /// [`Refusal::Missing`] for a gauge pressure without a barometer, or no pressure, or both kinds of it.
    pub fn state(&self) -> Result<CycleState, Refusal> {
        let what = "pressure at intake valve closing";
        let kpa = match (self.ivc_pressure_kpa, self.ivc_gauge_kpa, self.barometer_kpa) {
            (Some(absolute), None, _) => absolute,
            (None, Some(gauge), Some(barometer)) => gauge + barometer,
            (None, Some(_), None) => {
                let mend = "it is given as gauge: give barometer_kpa (station pressure, kPa absolute) too";
                return Err(Refusal::Missing { what, mend, cite: GAUGE });
            }
            _ => {
                let mend = "give either ivc_pressure_kpa (absolute) or ivc_gauge_kpa with barometer_kpa";
                return Err(Refusal::Missing { what, mend, cite: GAUGE });
            }
        };
        let metres = [self.bore_mm / 1e3, self.stroke_mm / 1e3, self.rod_mm / 1e3];
        let mut state = CycleState::new(
            metres,
            self.compression_ratio,
            self.engine_speed_rpm,
            [kpa * 1e3, self.ivc_temperature_c + 273.15, self.ivc_angle_deg],
            [self.burn_start_deg, self.burn_duration_deg],
            self.air_fuel_ratio,
        );
        state.residual_fraction = self.residual_fraction;
        Ok(state)
    }
}

/// The measured borderline point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AnchorGiven {
    /// Fuel that was just borderline there, as [`parse_fuel`] reads it.
    pub fuel: String,
    /// The cycle there; that of the question when missing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cycle: Option<CycleGiven>,
    /// Standard uncertainty of "just borderline", octane numbers.
    pub uncertainty: f64,
}

/// What differs from the state in which the requirement was determined: new less old.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ChangesGiven {
    /// Spark advance, degrees.
    pub spark_advance_deg: f64,
    /// Intake air or charge temperature, K.
    pub intake_temperature_k: f64,
    /// Intake pressure, kPa.
    pub intake_pressure_kpa: f64,
    /// Compression ratio.
    pub compression_ratio: f64,
    /// Exhaust back pressure, kPa.
    pub exhaust_pressure_kpa: f64,
    /// Coolant temperature, K.
    pub coolant_temperature_k: f64,
    /// Humidity, g/kg dry air.
    pub humidity_g_kg: f64,
    /// Altitude, m.
    pub altitude_m: f64,
    /// Lambda before and after.
    pub lambda: Option<[f64; 2]>,
}

impl From<ChangesGiven> for Changes {
    fn from(g: ChangesGiven) -> Self {
        let mut c = Self::NONE;
        c.spark_advance = g.spark_advance_deg;
        c.intake_temperature = g.intake_temperature_k;
        c.intake_pressure = g.intake_pressure_kpa;
        c.compression_ratio = g.compression_ratio;
        c.exhaust_pressure = g.exhaust_pressure_kpa;
        c.coolant_temperature = g.coolant_temperature_k;
        c.humidity = g.humidity_g_kg;
        c.altitude = g.altitude_m;
        c.lambda = g.lambda;
        c
    }
}

/// A question about knock margins.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct KnockInput {
    /// Id of the model; `end-gas-autoignition` when missing.
    pub model: Option<String>,
    /// Fuels, as [`parse_fuel`] reads them.
    pub fuels: Vec<String>,
    /// Weight K of the octane index.
    pub k: Option<Stated>,
    /// Octane index at which the engine was just borderline, for models that need it.
    pub requirement: Option<Stated>,
    /// The cycle at which the margin is wanted.
    pub cycle: Option<CycleGiven>,
    /// The measured borderline point.
    pub anchor: Option<AnchorGiven>,
    /// Changes against the state of the requirement.
    pub changes: ChangesGiven,
    /// Own slopes, for the model `declared-slopes-own`.
    pub slopes: Option<Slopes>,
}

/// A question about knock margins that cannot be answered for any fuel.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum KnockInputError {
    /// No such model.
    #[error("no knock model has the id {id:?}; there are {known}")]
    UnknownModel {
        /// The id asked for.
        id: String,
        /// Known ids.
        known: String,
    },
    /// No fuel is listed.
    #[error("no fuel is given: list at least one grade or octane number")]
    NoFuel,
    /// The fuel of the anchor cannot be read.
    #[error("fuel of the borderline point: {0}")]
    AnchorFuel(FuelTextError),
    /// A value of engine or anchor is missing or impossible.
    #[error("{place}: {refusal}")]
    Refused {
        /// Which part of the question.
        place: &'static str,
        /// Why.
        refusal: Refusal,
    },
}

impl KnockInput {
    /// The operating point that the models read.
    ///
    /// # Errors
    /// [`KnockInputError`] naming the part of the question.
    pub fn point(&self) -> Result<KnockPoint, KnockInputError> {
        let at = |place| move |refusal| KnockInputError::Refused { place, refusal };
        let mut point = KnockPoint::unknown();
        point.k = self.k.map(Span::from);
        point.requirement = self.requirement.map(Span::from);
        point.changes = self.changes.into();
        point.cycle = self.cycle.map(|c| c.state()).transpose().map_err(at("cycle"))?;
        if let Some(anchor) = &self.anchor {
            let own =
                anchor.cycle.map(|c| c.state()).transpose().map_err(at("cycle of the borderline point"))?;
            let cycle = own.or(point.cycle).ok_or(KnockInputError::Refused {
                place: "cycle of the borderline point",
                refusal: Refusal::Missing {
                    what: "cycle",
                    mend: "give the cycle at which the engine was borderline",
                    cite: crate::delay::LIVENGOOD_WU,
                },
            })?;
            let fuel = parse_fuel(&anchor.fuel).map_err(KnockInputError::AnchorFuel)?.stock.fuel();
            let index = octane_index(&fuel, point.k).map_err(at("fuel of the borderline point"))?;
            let octane = Span::new(index.value, anchor.uncertainty);
            let mut borderline = Anchor::new(cycle, octane);
            borderline.fuel = Some(fuel);
            point.anchor = Some(borderline);
        }
        Ok(point)
    }

    /// Id of the model asked for.
    #[must_use]
    pub fn model_id(&self) -> String {
        self.model.clone().unwrap_or_else(|| "end-gas-autoignition".to_string())
    }
}
