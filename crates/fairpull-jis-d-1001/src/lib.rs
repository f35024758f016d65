//! Engine power to JIS D 1001.
//!
//! **Scope.** Road-vehicle engines, gross and net: the figure must say which.
//!
//! **Formula.** That of the ISO 1585 family: α_a = (99/p_s)^1.2 · (T/298)^0.6, α_d = f_a^f_m.
//!
//! **Leaves out.** Rounding to JIS Z 8401, which is a matter of printing.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_jis_d_1001::JisD1001;
//! // 104 kPa, 10 °C, 60 % relative humidity: hand-worked value of the 1.2/0.6 formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(104.0),
//!     Temperature::from_celsius(10.0),
//!     VapourPressure::from_kilopascals(0.7356181233173653),
//! )?;
//! let factor = JisD1001.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 0.9216450112827964 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// JIS D 1001.
#[derive(Clone, Copy, Debug)]
pub struct JisD1001;

impl CorrectionStandard for JisD1001 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::CARD, air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&JisD1001];

#[cfg(test)]
fairpull_conformance::standard_tests!(jis_d1001, crate::JisD1001);
