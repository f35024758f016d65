//! Engine power to SAE J816.
//!
//! **Scope.** Only to read old figures: spark-ignition engines, gross or net, version b of 1971. The text also covers
//! compression ignition, whose factor is not known here, so such an engine is refused.
//!
//! **Formula.** k = (736.6/(p − p_v))·√((t + 273)/302.4), pressures in mmHg, applied to *indicated* power:
//! P_b,c = k·P_i − P_f.
//!
//! The factor returned is the one on *brake* power, (k − (1 − η))/η with η the mechanical efficiency. Where it is not
//! given, 0.85 is assumed and the result says so; η = 1 gives k itself.
//!
//! **Leaves out.** Charged engines have no clause of their own: the formula is used and marked as extrapolated.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_sae_j816::SaeJ816;
//! // 99 kPa dry, 25 °C, k itself: hand-worked
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(100.0),
//!     Temperature::from_celsius(25.0),
//!     VapourPressure::from_kilopascals(1.0),
//! )?;
//! let factor = SaeJ816.factor(&air, &Engine::new(Ignition::Spark, Charging::None).with_mechanical_efficiency(1.0))?;
//! assert!((factor.value() / 0.9847292552857544 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// SAE J816b.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ816;

impl CorrectionStandard for SaeJ816 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&SaeJ816];

#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j816, crate::SaeJ816);
