//! Engine power to ISO 15550.
//!
//! **Scope.** Reciprocating combustion engines of any use: the core text that the codes for single uses refer to. Net or
//! gross, as those say.
//!
//! **Formula.** Spark ignition α_a = (99.04/p_s)^1.2 · (T/298)^0.6; compression ignition α_c = f_a^f_m with three kinds of
//! charging and the engine factor whose limit is 37.2 mg. The reference is 100 kPa at 30 % relative humidity, so its dry
//! pressure is 100 − 0.3·3.2 = 99.04 kPa, not 99.
//!
//! **Leaves out.** The charge-coolant reference of 298 K, which no clause of the correction reads.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_iso_15550::Iso15550;
//! // 98 kPa, 30 °C, 80 % of 4.2 kPa: Mathur & Sharma, Internal Combustion Engine (2010), ch. 27: 640 kW become 683 kW
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(98.0),
//!     Temperature::from_celsius(30.0),
//!     VapourPressure::from_kilopascals(0.80 * 4.2),
//! )?;
//! let factor = Iso15550.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert_eq!((640.0 * factor.value()).round(), 683.0);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// ISO 15550:2016.
#[derive(Clone, Copy, Debug)]
pub struct Iso15550;

impl CorrectionStandard for Iso15550 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&Iso15550];

#[cfg(test)]
fairpull_conformance::standard_tests!(iso15550, crate::Iso15550);
