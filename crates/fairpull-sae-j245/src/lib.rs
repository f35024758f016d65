//! Engine power to SAE J245.
//!
//! **Scope.** Spark ignition, gross or net, April 1971; the text excludes turbocharged engines for lack of data, so
//! charged engines are refused. [`SaeJ245`] uses the metric form that it shares with SAE J816b, [`SaeJ245Fahrenheit`] the
//! form in °F; they differ by less than 0.01 %.
//!
//! **Formula.** k = (736.6/(p − p_v))·√((t + 273)/302.4), pressures in mmHg, or (29.00/p_d)·√((F + 460)/545), p_d in
//! inHg, applied to *indicated* power: P_b,c = k·P_i − P_f.
//!
//! The factor returned is the one on *brake* power, (k − (1 − η))/η with η the mechanical efficiency. Where it is not
//! given, 0.85 is assumed and the result says so; η = 1 gives k itself.
//!
//! **Leaves out.** Any range of validity: none is known.
//!
//! ```
//! use fairpull_core::*;
//! use fairpull_sae_j245::SaeJ245;
//! // 99 kPa dry, 25 °C, k itself: hand-worked
//! let air = Air::new(
//!     AbsolutePressure::from_kilopascals(100.0),
//!     Temperature::from_celsius(25.0),
//!     VapourPressure::from_kilopascals(1.0),
//! )?;
//! let factor = SaeJ245.factor(&air, &Engine::new(Ignition::Spark, Charging::None).with_mechanical_efficiency(1.0))?;
//! assert!((factor.value() / 0.9847292552857544 - 1.0).abs() < 1e-12);
//! # Ok::<(), Refusal>(())
//! ```
#![no_std]
#![forbid(unsafe_code)]

mod card;
mod constants;
mod factor;

use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Refusal, StandardCard};

/// SAE J245, metric form.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ245;

impl CorrectionStandard for SaeJ245 {
    fn card(&self) -> &'static StandardCard {
        &card::METRIC
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::METRIC, air, engine)
    }
}

/// SAE J245, form in °F and inHg.
#[derive(Clone, Copy, Debug)]
pub struct SaeJ245Fahrenheit;

impl CorrectionStandard for SaeJ245Fahrenheit {
    fn card(&self) -> &'static StandardCard {
        &card::FAHRENHEIT
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        factor::factor(&card::FAHRENHEIT, air, engine)
    }
}

/// The two forms, default first.
pub static ALL: &[&dyn CorrectionStandard] = &[&SaeJ245, &SaeJ245Fahrenheit];

#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j245, crate::SaeJ245);
#[cfg(test)]
fairpull_conformance::standard_tests!(sae_j245_fahrenheit, crate::SaeJ245Fahrenheit);
