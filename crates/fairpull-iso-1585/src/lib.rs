//! Net engine power to ISO 1585.
//!
//! **Scope.** Reciprocating and rotary engines of road vehicles, spark and compression ignition, naturally aspirated
//! or pressure-charged. [`Iso1585`] is the third edition (1992), [`Iso1585Ed2020`] the fourth.
//!
//! **Formula.** Spark ignition α_a = (99/p_s)^1.2 · (T/298)^0.6; compression ignition α_d = f_a^f_m. p_s is the dry
//! pressure in kPa, T = t + 273 the temperature of the air entering the intake system.
//!
//! **Leaves out.** Fuel corrections, and the reduction of the temperature exponent to zero while an intake-air
//! heater works at 25 °C.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_iso_1585::Iso1585;
//! // 101.325 kPa, 15 °C, dry: hand-worked value of the 1.2/0.6 formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(101.325),
//!     Temperature::from_celsius(15.0),
//!     VapourPressure::from_kilopascals(0.0),
//! )?;
//! let factor = Iso1585.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 0.9528137873669427 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// ISO 1585:1992, third edition.
#[derive(Clone, Copy, Debug)]
pub struct Iso1585;

/// ISO 1585:2020, fourth edition: spark ignition as remembered; its compression-ignition exponents are not known
/// here, so such an engine is refused.
#[derive(Clone, Copy, Debug)]
pub struct Iso1585Ed2020;

impl CorrectionStandard for Iso1585 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_1992
    }

    #[inline]
    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::ed_1992(air, engine)
    }
}

impl CorrectionStandard for Iso1585Ed2020 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_2020
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::ed_2020(air, engine)
    }
}

/// The editions, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Iso1585, &Iso1585Ed2020];

#[cfg(test)]
fairpull_conformance::standard_tests!(iso_1585, crate::Iso1585);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso_1585_2020, crate::Iso1585Ed2020);
