//! Compression-ignition engine power to UN Regulation No. 24.
//!
//! **Scope.** Compression ignition only, 03 series.
//!
//! **Formula.** α_d = f_a^f_m as in UN R85.
//!
//! **Leaves out.** The smoke test itself, whose window of 0.98 to 1.02 on f_a is another one.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_un_r24::UnR24;
//! // 101 kPa, 30 °C, 90 % relative humidity, f_m = 1.2: hand-worked
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(101.0),
//!     Temperature::from_celsius(30.0),
//!     VapourPressure::from_kilopascals(3.810351524324268),
//! )?;
//! let factor = UnR24.factor(&air, &Engine::new(Ignition::Compression, Charging::Turbocharged).fuelled(140.0, 2.0))?;
//! assert!((factor.value() / 1.0465023548013168 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// UN R24.
#[derive(Clone, Copy, Debug)]
pub struct UnR24;

impl CorrectionStandard for UnR24 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::CARD, air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&UnR24];

#[cfg(test)]
fairpull_conformance::standard_tests!(un_r24, crate::UnR24);
