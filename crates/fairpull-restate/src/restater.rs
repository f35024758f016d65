//! Many figures with one set of draws.

use crate::draws::Draws;
use crate::restate::restate_with;
use crate::{BasisRow, Figure, Knowledge, RestateError, Restated, Scaling, Target};
use fairpull_core::Catalogue;
use std::cell::RefCell;
use std::rc::Rc;

/// Restates figures with one catalogue and keeps from one to the next what does not depend on the figure: the draws, and
/// the factors at them. The answers are those of [`restate`](crate::restate()) and
/// [`restate_all`](crate::restate_all), bit for bit; only the second figure of a kind comes sooner.
///
/// Holds at most some 8 MB. Not shared between threads: each takes its own.
///
/// ```
/// use fairpull_core::Catalogue;
/// use fairpull_restate::{Figure, Knowledge, Restater, Target, restate};
/// let catalogue = Catalogue::new(fairpull_iso_1585::ALL, &[], &[])?;
/// let restater = Restater::new(catalogue);
/// for power in ["150 kW; crank; iso-1585", "151 kW; crank; iso-1585"] {
///     let figure: Figure = power.parse()?;
///     let kept = restater.restate(&figure, &Target::observed_at_crank(), &Knowledge::new())?;
///     assert_eq!(kept, restate(&figure, &Target::observed_at_crank(), &catalogue, &Knowledge::new())?);
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub struct Restater<'c> {
    catalogue: Catalogue<'c>,
    draws: RefCell<Option<Rc<Draws>>>,
}

impl<'c> Restater<'c> {
    /// Nothing kept yet.
    #[must_use]
    pub const fn new(catalogue: Catalogue<'c>) -> Self {
        Self { catalogue, draws: RefCell::new(None) }
    }

    /// The plug-ins in use.
    #[must_use]
    pub const fn catalogue(&self) -> &Catalogue<'c> {
        &self.catalogue
    }

    /// As [`restate`](crate::restate()).
    ///
    /// # Errors
    /// As [`restate`](crate::restate()).
    pub fn restate(
        &self,
        figure: &Figure,
        target: &Target,
        knowledge: &Knowledge<'_>,
    ) -> Result<Restated, RestateError> {
        restate_with(figure, target, &self.catalogue, knowledge, &*self.draws(knowledge)?, true)
    }

    /// As [`restate_all`](crate::restate_all).
    ///
    /// # Errors
    /// As [`restate_all`](crate::restate_all).
    pub fn restate_all(
        &self,
        figure: &Figure,
        knowledge: &Knowledge<'_>,
    ) -> Result<Vec<BasisRow>, RestateError> {
        Ok(crate::all::rows(figure, &self.catalogue, knowledge, &*self.draws(knowledge)?))
    }

    /// What restating does to a figure of any value; the value of `figure` is not looked at. `None` where the value is
    /// not only multiplied (the site changes, or the figure has an interval of its own), where nothing changes, where
    /// site or treatment are not known, and where [`Restater::restate`] refuses: it then gives the answer or the reason.
    #[must_use]
    pub fn scaling(&self, figure: &Figure, target: &Target, knowledge: &Knowledge<'_>) -> Option<Scaling> {
        let draws = self.draws(knowledge).ok()?;
        Scaling::of(figure, target, &self.catalogue, knowledge, &draws)
    }

    /// Those kept, or new ones where seed or number differ.
    fn draws(&self, knowledge: &Knowledge<'_>) -> Result<Rc<Draws>, RestateError> {
        let mut kept = self.draws.borrow_mut();
        match &*kept {
            Some(draws) if draws.seed == knowledge.seed && draws.count == knowledge.draws => {
                Ok(draws.clone())
            }
            _ => Ok(kept.insert(Rc::new(Draws::new(knowledge)?)).clone()),
        }
    }
}
