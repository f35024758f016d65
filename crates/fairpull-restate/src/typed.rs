//! Between the plain form and the typed figures of the core.

use crate::{Figure, Quantity, Site, Treatment};
use fairpull_core::{Corrected, CrankTorque, Observed, PowerAtCrank, PowerAtHubs, PowerAtWheels};
use fairpull_units::Unit;

/// A plain figure was asked for as something it is not.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the figure is {found}, not {wanted}: restate it first")]
pub struct WrongBasis {
    /// What the figure is.
    pub found: String,
    /// What was wanted.
    pub wanted: &'static str,
}

/// A unit that the table of units always has; the fallback is never reached and keeps this free of panics.
fn unit(word: &str) -> Option<&'static Unit> {
    Unit::find(word)
}

/// Typed figures that have a plain form.
trait Plain: Observed {
    const SITE: Site;
    const UNIT: &'static str;
    fn in_unit(self) -> f64;
}

macro_rules! plain {
    ($($name:ident, $site:ident, $unit:literal, $read:ident;)+) => {$(
        impl Plain for $name {
            const SITE: Site = Site::$site;
            const UNIT: &'static str = $unit;
            fn in_unit(self) -> f64 { self.$read() }
        }

        impl TryFrom<$name> for Figure {
            type Error = WrongBasis;
            /// The observed figure in plain form. Never fails with the built-in table of units.
            fn try_from(typed: $name) -> Result<Self, WrongBasis> {
                of(typed).map(Figure::observed)
            }
        }

        impl TryFrom<Corrected<$name>> for Figure {
            type Error = WrongBasis;
            /// The corrected figure in plain form. Never fails with the built-in table of units.
            fn try_from(typed: Corrected<$name>) -> Result<Self, WrongBasis> {
                of(typed.figure()).map(|f| f.corrected(typed.standard()))
            }
        }
    )+};
}
plain! {
    PowerAtCrank, Crank, "kW", kilowatts;
    PowerAtWheels, Wheel, "kW", kilowatts;
    PowerAtHubs, Hub, "kW", kilowatts;
    CrankTorque, Crank, "N·m", newton_metres;
}

fn of<P: Plain>(typed: P) -> Result<Figure, WrongBasis> {
    unit(P::UNIT)
        .and_then(|u| Figure::new(typed.in_unit(), u))
        .map(|f| f.at(P::SITE))
        .ok_or(WrongBasis { found: "without a unit".to_owned(), wanted: P::UNIT })
}

impl Figure {
    fn expect(&self, quantity: Quantity, site: Site, wanted: &'static str) -> Result<f64, WrongBasis> {
        let fits = self.quantity() == quantity
            && self.site == Some(site)
            && self.treatment == Some(Treatment::Observed);
        if fits {
            return Ok(self.si());
        }
        let site = self.site.map_or("at an unknown site", Site::word);
        let treatment =
            self.treatment.as_ref().map_or("of unknown treatment".to_owned(), ToString::to_string);
        Err(WrongBasis { found: format!("{} {site}, {treatment}", self.quantity().word()), wanted })
    }

    /// Observed power at the crankshaft.
    ///
    /// # Errors
    /// [`WrongBasis`] for anything else.
    pub fn power_at_crank(&self) -> Result<PowerAtCrank, WrongBasis> {
        self.expect(Quantity::Power, Site::Crank, "observed power at the crankshaft")
            .map(PowerAtCrank::from_watts)
    }

    /// Observed power at the wheels.
    ///
    /// # Errors
    /// [`WrongBasis`] for anything else.
    pub fn power_at_wheels(&self) -> Result<PowerAtWheels, WrongBasis> {
        self.expect(Quantity::Power, Site::Wheel, "observed power at the wheels")
            .map(PowerAtWheels::from_watts)
    }

    /// Observed power at the hubs.
    ///
    /// # Errors
    /// [`WrongBasis`] for anything else.
    pub fn power_at_hubs(&self) -> Result<PowerAtHubs, WrongBasis> {
        self.expect(Quantity::Power, Site::Hub, "observed power at the hubs").map(PowerAtHubs::from_watts)
    }

    /// Observed torque at the crankshaft.
    ///
    /// # Errors
    /// [`WrongBasis`] for anything else.
    pub fn crank_torque(&self) -> Result<CrankTorque, WrongBasis> {
        self.expect(Quantity::Torque, Site::Crank, "observed torque at the crankshaft")
            .map(CrankTorque::from_newton_metres)
    }
}
