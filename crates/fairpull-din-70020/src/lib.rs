//! Net engine power to DIN 70020.
//!
//! **Scope.** Only to read old figures: the text is withdrawn. [`Din70020`] reads the barometer as it stands;
//! [`Din70020Dry`] is the reading of those who take the vapour off first.
//!
//! **Formula.** K = (1013/p)·√((273 + t)/293), p in mbar.
//!
//! **Leaves out.** Humidity, and any range of validity: none is known.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_din_70020::Din70020;
//! // 104 kPa, 10 °C: hand-worked value of the printed formula, total pressure
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(104.0),
//!     Temperature::from_celsius(10.0),
//!     VapourPressure::from_kilopascals(0.7356181233173653),
//! )?;
//! let factor = Din70020.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 0.9572723473109981 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// DIN 70020, total pressure.
#[derive(Clone, Copy, Debug)]
pub struct Din70020;

/// DIN 70020 read with dry pressure.
#[derive(Clone, Copy, Debug)]
pub struct Din70020Dry;

impl CorrectionStandard for Din70020 {
    fn card(&self) -> &'static StandardCard {
        &card::TOTAL
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::TOTAL, air, engine)
    }
}

impl CorrectionStandard for Din70020Dry {
    fn card(&self) -> &'static StandardCard {
        &card::DRY
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::DRY, air, engine)
    }
}

/// The two readings, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&Din70020, &Din70020Dry];

#[cfg(test)]
fairpull_conformance::standard_tests!(din_70020, crate::Din70020);
#[cfg(test)]
fairpull_conformance::standard_tests!(din_70020_dry, crate::Din70020Dry);
