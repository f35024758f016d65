//! One figure on every basis.

use crate::draws::Draws;
use crate::restate::restate_with;
use crate::{Figure, Knowledge, RestateError, Restated, Restater, Site, Target, Treatment};
use fairpull_core::Catalogue;

/// One row of the table: a basis, and the figure on it or the reason why not.
#[derive(Clone, Debug, PartialEq)]
pub struct BasisRow {
    /// The basis.
    pub target: Target,
    /// The figure on it.
    pub result: Result<Restated, RestateError>,
}

/// The figure on every basis of the catalogue: observed and corrected to each standard, at the crankshaft and at the
/// wheels, in the order of the catalogue.
///
/// # Errors
/// [`RestateError`] only for a number of draws that cannot be; every other reason stands in its row.
pub fn restate_all(
    figure: &Figure,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
) -> Result<Vec<BasisRow>, RestateError> {
    Restater::new(*catalogue).restate_all(figure, knowledge)
}

pub(crate) fn rows(
    figure: &Figure,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
) -> Vec<BasisRow> {
    let corrected = catalogue.standards().iter().map(|s| Treatment::Corrected(s.card().id.to_owned()));
    let treatments: Vec<Treatment> = std::iter::once(Treatment::Observed).chain(corrected).collect();
    let mut rows = Vec::new();
    for site in [Site::Crank, Site::Wheel] {
        for treatment in &treatments {
            let target = Target { site, treatment: treatment.clone() };
            let result = restate_with(figure, &target, catalogue, knowledge, draws, true);
            rows.push(BasisRow { target, result });
        }
    }
    rows
}
