//! The arithmetic, clause beside each line.

use crate::card::{AUTO, CASE_G};
use crate::constants::{Case, EFFICIENCY, EFFICIENCY_CITE, FRICTION, METHOD, REFERENCE, TEXT};
use fairpull_core::family::mechanical_efficiency;
use fairpull_core::{
    Air, ChargeCooling, Charging, Cite, Engine, Factor, Ignition, Input, Limit, Notice, Reading, Refusal,
    StandardCard,
};
use libm::pow;

/// Ambient of an engine: at the site or at the reference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ambient {
    pressure_kpa: f64,
    vapour_kpa: f64,
    temperature_k: f64,
    coolant_k: f64,
}

impl Ambient {
    /// 100 kPa, 298 K, 30 % of 3.2 kPa, charge coolant 298 K.
    pub const REFERENCE: Self = Self::new(100.0, 298.0, 298.0).humid(0.3, 3.2);

    /// Dry air of total pressure in kPa, temperature in K (as the text prints it) and charge-coolant temperature in K.
    #[must_use]
    pub const fn new(pressure_kpa: f64, temperature_k: f64, coolant_k: f64) -> Self {
        Self { pressure_kpa, vapour_kpa: 0.0, temperature_k, coolant_k }
    }

    /// With relative humidity φ (0 to 1) and saturation pressure p_s, kPa.
    #[must_use]
    pub const fn humid(mut self, humidity: f64, saturation_kpa: f64) -> Self {
        self.vapour_kpa = humidity * saturation_kpa;
        self
    }

    fn check(&self) -> Result<(), Refusal> {
        let cite = METHOD.cite;
        for (value, what, unit, low, high) in [
            (self.pressure_kpa, "ambient pressure", "kPa", 30.0, 130.0),
            (self.vapour_kpa, "vapour pressure", "kPa", 0.0, 0.5 * self.pressure_kpa),
            (self.temperature_k, "ambient temperature", "K", 200.0, 360.0),
            (self.coolant_k, "charge-coolant temperature", "K", 200.0, 420.0),
        ] {
            if !value.is_finite() {
                return Err(Refusal::NotFinite { what, unit });
            }
            Limit { what, unit, low, high, cite }.check(value)?;
        }
        Ok(())
    }
}

/// What the method gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Relative {
    /// Ratio of indicated power, site over reference.
    pub k: f64,
    /// Power adjustment: P_x = α·P_r.
    pub alpha: f64,
    /// Fuel consumption adjustment: b_x = β·b_r.
    pub beta: f64,
}

/// The relative-power method from `reference` to `site`, `efficiency` the mechanical efficiency at the reference
/// (0.1 to 1).
///
/// # Errors
/// [`Refusal::NotFinite`] or [`Refusal::OutOfRange`] naming the reading; [`Refusal::Other`] where no power is left.
pub fn relative(
    case: &Case,
    reference: &Ambient,
    site: &Ambient,
    efficiency: f64,
) -> Result<Relative, Refusal> {
    reference.check()?;
    site.check()?;
    let eta = Limit { what: "mechanical efficiency", unit: "1", low: 0.1, high: 1.0, cite: METHOD.cite }
        .check(efficiency)?;
    // ISO 3046-1: k = ((p_x − a·φ_x·p_sx)/(p_r − a·φ_r·p_sr))^m · (T_r/T_x)^n · (T_cr/T_cx)^s
    let pressure = (site.pressure_kpa - case.a * site.vapour_kpa)
        / (reference.pressure_kpa - case.a * reference.vapour_kpa);
    let k = pow(pressure, case.m)
        * pow(reference.temperature_k / site.temperature_k, case.n)
        * pow(reference.coolant_k / site.coolant_k, case.s);
    // ISO 3046-1: α = k − 0.7·(1 − k)·(1/η_m − 1)
    let alpha = k - FRICTION * (1.0 - k) * (1.0 / eta - 1.0);
    if alpha <= 0.0 {
        return Err(Refusal::Other {
            why: "with this mechanical efficiency and ambient the method leaves no power",
            cite: METHOD.cite,
        });
    }
    // ISO 3046-1: β = k/α
    Ok(Relative { k, alpha, beta: k / alpha })
}

/// Substitute reference pressure of a turbocharged engine that does not reach its limits at the reference:
/// p_ra = p_r·(r_r/r_max), kPa.
#[must_use]
pub fn substitute_pressure(reference_kpa: f64, ratio_at_reference: f64, largest_ratio: f64) -> f64 {
    reference_kpa * (ratio_at_reference / largest_ratio)
}

pub(crate) fn by_engine(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    AUTO.admit(engine)?;
    let case = match (engine.ignition, engine.charging, engine.charge_cooling) {
        (Ignition::Compression, Charging::None, _) => &Case::A,
        (Ignition::Compression, Charging::Turbocharged, ChargeCooling::None) => &Case::C,
        (Ignition::Compression, Charging::Turbocharged, _) => &Case::D,
        (Ignition::Spark, Charging::None, _) => &Case::SPARK_LIQUID,
        _ => {
            return Err(Refusal::Other {
                why: "no case of this text is known for this kind of charging and ignition",
                cite: Cite::new(TEXT, "table of cases", Reading::Doubtful),
            });
        }
    };
    by_case(&AUTO, case, air, engine)
}

pub(crate) fn case_g(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &CASE_G;
    card.admit(engine)?;
    if engine.charging != Charging::Turbocharged || engine.charge_cooling == ChargeCooling::None {
        return Err(Refusal::Other {
            why: "this case is for turbocharged and charge-cooled engines; iso-3046-f is for aspirated ones",
            cite: Case::G.cite,
        });
    }
    by_case(card, &Case::G, air, engine)
}

pub(crate) fn by_case(
    card: &'static StandardCard,
    case: &'static Case,
    air: &Air,
    engine: &Engine,
) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    let (eta, assumed) = mechanical_efficiency(engine, EFFICIENCY, &EFFICIENCY_CITE)?;
    let reference = Ambient::REFERENCE;
    let site = Ambient::new(
        air.station().kilopascals(),
        air.temperature().celsius() + REFERENCE.kelvin_offset,
        reference.coolant_k,
    )
    .humid(1.0, air.vapour().kilopascals());
    // ISO 3046-1: α leads from reference to site, a factor from site to reference
    let value = 1.0 / relative(case, &reference, &site, eta)?.alpha;
    let mut factor = card.judge(value, air, engine);
    if case.cite.reading >= Reading::Remembered {
        factor = factor.noting(Notice::RestsOn { what: "exponents of k", cite: &case.cite });
    }
    if let Some(notice) = assumed {
        factor = factor.noting(notice);
    }
    if case.s != 0.0 {
        factor = factor.noting(Notice::Assumed {
            what: &Input { name: "charge-coolant temperature", unit: "K" },
            value: reference.coolant_k,
            cite: &METHOD.cite,
        });
    }
    Ok(factor)
}
