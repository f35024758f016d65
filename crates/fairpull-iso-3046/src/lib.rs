//! Relative power of ISO 3046-1.
//!
//! **Scope.** Reciprocating engines of any use. The text goes from reference to site, P_x = α·P_r and b_x = β·b_r; a
//! correction factor goes from measured to reference, so [`Iso3046`] gives 1/α.
//!
//! **Formula.** k = ((p_x − a·φ_x·p_sx)/(p_r − a·φ_r·p_sr))^m · (T_r/T_x)^n · (T_cr/T_cx)^s,
//! α = k − 0.7·(1 − k)·(1/η_m − 1), β = k/α. With a = 0 the pressures are total ones. The exponents come in [`Case`]s;
//! [`relative`] is the method itself, for any two ambients.
//!
//! **Leaves out.** Whether the engine reaches its limits at the reference: where it does not, put
//! [`substitute_pressure`] and the declared temperature into the reference. The plug-ins take the charge coolant to be
//! at its reference temperature and say so.
//!
//! ```
//! use fairpull_iso_3046::{Ambient, Case, relative};
//! // Mathur & Sharma (2010), example 27.1: 500 kW, 220 g/kWh; 87 kPa, 318 K, 80 % of 9.6 kPa, efficiency 0.85
//! let site = Ambient::new(87.0, 318.0, 298.0).humid(0.80, 9.6);
//! let r = relative(&Case::A, &Ambient::REFERENCE, &site, 0.85)?;
//! assert_eq!((500.0 * r.alpha * 10.0).round() / 10.0, 366.8);
//! assert_eq!((220.0 * r.beta * 10.0).round() / 10.0, 228.8);
//! # Ok::<(), fairpull_core::Refusal>(())
//! ```
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_iso_3046::Iso3046;
//! // 98.5 kPa, 20 °C, 50 % relative humidity, case A: hand-worked α
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(98.5),
//!     Temperature::from_celsius(20.0),
//!     VapourPressure::from_kilopascals(1.1662980110489034),
//! )?;
//! let factor = Iso3046.factor(&air, &Engine::new(Ignition::Compression, Charging::None).with_mechanical_efficiency(0.80))?;
//! assert!((factor.value() / (1.0 / 0.99450466734898) - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

pub use constants::Case;
pub use factor::{Ambient, Relative, relative, substitute_pressure};

/// ISO 3046-1:2002, the case chosen from the kind of engine: A, C, D or spark ignition with liquid fuel.
#[derive(Clone, Copy, Debug)]
pub struct Iso3046;

impl CorrectionStandard for Iso3046 {
    fn card(&self) -> &'static StandardCard {
        &card::AUTO
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::by_engine(air, engine)
    }
}

/// ISO 3046-1, case B: aspirated compression ignition limited by thermal load.
#[derive(Clone, Copy, Debug)]
pub struct Iso3046B;

impl CorrectionStandard for Iso3046B {
    fn card(&self) -> &'static StandardCard {
        &card::CASE_B
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::by_case(&card::CASE_B, &Case::B, air, engine)
    }
}

/// ISO 3046-1, case F: aspirated spark ignition on gas.
#[derive(Clone, Copy, Debug)]
pub struct Iso3046F;

impl CorrectionStandard for Iso3046F {
    fn card(&self) -> &'static StandardCard {
        &card::CASE_F
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::by_case(&card::CASE_F, &Case::F, air, engine)
    }
}

/// ISO 3046-1, case G: turbocharged and charge-cooled spark ignition on gas.
#[derive(Clone, Copy, Debug)]
pub struct Iso3046G;

impl CorrectionStandard for Iso3046G {
    fn card(&self) -> &'static StandardCard {
        &card::CASE_G
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::case_g(air, engine)
    }
}

/// The cases, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Iso3046, &Iso3046B, &Iso3046F, &Iso3046G];

#[cfg(test)]
fairpull_conformance::standard_tests!(iso3046, crate::Iso3046);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso3046_b, crate::Iso3046B);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso3046_f, crate::Iso3046F);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso3046_g, crate::Iso3046G);
