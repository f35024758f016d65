//! All checks over a claim.

use crate::check::{Vetting, statement};
use crate::claim::Claim;
use fairpull_core::{Catalogue, Refusal};
use fairpull_restate::Restater;

/// Why a claim cannot be vetted although it could be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum VetError {
    /// A value inside the claim's own ranges that a calculation refuses.
    #[error("the claim cannot be vetted: {0}")]
    Refused(#[from] Refusal),
}

/// Runs every independent check that the claim has input for, in a fixed order, and says what they amount to.
///
/// Contradiction needs a bound that was read, derived or well remembered and a claim outside its 99.9 % interval;
/// between 95 % and 99.9 % a check cannot tell. Bounds from own judgement never contradict. Loss and knock models and standards
/// come from the catalogue; checks that need one it lacks are listed as not run.
///
/// # Errors
/// [`VetError`] when a calculation refuses a value.
pub fn vet(claim: &Claim, catalogue: &Catalogue<'_>) -> Result<Vetting, VetError> {
    vet_with(claim, &Restater::new(*catalogue))
}

/// As [`vet`], with what a [`Restater`] has kept from earlier claims.
///
/// # Errors
/// As [`vet`].
pub fn vet_with(claim: &Claim, restater: &Restater<'_>) -> Result<Vetting, VetError> {
    let catalogue = restater.catalogue();
    let (mut checks, mut not_run) = (Vec::new(), Vec::new());
    crate::basis::checks(claim, restater, &mut checks, &mut not_run);
    crate::engine::checks(claim, &mut checks, &mut not_run)?;
    crate::flow::checks(claim, &mut checks, &mut not_run)?;
    crate::road::checks(claim, catalogue, &mut checks, &mut not_run);
    let (outcome, statement) = statement(&checks);
    let mut cautions = vec![fairpull_fuels::CAUTION];
    if !claim.times.is_empty() {
        cautions.extend(fairpull_road::CAUTIONS);
    }
    Ok(Vetting {
        schema: "fairpull-vetting-1",
        title: claim.title.clone(),
        checks,
        not_run,
        outcome,
        statement,
        cautions,
    })
}
