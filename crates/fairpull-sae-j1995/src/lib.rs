//! Gross engine power to SAE J1995.
//!
//! **Scope.** The engine without the intake and exhaust of its installation. A gross figure is never turned into a net
//! one.
//!
//! **Formula.** Believed to be that of SAE J1349: CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18, B_d dry pressure in kPa; with
//! known mechanical efficiency P_c = (P_o + P_f)·k − P_f; compression ignition f_a^f_m with the limit of 37.2 mg.
//!
//! **Leaves out.** Fuel density and viscosity factors; any special treatment of boosted spark ignition.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_sae_j1995::SaeJ1995;
//! // 101 kPa, 30 °C, 90 % relative humidity: hand-worked value of the printed formula
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(101.0),
//!     Temperature::from_celsius(30.0),
//!     VapourPressure::from_kilopascals(3.810351524324268),
//! )?;
//! let factor = SaeJ1995.factor(&air, &Engine::new(Ignition::Spark, Charging::None))?;
//! assert!((factor.value() / 1.0320216366179762 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// SAE J1995, 1995-06 and 2014-01.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ1995;

impl CorrectionStandard for SaeJ1995 {
    fn card(&self) -> &'static StandardCard {
        &card::CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(air, engine)
    }
}

/// The text of this crate.
pub static ALL: &[&dyn CorrectionStandard] = &[&SaeJ1995];

#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j1995, crate::SaeJ1995);
