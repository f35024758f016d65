//! Gross engine power to ISO 2534.
//!
//! **Scope.** The bare engine: the formulas of ISO 1585 on an engine without the accessories of the vehicle. A gross
//! figure must be called gross (its 9.2) and is never turned into a net one.
//!
//! **Formula.** Spark ignition α_a = (99/p_s)^1.2 · (T/298)^0.6; compression ignition α_d = f_a^f_m in the edition of
//! 1998. Whether that of 2020 keeps it is not known here: such an engine is refused.
//!
//! **Leaves out.** Fuel corrections.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_iso_2534::Iso2534;
//! // 98.5 kPa, 20 °C, 50 % relative humidity: hand-worked value of the 1.2/0.6 formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(98.5),
//!     Temperature::from_celsius(20.0),
//!     VapourPressure::from_kilopascals(1.1662980110489034),
//! )?;
//! let factor = Iso2534.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.010269303345557 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// ISO 2534:2020, third edition.
#[derive(Clone, Copy, Debug)]
pub struct Iso2534;

impl CorrectionStandard for Iso2534 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_2020
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::ed_2020(air, engine)
    }
}

/// ISO 2534:1998, second edition, with the compression-ignition formula of ISO 1585:1992.
#[derive(Clone, Copy, Debug)]
pub struct Iso2534Ed1998;

impl CorrectionStandard for Iso2534Ed1998 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_1998
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::ed_1998(air, engine)
    }
}

/// The editions, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Iso2534, &Iso2534Ed1998];

#[cfg(test)]
fairpull_conformance::standard_tests!(iso2534, crate::Iso2534);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso2534_1998, crate::Iso2534Ed1998);
