//! The only generic of the interface: a figure corrected to a named standard.
//!
//! ```compile_fail
//! use fairpull_core::{Corrected, Factor, PowerAtCrank};
//! fn twice(p: Corrected<PowerAtCrank>, f: &Factor) { let _ = Corrected::new(p, "iso-1585", f); }
//! ```
//! ```
//! use fairpull_core::{Corrected, Factor, PowerAtCrank};
//! fn once(p: PowerAtCrank, f: &Factor) -> Corrected<PowerAtCrank> { Corrected::new(p, "iso-1585", f) }
//! ```

use core::marker::PhantomData;

use crate::{CrankTorque, Factor, PowerAtCrank, PowerAtHubs, PowerAtWheels};

mod sealed {
    /// The bare value of a figure, for code of this crate only.
    pub trait Sealed {
        fn si(self) -> f64;
        fn from_si(value: f64) -> Self;
    }
}

/// An observed figure that a correction factor may multiply.
#[diagnostic::on_unimplemented(
    message = "a correction factor applies to an observed figure, and `{Self}` is not one",
    label = "already corrected, or a bare number"
)]
pub trait Observed: sealed::Sealed + Copy {
    /// The figure times a dimensionless factor.
    #[must_use]
    fn times(self, factor: f64) -> Self;
}

macro_rules! observed {
    ($($name:ident),+) => {$(
        impl sealed::Sealed for $name {
            fn si(self) -> f64 { self.get().value }
            fn from_si(value: f64) -> Self {
                Self::new(uom::si::Quantity { dimension: PhantomData, units: PhantomData, value })
            }
        }
        impl Observed for $name {
            fn times(self, factor: f64) -> Self { Self::new(self.get() * factor) }
        }
    )+};
}
observed!(PowerAtWheels, PowerAtHubs, PowerAtCrank, CrankTorque);

/// A figure corrected to one standard; it cannot travel without the standard's id and the factor used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corrected<P> {
    figure: P,
    standard: &'static str,
    factor: f64,
}

impl<P: Observed> Corrected<P> {
    /// Observed figure times factor.
    #[must_use]
    pub fn new(observed: P, standard: &'static str, factor: &Factor) -> Self {
        Self { figure: observed.times(factor.value()), standard, factor: factor.value() }
    }

    /// A figure that was corrected before.
    pub(crate) const fn of(figure: P, standard: &'static str, factor: f64) -> Self {
        Self { figure, standard, factor }
    }

    /// The corrected figure.
    #[must_use]
    pub const fn figure(&self) -> P {
        self.figure
    }

    /// Id of the standard.
    #[must_use]
    pub const fn standard(&self) -> &'static str {
        self.standard
    }

    /// The factor that was applied.
    #[must_use]
    pub const fn factor(&self) -> f64 {
        self.factor
    }

    /// Back to the observed figure.
    #[must_use]
    pub fn observed(&self) -> P {
        self.figure.times(1.0 / self.factor)
    }

    /// Both figures, when they are corrected to the same standard.
    ///
    /// # Errors
    /// [`DifferentStandards`] otherwise: such figures have no common basis.
    pub fn beside(&self, other: &Self) -> Result<(P, P), DifferentStandards> {
        if self.standard == other.standard {
            Ok((self.figure, other.figure))
        } else {
            Err(DifferentStandards { left: self.standard, right: other.standard })
        }
    }
}

/// Two corrected figures on different standards were put side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("one figure is corrected to {left}, the other to {right}: restate one of them first")]
pub struct DifferentStandards {
    /// Standard of the left figure.
    pub left: &'static str,
    /// Standard of the right figure.
    pub right: &'static str,
}
