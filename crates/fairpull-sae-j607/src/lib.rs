//! Gross power of small engines to SAE J607.
//!
//! **Scope.** Only to read old figures: small spark-ignition engines, gross, withdrawn. On chassis dynamometers the same
//! formula is often called "STD" and put on any engine; the result says that this is a convention.
//!
//! **Formula.** (29.92/p_d)·√((F + 460)/520), p_d dry pressure in inHg, F intake temperature in °F.
//!
//! **Leaves out.** Friction, and any range of validity: none is known.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_sae_j607::SaeJ607;
//! // 99 kPa dry, 25 °C: this code reads 4.0 % more than the references of 99 kPa; hand-worked
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(100.0),
//!     Temperature::from_celsius(25.0),
//!     VapourPressure::from_kilopascals(1.0),
//! )?;
//! let factor = SaeJ607.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.040036699137792 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// SAE J607a.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ607;

impl CorrectionStandard for SaeJ607 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&SaeJ607];

#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j607, crate::SaeJ607);
