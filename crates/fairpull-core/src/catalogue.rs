//! The list of plug-ins a calculation may use: a plain value, never a process-wide default.

use crate::{CorrectionStandard, KnockModel, LossModel};

/// Correction standards, loss models and knock models, found by id.
#[derive(Clone, Copy)]
pub struct Catalogue<'a> {
    standards: &'a [&'a dyn CorrectionStandard],
    losses: &'a [&'a dyn LossModel],
    knocks: &'a [&'a dyn KnockModel],
}

/// Two plug-ins of one family claim the same id.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("two plug-ins have the id {id}: rename or remove one")]
pub struct CatalogueError {
    /// The id.
    pub id: &'static str,
}

impl<'a> Catalogue<'a> {
    /// No plug-in at all.
    pub const EMPTY: Self = Self { standards: &[], losses: &[], knocks: &[] };

    /// A catalogue of the given plug-ins.
    ///
    /// # Errors
    /// [`CatalogueError`] when an id or alias stands twice within a family.
    pub fn new(
        standards: &'a [&'a dyn CorrectionStandard],
        losses: &'a [&'a dyn LossModel],
        knocks: &'a [&'a dyn KnockModel],
    ) -> Result<Self, CatalogueError> {
        for (i, s) in standards.iter().enumerate() {
            let later = standards.get(i + 1..).unwrap_or(&[]);
            let card = s.card();
            let own = core::iter::once(card.id).chain(card.aliases.iter().map(|a| a.id));
            for id in own {
                if later.iter().any(|t| answers(*t, id)) {
                    return Err(CatalogueError { id });
                }
            }
        }
        unique(losses, |l| l.card().id)?;
        unique(knocks, |k| k.card().id)?;
        Ok(Self { standards, losses, knocks })
    }

    /// All standards in the order given.
    #[must_use]
    pub const fn standards(&self) -> &'a [&'a dyn CorrectionStandard] {
        self.standards
    }

    /// All loss models in the order given.
    #[must_use]
    pub const fn losses(&self) -> &'a [&'a dyn LossModel] {
        self.losses
    }

    /// All knock models in the order given.
    #[must_use]
    pub const fn knocks(&self) -> &'a [&'a dyn KnockModel] {
        self.knocks
    }

    /// The standard with this id or alias.
    #[must_use]
    pub fn standard(&self, id: &str) -> Option<&'a dyn CorrectionStandard> {
        self.standards.iter().copied().find(|s| answers(*s, id))
    }

    /// The loss model with this id.
    #[must_use]
    pub fn loss(&self, id: &str) -> Option<&'a dyn LossModel> {
        self.losses.iter().copied().find(|l| l.card().id == id)
    }

    /// The knock model with this id.
    #[must_use]
    pub fn knock(&self, id: &str) -> Option<&'a dyn KnockModel> {
        self.knocks.iter().copied().find(|k| k.card().id == id)
    }
}

fn answers(standard: &dyn CorrectionStandard, id: &str) -> bool {
    let card = standard.card();
    card.id == id || card.aliases.iter().any(|a| a.id == id)
}

fn unique<T: Copy>(items: &[T], id: impl Fn(T) -> &'static str) -> Result<(), CatalogueError> {
    for (i, a) in items.iter().enumerate() {
        let name = id(*a);
        if items.get(i + 1..).unwrap_or(&[]).iter().any(|b| id(*b) == name) {
            return Err(CatalogueError { id: name });
        }
    }
    Ok(())
}
