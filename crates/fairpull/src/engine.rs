//! The engine as a question states it.

use fairpull_core::{ChargeCooling, Charging, Engine, Ignition};
use fairpull_units::Dimension;
use serde::Serialize;

use crate::AskError;
use crate::air::si;

/// Kind of engine, in words and `<number><unit>`.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct EngineQuestion {
    /// `spark` (default) or `compression`.
    pub ignition: Option<String>,
    /// `none` (default), `supercharged` or `turbocharged`.
    pub charging: Option<String>,
    /// `none` (default), `air` or `liquid`.
    pub charge_cooling: Option<String>,
    /// Fuel per working cycle and litre of swept volume, mg/L (a plain number or `60mg/L`).
    pub fuel_per_stroke: Option<String>,
    /// Absolute pressure ratio of the charger.
    pub charge_pressure_ratio: Option<f64>,
    /// Mechanical efficiency, e.g. `85%`.
    pub mechanical_efficiency: Option<String>,
    /// The control holds the charge against the ambient.
    pub ambient_compensated: bool,
}
fairpull_tree::fields!(EngineQuestion default {
    ignition, charging, charge_cooling, fuel_per_stroke, charge_pressure_ratio, mechanical_efficiency,
    ambient_compensated,
});

impl EngineQuestion {
    /// The engine.
    ///
    /// # Errors
    /// [`AskError`] naming the field.
    pub fn engine(&self) -> Result<Engine, AskError> {
        let ignition = match self.ignition.as_deref() {
            None | Some("spark") => Ignition::Spark,
            Some("compression") => Ignition::Compression,
            Some(x) => return Err(word("ignition", x, "spark or compression")),
        };
        let charging = match self.charging.as_deref() {
            None | Some("none") => Charging::None,
            Some("supercharged") => Charging::Supercharged,
            Some("turbocharged") => Charging::Turbocharged,
            Some(x) => return Err(word("charging", x, "none, supercharged or turbocharged")),
        };
        let cooling = match self.charge_cooling.as_deref() {
            None | Some("none") => ChargeCooling::None,
            Some("air") => ChargeCooling::Air,
            Some("liquid") => ChargeCooling::Liquid,
            Some(x) => return Err(word("charge_cooling", x, "none, air or liquid")),
        };
        if self.ambient_compensated && charging == Charging::None {
            return Err(AskError::new(
                "ambient_compensated",
                "true",
                "a naturally aspirated engine cannot hold its charge against the ambient",
                "leave it out, or state the charging",
            ));
        }
        let mut engine =
            Engine::new(ignition, charging).cooled(cooling).compensated(self.ambient_compensated);
        if let Some(text) = &self.fuel_per_stroke {
            let value = match fairpull_units::decimal(text.trim().replace(',', ".").as_bytes()) {
                Some(x) => x,
                None => si("fuel_per_stroke", text, Dimension::FuelPerCycle)? * 1000.0,
            };
            engine.fuel_per_cycle = Some(within("fuel_per_stroke", text, value, 1.0, 500.0, "mg/L")?);
        }
        if let Some(r) = self.charge_pressure_ratio {
            engine.charge_pressure_ratio = Some(within(
                "charge_pressure_ratio",
                &r.to_string(),
                r,
                1.0,
                10.0,
                "(absolute, outlet over inlet)",
            )?);
        }
        if let Some(text) = &self.mechanical_efficiency {
            let value = si("mechanical_efficiency", text, Dimension::Ratio)?;
            engine.mechanical_efficiency =
                Some(within("mechanical_efficiency", text, value, 0.3, 1.0, "as a ratio; write e.g. 85%")?);
        }
        Ok(engine)
    }
}

fn word(field: &str, x: &str, choices: &str) -> AskError {
    AskError::new(field, x, "is not known", format!("write {choices}"))
}

pub(crate) fn within(
    field: &str,
    text: &str,
    x: f64,
    low: f64,
    high: f64,
    unit: &str,
) -> Result<f64, AskError> {
    if x >= low && x <= high {
        Ok(x)
    } else {
        Err(AskError::new(
            field,
            text,
            format!("is outside {low} to {high} {unit}"),
            "check the value and its unit",
        ))
    }
}
