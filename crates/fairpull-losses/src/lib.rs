//! Loss models between the wheels and the crankshaft.
//!
//! **Scope.** Observed power at the contact of tyre and roller (or at the shaft a published table speaks of) to
//! observed power at the crankshaft, with the standard uncertainty that the model adds. One file a model; each reads
//! what it needs of [`Driveline`](fairpull_core::Driveline) and [`DrivePoint`](fairpull_core::DrivePoint) and
//! refuses by name without it.
//!
//! **Out of scope.** Fitting a coast-down, choosing a model, and the correction for air: losses do not scale with
//! air density, so a correction factor comes after the loss.
//!
//! **Which one.** [`CoastDown`] rests on a measurement of the same car on the same rig and is the only one that
//! belongs in a report of a measured gain. The published models ([`ElementEfficiencies`], [`TorqueLossFallback`],
//! [`LightDutyGearbox`]) describe gearboxes and leave the tyre out. [`PriorBand`] needs nothing and knows little.
//! [`FixedPercentage`] is a habit of the trade, here only so that other people's figures can be read.
//!
//! **Common range.** Wheel power 0 to 10 MW; anything else, NaN and infinities included, is refused by name.
#![no_std]
#![forbid(unsafe_code)]

mod coast_down;
mod constant_plus_share;
mod element_efficiencies;
mod fixed_percentage;
mod input;
mod light_duty_gearbox;
mod prior_band;
mod torque_loss_fallback;

pub use coast_down::CoastDown;
pub use constant_plus_share::ConstantPlusShare;
pub use element_efficiencies::{ElementEfficiencies, efficiency, series_efficiency};
use fairpull_core::LossModel;
pub use fixed_percentage::FixedPercentage;
pub use light_duty_gearbox::LightDutyGearbox;
pub use prior_band::PriorBand;
pub use torque_loss_fallback::TorqueLossFallback;

/// Every loss model of this crate, the best supported first.
pub static ALL: &[&dyn LossModel] = &[
    &CoastDown,
    &ConstantPlusShare,
    &LightDutyGearbox,
    &TorqueLossFallback,
    &ElementEfficiencies,
    &PriorBand,
    &FixedPercentage,
];

#[cfg(test)]
fairpull_conformance::loss_tests!(coast_down_kit, crate::CoastDown);
#[cfg(test)]
fairpull_conformance::loss_tests!(constant_plus_share_kit, crate::ConstantPlusShare);
#[cfg(test)]
fairpull_conformance::loss_tests!(light_duty_gearbox_kit, crate::LightDutyGearbox);
#[cfg(test)]
fairpull_conformance::loss_tests!(torque_loss_fallback_kit, crate::TorqueLossFallback);
#[cfg(test)]
fairpull_conformance::loss_tests!(element_efficiencies_kit, crate::ElementEfficiencies);
#[cfg(test)]
fairpull_conformance::loss_tests!(prior_band_kit, crate::PriorBand);
#[cfg(test)]
fairpull_conformance::loss_tests!(fixed_percentage_kit, crate::FixedPercentage);
