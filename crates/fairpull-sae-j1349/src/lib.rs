//! Net engine power to SAE J1349.
//!
//! **Scope.** [`SaeJ1349`] is the text from 2004 on, [`SaeJ1349Ed1990`] the revision of June 1990. They share the
//! formula and differ in the size of correction they accept.
//!
//! **Formula.** Spark ignition CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18, B_d dry pressure in kPa. When the engine's
//! mechanical efficiency is known the text's other form is used: P_c = (P_o + P_f)·k − P_f. Compression ignition
//! f_a^f_m with the limit of 37.2 mg.
//!
//! **Leaves out.** Fuel density and viscosity factors for compression ignition; any special treatment of boosted
//! spark ignition, which was not found: CA is given and marked as extrapolated.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_sae_j1349::SaeJ1349;
//! // 84.5 kPa, 28 °C, 0.943 kPa vapour: hand-worked value of the printed formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(84.5),
//!     Temperature::from_celsius(28.0),
//!     VapourPressure::from_kilopascals(0.942787305117147),
//! )?;
//! let factor = SaeJ1349.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.225103686849939 - 1.0).abs() < 1e-12);
//! assert!(factor.outside_range());
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// SAE J1349 as revised from 2004 on.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ1349;

/// SAE J1349, June 1990.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ1349Ed1990;

impl CorrectionStandard for SaeJ1349 {
    fn card(&self) -> &'static StandardCard {
        &card::FROM_2004
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::FROM_2004, &constants::CA, air, engine)
    }
}

impl CorrectionStandard for SaeJ1349Ed1990 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_1990
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::ED_1990, &constants::CA_1990, air, engine)
    }
}

/// The revisions, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&SaeJ1349, &SaeJ1349Ed1990];

#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j1349, crate::SaeJ1349);
#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j1349_1990, crate::SaeJ1349Ed1990);
