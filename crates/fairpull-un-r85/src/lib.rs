//! Net engine power to UN Regulation No. 85.
//!
//! **Scope.** Engines of vehicles of categories M and N, spark and compression ignition; 00 series up to Supplement 7.
//!
//! **Formula.** Spark ignition α_a = (99/p_s)^1.2 · (T/298)^0.6; compression ignition α_d = f_a^f_m with the engine
//! factor of Annex 5, 5.4.2.2. A charged engine whose control compensates for the ambient has factor 1.
//!
//! **Leaves out.** The declared-value tolerances of 5.4 (2 % at maximum power, 4 % elsewhere): they compare a type with
//! its declaration and are not the uncertainty of one pull.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_un_r85::UnR85;
//! // 101 kPa, 30 °C, 90 % relative humidity: hand-worked value of the 1.2/0.6 formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(101.0),
//!     Temperature::from_celsius(30.0),
//!     VapourPressure::from_kilopascals(3.810351524324268),
//! )?;
//! let factor = UnR85.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.0326521143063219 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// UN R85.
#[derive(Clone, Copy, Debug)]
pub struct UnR85;

impl CorrectionStandard for UnR85 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::CARD, air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&UnR85];

#[cfg(test)]
fairpull_conformance::standard_tests!(un_r85, crate::UnR85);
