//! Why a figure was not restated.

use fairpull_core::Refusal;
use fairpull_units::Quoted;

/// Why there is no restated figure.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RestateError {
    /// No standard has this id or alias.
    #[error("unknown standard {}; the nearest are {}", Quoted(.id), .nearest.join(", "))]
    UnknownStandard {
        /// What was asked for.
        id: String,
        /// The nearest known ids.
        nearest: Vec<String>,
    },
    /// No loss model has this id.
    #[error("unknown loss model {}; the nearest are {}", Quoted(.id), .nearest.join(", "))]
    UnknownLoss {
        /// What was asked for.
        id: String,
        /// The nearest known ids.
        nearest: Vec<String>,
    },
    /// A plug-in or the core refused.
    #[error("{step}: {refusal}")]
    Refused {
        /// The step, or the plug-in's designation.
        step: String,
        /// The reason.
        refusal: Refusal,
    },
    /// No loss model could be used.
    #[error("no loss model leads from {from} to {to}: {}", .why.join("; "))]
    NoLoss {
        /// Site of the figure.
        from: &'static str,
        /// Site asked for.
        to: &'static str,
        /// Each model with what it lacks.
        why: Vec<String>,
    },
    /// Readings of the air that cannot be.
    #[error("air: {0}")]
    Air(String),
    /// Something given that contradicts something else given.
    #[error("{0}")]
    Contradiction(String),
}

/// Wraps a refusal with the step it belongs to.
pub(crate) fn at(step: impl Into<String>) -> impl FnOnce(Refusal) -> RestateError {
    move |refusal| RestateError::Refused { step: step.into(), refusal }
}
