//! fairpull's calculations as functions of the SQL engine DataFusion.
//!
//! **Scope.** Scalar functions `convert`, `vapour_pressure`, `correction_factor`, `correction`, `restate`,
//! `knock_margin`, aggregates `mean_power` and `gain`, each also as `try_…`. [`register_all`] puts them into a
//! session, or into the registry of any process that runs plans of this engine.
//!
//! **Rules.** NULL in any argument gives NULL. A value outside its limits ends the query with an error that shows
//! value, unit and limits; the `try_…` form gives NULL instead. A literal that no row could make right (an unknown
//! unit, standard or engine) is refused when the query is planned. Every function is immutable: the same arguments
//! give the same bits on every machine, the bits of the direct call in Rust.
//!
//! **Out of scope.** Plug-ins beyond [`fairpull::builtin`].
#![forbid(unsafe_code)]

mod aggregate;
mod air;
mod arguments;
mod convert;
mod factor;
mod gain;
mod knock;
mod mean;
mod parsed;
mod read;
mod records;
mod restate;
mod samples;
mod scalar;

use std::sync::Arc;

use datafusion_common::Result;
use datafusion_expr::registry::FunctionRegistry;
use datafusion_expr::{AggregateUDF, ScalarUDF};

/// Every scalar function.
#[must_use]
pub fn scalar_functions() -> Vec<ScalarUDF> {
    let pairs = [
        scalar::pair(convert::Convert),
        scalar::pair(air::VapourPressure),
        scalar::pair(factor::CorrectionFactor),
        scalar::pair(factor::Correction),
        scalar::pair(restate::Restate),
        scalar::pair(knock::KnockMargin),
    ];
    pairs.into_iter().flatten().collect()
}

/// Every aggregate function.
#[must_use]
pub fn aggregate_functions() -> Vec<AggregateUDF> {
    [aggregate::pair(mean::MeanPower), aggregate::pair(gain::Gain)].into_iter().flatten().collect()
}

/// Registers every function. A registry is a session, or what a scheduler or an executor looks functions up in:
/// plans carry the names only, so each of these processes registers them.
///
/// # Errors
/// What the registry says when it takes no functions.
pub fn register_all(registry: &mut dyn FunctionRegistry) -> Result<()> {
    for function in scalar_functions() {
        registry.register_udf(Arc::new(function))?;
    }
    for function in aggregate_functions() {
        registry.register_udaf(Arc::new(function))?;
    }
    Ok(())
}
