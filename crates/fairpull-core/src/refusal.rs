//! Why there is no figure. One concrete type, so that plug-ins stay object-safe and callers react without knowing them.

use crate::{Cite, OutOfRange, Rating};

/// Why a plug-in or a conversion gives no figure.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// A value is physically impossible or outside what the arithmetic is defined for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A value is NaN or infinite.
    #[error("{what} is not a finite number ({unit}); give a measured value")]
    NotFinite {
        /// Name of the quantity.
        what: &'static str,
        /// Its unit.
        unit: &'static str,
    },
    /// An input the method needs was not given.
    #[error("{what} is missing: {mend} ({cite})")]
    Missing {
        /// Name of the input.
        what: &'static str,
        /// What to give, with its unit.
        mend: &'static str,
        /// The clause that asks for it.
        cite: Cite,
    },
    /// The method does not cover this kind of engine, driveline or fuel.
    #[error("does not apply: {why} ({cite})")]
    NotApplicable {
        /// The reason, as a clause of a sentence.
        why: &'static str,
        /// The scope statement.
        cite: Cite,
    },
    /// Net and gross ratings differ in engine dress; no factor turns one into the other.
    #[error("a {from} figure cannot become a {to} figure without a model of the accessories")]
    RatingDiffers {
        /// Rating of the figure at hand.
        from: Rating,
        /// Rating asked for.
        to: Rating,
    },
    /// An iteration did not converge.
    #[error("{what} did not converge")]
    NoConvergence {
        /// What was iterated.
        what: &'static str,
    },
    /// A plug-in's own reason.
    #[error("{why} ({cite})")]
    Other {
        /// The reason.
        why: &'static str,
        /// The clause it rests on.
        cite: Cite,
    },
}

/// `Ok(value)` when finite.
///
/// # Errors
/// [`Refusal::NotFinite`] naming the quantity.
#[inline]
pub(crate) const fn finite(value: f64, what: &'static str, unit: &'static str) -> Result<f64, Refusal> {
    if value.is_finite() { Ok(value) } else { Err(Refusal::NotFinite { what, unit }) }
}
