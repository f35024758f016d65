//! A pipe question as data: one run, two inside diameters, and what was measured.

use fairpull_core::{Refusal, Temperature};
use serde::{Deserialize, Serialize};

use crate::check::MECHANICS;
use crate::friction::Viscosity;
use crate::{
    DiameterComparison, Figure, Known, Pipe, PipeLoss, PressureGiven, TRADE_REPORT, TemperatureReading,
    compare_diameters,
};

/// A pipe run and the diameters to compare.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct PipeGiven {
    /// Mass flow, kg/s.
    pub mass_flow_kg_s: Figure,
    /// Gas temperature at the known end, °C.
    pub temperature_c: Figure,
    /// Pressure at the inlet, where that is the known end.
    #[serde(default)]
    pub inlet: Option<PressureGiven>,
    /// Pressure at the outlet, where that is the known end (an exhaust that ends in the open).
    #[serde(default)]
    pub outlet: Option<PressureGiven>,
    /// Station pressure, for a gauge reading.
    #[serde(default)]
    pub barometer: Option<PressureGiven>,
    /// Inside diameter before, mm.
    pub before_mm: f64,
    /// Inside diameter after, mm.
    pub after_mm: f64,
    /// Length, m.
    pub length_m: f64,
    /// Wall roughness, mm: 0.05 for a used steel tube, 0.005 for a smooth duct.
    pub roughness_mm: f64,
    /// Sum of the loss coefficients of bends, entries and exits.
    pub loss_coefficients: f64,
    /// Ratio of specific heats: 1.4 air, 1.33 exhaust gas.
    #[serde(default = "exhaust_gas")]
    pub gamma: f64,
    /// Expansion ratio of the turbine before the pipe, if there is one.
    #[serde(default)]
    pub expansion_ratio: Option<Figure>,
    /// Measured change, kPa: before the turbine if there is one, else of the pipe; lower is negative.
    #[serde(default)]
    pub measured_change_kpa: Option<Figure>,
}

const fn exhaust_gas() -> f64 {
    1.33
}

/// Loss of one diameter.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct PipeSide {
    /// Inside diameter, mm.
    pub diameter_mm: f64,
    /// Mach number at the known end.
    pub mach: Figure,
    /// Loss to use, kPa.
    pub loss_kpa: Figure,
    /// Loss of incompressible flow, kPa.
    pub incompressible_kpa: Figure,
    /// True when the loss to use is the adiabatic one.
    pub compressible: bool,
}

/// Two diameters side by side: what the pipe explains and what was measured.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct PipeReport {
    /// Before.
    pub before: PipeSide,
    /// After.
    pub after: PipeSide,
    /// Change that the pipe explains, kPa.
    pub explained_kpa: Figure,
    /// The same before the turbine, kPa.
    pub explained_before_turbine_kpa: Option<Figure>,
    /// Measured change, kPa.
    pub measured_kpa: Option<Figure>,
    /// Measured less explained, kPa.
    pub unexplained_kpa: Option<Figure>,
    /// Both in words.
    pub words: &'static str,
    /// What the trade reports of such a change, for the reader: never an input.
    pub trade: String,
    /// The caution.
    pub caution: &'static str,
}

impl PipeGiven {
    /// A used steel tube full of exhaust gas, without bends, neither end known yet.
    #[must_use]
    pub const fn new(
        mass_flow_kg_s: Figure,
        temperature_c: Figure,
        before_mm: f64,
        after_mm: f64,
        length_m: f64,
    ) -> Self {
        Self {
            mass_flow_kg_s,
            temperature_c,
            inlet: None,
            outlet: None,
            barometer: None,
            before_mm,
            after_mm,
            length_m,
            roughness_mm: 0.05,
            loss_coefficients: 0.0,
            gamma: exhaust_gas(),
            expansion_ratio: None,
            measured_change_kpa: None,
        }
    }

    /// The pipe of the calculation, with the diameter before.
    ///
    /// # Errors
    /// [`Refusal::Missing`] when not exactly one end is given or a gauge reading has no barometer.
    pub fn pipe(&self) -> Result<Pipe, Refusal> {
        let barometer = self.barometer.map(|b| b.read("barometer", None)).transpose()?;
        let known = match (&self.inlet, &self.outlet) {
            (Some(p), None) => Known::Inlet(p.read("pressure at the pipe inlet", barometer.as_ref())?),
            (None, Some(p)) => Known::Outlet(p.read("pressure at the pipe outlet", barometer.as_ref())?),
            _ => {
                return Err(Refusal::Missing {
                    what: "pressure at one end of the pipe",
                    mend: "give either inlet or outlet, not both and not neither",
                    cite: MECHANICS,
                });
            }
        };
        let temperature = Temperature::from_celsius(self.temperature_c.value);
        Ok(Pipe {
            mass_flow: self.mass_flow_kg_s,
            temperature: TemperatureReading::new(temperature, self.temperature_c.uncertainty),
            known,
            diameter: self.before_mm / 1e3,
            length: self.length_m,
            roughness: self.roughness_mm / 1e3,
            loss_coefficients: self.loss_coefficients,
            gamma: self.gamma,
            viscosity: Viscosity::DiluteGas,
        })
    }

    /// Both diameters side by side.
    ///
    /// # Errors
    /// As [`PipeGiven::pipe`] and [`compare_diameters`].
    pub fn compare(&self) -> Result<PipeReport, Refusal> {
        let (first, second) = (self.before_mm / 1e3, self.after_mm / 1e3);
        let measured = self.measured_change_kpa.map(|m| m.scaled(1e3));
        let c: DiameterComparison =
            compare_diameters(&self.pipe()?, first, second, self.expansion_ratio, measured)?;
        let kpa = |f: Figure| f.scaled(1e-3);
        Ok(PipeReport {
            before: side(self.before_mm, &c.first),
            after: side(self.after_mm, &c.second),
            explained_kpa: kpa(c.explained),
            explained_before_turbine_kpa: c.explained_before_turbine.map(kpa),
            measured_kpa: c.measured.map(kpa),
            unexplained_kpa: c.unexplained.map(kpa),
            words: c.words,
            trade: format!("{}: {}", TRADE_REPORT.document, TRADE_REPORT.clause),
            caution: crate::CAUTION,
        })
    }
}

fn side(diameter_mm: f64, loss: &PipeLoss) -> PipeSide {
    PipeSide {
        diameter_mm,
        mach: loss.mach,
        loss_kpa: loss.loss.scaled(1e-3),
        incompressible_kpa: loss.incompressible.scaled(1e-3),
        compressible: loss.compressible,
    }
}
