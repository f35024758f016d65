//! From a figure and a target to the answer.

use crate::draws::Draws;
use crate::evaluate::Common;
use crate::given::sound;
use crate::near::nearest;
use crate::outcome::{Alternative, Restated};
use crate::path::Path;
use crate::setting::Setting;
use crate::{Figure, Knowledge, RestateError, Restater, Site, Target, Treatment, plausible};
use fairpull_core::{Catalogue, LossModel};

/// Seed of the draws when the caller gives none.
pub const SEED: u64 = 1;
/// Number of draws when the caller gives none.
pub const DRAWS: usize = 4096;

/// The figure on another basis.
///
/// Known air gives the exact value. Unknown air is drawn from what the standard permits, narrowed by what is known;
/// the draws are deterministic for a seed. A figure without site or treatment gives the range over the plausible
/// bases, and says so.
///
/// # Errors
/// [`RestateError`] when an id is unknown, a plug-in refuses (net to gross, outside applicability, fuel delivery
/// missing), or no loss model has its evidence.
pub fn restate(
    figure: &Figure,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
) -> Result<Restated, RestateError> {
    Restater::new(*catalogue).restate(figure, target, knowledge)
}

/// As [`restate`] with draws that may have been made before. `shares`: say also what each assumption alone contributes.
pub(crate) fn restate_with(
    figure: &Figure,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
    shares: bool,
) -> Result<Restated, RestateError> {
    match (figure.site, &figure.treatment) {
        (Some(site), Some(treatment)) => {
            known(figure, (site, treatment), target, catalogue, knowledge, draws, shares)
        }
        _ => plausible::range(figure, target, catalogue, knowledge, draws),
    }
}

/// A few candidates in order, those of equal rank as they came.
pub(crate) fn ranked<T, R: PartialOrd>(candidates: Vec<T>, rank: impl Fn(&T) -> R) -> Vec<T> {
    let mut out: Vec<T> = Vec::with_capacity(candidates.len());
    for c in candidates {
        let at = out.iter().position(|o| rank(o) > rank(&c)).unwrap_or(out.len());
        out.insert(at, c);
    }
    out
}

/// Loss models that may be tried, each with a path; the reason for each that cannot.
fn losses<'c>(
    catalogue: &Catalogue<'c>,
    knowledge: &Knowledge<'_>,
) -> Result<Vec<&'c dyn LossModel>, RestateError> {
    match &knowledge.loss {
        None => Ok(catalogue.losses().iter().copied().filter(|l| !l.card().habit).collect()),
        Some(id) => match catalogue.loss(id) {
            Some(l) => Ok(vec![l]),
            None => {
                let ids = catalogue.losses().iter().map(|l| l.card().id);
                Err(RestateError::UnknownLoss { id: id.clone(), nearest: nearest(id, ids) })
            }
        },
    }
}

fn known(
    figure: &Figure,
    basis: (Site, &Treatment),
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
    shares: bool,
) -> Result<Restated, RestateError> {
    sound(figure)?;
    let Setting { path, crosses, air, rated, assumed } =
        Setting::of(figure, basis, target, catalogue, knowledge)?;
    let common = Common { figure, target, knowledge, air, rated, draws, crosses };
    let mut found = Vec::new();
    let mut why = Vec::new();
    let mut first = None;
    if crosses {
        for model in losses(catalogue, knowledge)? {
            match common.evaluate(&Path { loss: Some(model), ..path }) {
                Ok(r) => found.push(r),
                Err(e) => {
                    why.push(format!("{}: {e}", model.card().id));
                    first = first.or(Some(e));
                }
            }
        }
    } else {
        found.push(common.evaluate(&path)?);
    }
    // A model used beyond what it describes ranks behind one that is not; then the narrower one leads.
    let mut found = ranked(found, |(strained, r)| (*strained, r.hi95 - r.lo95)).into_iter().map(|(_, r)| r);
    let Some(mut best) = found.next() else {
        return Err(match (first, knowledge.loss.is_some()) {
            (Some(only), true) => only,
            _ => RestateError::NoLoss { from: basis.0.word(), to: target.site.word(), why },
        });
    };
    best.alternatives = found
        .map(|r| Alternative {
            what: format!("loss model {}", r.loss.unwrap_or("none")),
            value: r.value,
            lo95: r.lo95,
            hi95: r.hi95,
        })
        .collect();
    if shares {
        let loss = best.loss.and_then(|id| catalogue.loss(id));
        best.assumptions = common.assumptions(&Path { loss, ..path })?;
    }
    best.assumptions.extend(assumed);
    Ok(best)
}
