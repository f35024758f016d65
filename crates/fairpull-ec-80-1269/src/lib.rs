//! Net engine power to 80/1269/EEC.
//!
//! **Scope.** [`Ec801269`] is the directive as amended from 88/195/EEC on, aligned with UN R85 and ISO 1585;
//! [`Ec801269Ed1980`] the original of 1980, [`Ec801269Ed1980Total`] the same formula fed with the barometer as read, as
//! a vehicle maker's workshop sheet tabulates it. All are kept to read old figures.
//!
//! **Formula.** Amended: α_a = (99/p_s)^1.2 · (T/298)^0.6, α_d = f_a^f_m. Original: K = (99/p)·√(T/298).
//!
//! **Leaves out.** Production tolerances.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_ec_80_1269::Ec801269Ed1980Total;
//! // 1000 hPa, 25 °C: 0.9900 in the published table of 110 cells
//! let air = Air::new(
//!     AbsolutePressure::from_hectopascals(1000.0),
//!     Temperature::from_celsius(25.0),
//!     VapourPressure::from_kilopascals(0.0),
//! )?;
//! let factor = Ec801269Ed1980Total.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() - 0.9900).abs() < 0.00005);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// 80/1269/EEC as amended by 88/195, 89/491, 97/21 and 1999/99.
#[derive(Clone, Copy, Debug)]
pub struct Ec801269;

impl CorrectionStandard for Ec801269 {
    fn card(&self) -> &'static StandardCard {
        &card::AMENDED
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::amended(air, engine)
    }
}

/// 80/1269/EEC, the original of 1980, dry pressure.
#[derive(Clone, Copy, Debug)]
pub struct Ec801269Ed1980;

impl CorrectionStandard for Ec801269Ed1980 {
    fn card(&self) -> &'static StandardCard {
        &card::ED_1980
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::original(&card::ED_1980, air, engine)
    }
}

/// 80/1269/EEC of 1980 with total pressure, as workshops applied it.
#[derive(Clone, Copy, Debug)]
pub struct Ec801269Ed1980Total;

impl CorrectionStandard for Ec801269Ed1980Total {
    fn card(&self) -> &'static StandardCard {
        &card::ED_1980_TOTAL
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::original(&card::ED_1980_TOTAL, air, engine)
    }
}

/// The texts of this crate, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Ec801269, &Ec801269Ed1980, &Ec801269Ed1980Total];

#[cfg(test)]
fairpull_conformance::standard_tests!(ec801269, crate::Ec801269);
#[cfg(test)]
fairpull_conformance::standard_tests!(ec801269_ed1980, crate::Ec801269Ed1980);
#[cfg(test)]
fairpull_conformance::standard_tests!(ec801269_ed1980_total, crate::Ec801269Ed1980Total);
