//! What was given, looked up and checked: standards, engine, rating, stated interval.

use crate::error::at;
use crate::near::nearest;
use crate::outcome::Assumption;
use crate::{Figure, Interval, Knowledge, RestateError, Treatment};
use fairpull_core::{Catalogue, Charging, CorrectionStandard, Engine, Ignition, Rating, Refusal};

/// The standard of a treatment; `None` when observed.
pub(crate) fn standard<'c>(
    catalogue: &Catalogue<'c>,
    treatment: &Treatment,
) -> Result<Option<&'c dyn CorrectionStandard>, RestateError> {
    match treatment {
        Treatment::Observed => Ok(None),
        Treatment::Corrected(id) => match catalogue.standard(id) {
            Some(s) => Ok(Some(s)),
            None => {
                let ids = catalogue
                    .standards()
                    .iter()
                    .flat_map(|s| std::iter::once(s.card().id).chain(s.card().aliases.iter().map(|a| a.id)));
                Err(RestateError::UnknownStandard { id: id.clone(), nearest: nearest(id, ids) })
            }
        },
    }
}

/// The engine, and what was assumed of it.
pub(crate) fn engine(knowledge: &Knowledge<'_>) -> (Engine, Option<Assumption>) {
    match knowledge.engine {
        Some(e) => (e, None),
        None => (
            Engine::new(Ignition::Spark, Charging::None),
            Some(Assumption {
                what: "engine: spark ignition, naturally aspirated".to_owned(),
                because: "nothing was said of the engine".to_owned(),
                contribution: 0.0,
            }),
        ),
    }
}

/// Refuses a stated interval that is none.
pub(crate) fn sound(figure: &Figure) -> Result<(), RestateError> {
    let fits = match figure.interval {
        None => true,
        Some(Interval::Half(h)) => h.is_finite() && h >= 0.0,
        Some(Interval::Ends(low, high)) => crate::Span::new(low, high).is_sound(),
    };
    if fits {
        Ok(())
    } else {
        Err(RestateError::Contradiction(format!(
            "the stated interval of {figure} must have finite ends, the low end first"
        )))
    }
}

/// Net or gross of the figure and of what it becomes; net never becomes gross.
pub(crate) fn rating(
    figure: &Figure,
    a: Option<&dyn CorrectionStandard>,
    b: Option<&dyn CorrectionStandard>,
) -> Result<(Option<Rating>, Option<Assumption>), RestateError> {
    let definite = |r: Rating| (r != Rating::Either).then_some(r);
    let own = a.and_then(|s| definite(s.card().rating));
    let given = figure.rating.and_then(definite);
    if let (Some(from), Some(to), Some(s)) = (given, own, a)
        && from != to
    {
        return Err(at(s.card().designation)(Refusal::RatingDiffers { from, to }));
    }
    let from = given.or(own);
    let to = b.and_then(|s| definite(s.card().rating));
    match (from, to, b) {
        (Some(from), Some(to), Some(s)) if from != to => {
            Err(at(s.card().designation)(Refusal::RatingDiffers { from, to }))
        }
        (None, Some(to), Some(s)) => Ok((
            Some(to),
            Some(Assumption {
                what: format!("rating: {to}"),
                because: format!("nobody said net or gross, and {} rates {to}", s.card().designation),
                contribution: 0.0,
            }),
        )),
        _ => Ok((from, None)),
    }
}
