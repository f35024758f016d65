//! Net engine power of L-category vehicles (two and three wheels, quadricycles).
//!
//! **Scope.** [`Eu1342014`] is Annex X, Appendix 2 of (EU) 134/2014, [`Ec951`] its forerunner 95/1/EC, [`Iso4106`] the
//! motorcycle code ISO 4106.
//!
//! **Formula.** P_0 = α1·α2·P with α1 = (99/p_s)^1.2·(T/298)^0.6 and, for compression ignition, f_a^f_m in place of α1.
//! These plug-ins give α1 (or f_a^f_m). α2 = 1/n_t brings a figure taken behind transmission elements to the crankshaft
//! and is a loss model of its own: a figure at the crankshaft has α2 = 1.
//!
//! **Leaves out.** α2, and the tolerances between measured and declared power.
//!
//! (EU) 134/2014 prints 298,2 K beside 25 °C, so its kelvin is t + 273.2; the older texts print 298.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_eu_134_2014::Eu1342014;
//! // 98.5 kPa, 20 °C, 50 % relative humidity: hand-worked value of the 1.2/0.6 formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(98.5),
//!     Temperature::from_celsius(20.0),
//!     VapourPressure::from_kilopascals(1.1662980110489034),
//! )?;
//! let factor = Eu1342014.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.0102762409918498 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// (EU) 134/2014, Annex X, Appendix 2.
#[derive(Clone, Copy, Debug)]
pub struct Eu1342014;

impl CorrectionStandard for Eu1342014 {
    fn card(&self) -> &'static StandardCard {
        &card::EU_134_2014
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::regulation(&card::EU_134_2014, air, engine)
    }
}

/// 95/1/EC as amended by 2002/41 and 2006/27.
#[derive(Clone, Copy, Debug)]
pub struct Ec951;

impl CorrectionStandard for Ec951 {
    fn card(&self) -> &'static StandardCard {
        &card::EC_95_1
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::regulation(&card::EC_95_1, air, engine)
    }
}

/// ISO 4106:2012. Its formula for compression ignition (Annex A) is not known here, so such an engine is refused.
#[derive(Clone, Copy, Debug)]
pub struct Iso4106;

impl CorrectionStandard for Iso4106 {
    fn card(&self) -> &'static StandardCard {
        &card::ISO_4106
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::iso_4106(air, engine)
    }
}

/// The texts of this crate, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Eu1342014, &Ec951, &Iso4106];

#[cfg(test)]
fairpull_conformance::standard_tests!(eu1342014, crate::Eu1342014);
#[cfg(test)]
fairpull_conformance::standard_tests!(ec951, crate::Ec951);
#[cfg(test)]
fairpull_conformance::standard_tests!(iso4106, crate::Iso4106);
