//! A figure whose basis nobody gave: the range over all bases it may stand on.

use crate::draws::Draws;
use crate::given::{engine, standard};
use crate::outcome::{Alternative, Assumption, Restated};
use crate::restate::{ranked, restate_with};
use crate::{Figure, Knowledge, RestateError, Site, Target, Treatment};
use fairpull_core::Catalogue;

/// Sites a bare figure may mean; a hub figure is never left unnamed.
const SITES: [Site; 2] = [Site::Crank, Site::Wheel];

pub(crate) fn range(
    figure: &Figure,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
) -> Result<Restated, RestateError> {
    // An unknown id in the target must be named as such, whatever the figure lacks.
    standard(catalogue, &target.treatment)?;
    let (kind, _) = engine(knowledge);
    let sites: Vec<Site> = figure.site.map_or(SITES.to_vec(), |s| vec![s]);
    let treatments = match &figure.treatment {
        Some(t) => vec![t.clone()],
        None => {
            let admitted = catalogue.standards().iter().filter(|s| s.card().admit(&kind).is_ok());
            let corrected = admitted.map(|s| Treatment::Corrected(s.card().id.to_owned()));
            std::iter::once(Treatment::Observed).chain(corrected).collect()
        }
    };
    let mut found = Vec::new();
    let mut first = None;
    let mut left_out = Vec::new();
    for site in &sites {
        for treatment in &treatments {
            let guess = Figure { site: Some(*site), treatment: Some(treatment.clone()), ..figure.clone() };
            match restate_with(&guess, target, catalogue, knowledge, draws, false) {
                Ok(r) => found.push((format!("given figure taken as {site}; {treatment}"), r)),
                Err(e) => {
                    left_out.push(format!("{site}; {treatment} left out: {e}"));
                    first = first.or(Some(e));
                }
            }
        }
    }
    let found = ranked(found, |(_, r)| r.hi95 - r.lo95);
    let Some((_, model)) = found.first() else {
        return Err(first.unwrap_or_else(|| RestateError::Contradiction("no basis is plausible".to_owned())));
    };
    let low = found.iter().map(|(_, r)| r.lo95).fold(f64::INFINITY, f64::min);
    let high = found.iter().map(|(_, r)| r.hi95).fold(f64::NEG_INFINITY, f64::max);
    let value = 0.5 * (low + high);
    // Anywhere in the range with equal right: half width over the root of 3.
    let u = 0.5 * (high - low) / libm::sqrt(3.0);
    let missing = match (figure.site.is_none(), figure.treatment.is_none()) {
        (true, true) => "neither site nor treatment",
        (true, false) => "no site",
        _ => "no treatment",
    };
    let mut notices = vec![format!(
        "the figure came with {missing}: this is the range over {} plausible bases, not an estimate",
        found.len()
    )];
    notices.extend(left_out);
    let mut figure_out = Figure { value, interval: None, ..model.figure.clone() };
    if low < high {
        figure_out.interval = Some(crate::Interval::Ends(low, high));
    }
    Ok(Restated {
        value,
        lo95: low,
        hi95: high,
        standard_uncertainty: u,
        ratio: if figure.value == 0.0 { 1.0 } else { value / figure.value },
        exact: false,
        basis_known: false,
        loss: None,
        steps: Vec::new(),
        assumptions: vec![Assumption {
            what: format!("basis of the given figure: any of {}", found.len()),
            because: format!("the figure came with {missing}"),
            contribution: u,
        }],
        notices,
        alternatives: found
            .iter()
            .map(|(what, r)| Alternative { what: what.clone(), value: r.value, lo95: r.lo95, hi95: r.hi95 })
            .collect(),
        figure: figure_out,
        ..model.clone()
    })
}
