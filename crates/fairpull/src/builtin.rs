//! The plug-ins that come with fairpull: one line a crate.

use std::sync::OnceLock;

use fairpull_core::{Catalogue, CorrectionStandard, KnockModel, LossModel};

/// One line a crate of standards. Adding a standard is its crate, and its line here.
static STANDARDS: &[&[&dyn CorrectionStandard]] = &[
    fairpull_iso_1585::ALL,
    fairpull_un_r85::ALL,
    fairpull_sae_j1349::ALL,
    fairpull_din_70020::ALL,
    fairpull_jis_d_1001::ALL,
    fairpull_ec_80_1269::ALL,
    fairpull_iso_2534::ALL,
    fairpull_sae_j1995::ALL,
    fairpull_iso_15550::ALL,
    fairpull_iso_3046::ALL,
    fairpull_un_r24::ALL,
    fairpull_eu_134_2014::ALL,
    fairpull_sae_j245::ALL,
    fairpull_sae_j816::ALL,
    fairpull_sae_j607::ALL,
];

/// One line a crate of loss models.
static LOSSES: &[&[&dyn LossModel]] = &[fairpull_losses::ALL];

/// One line a crate of knock models.
static KNOCKS: &[&[&dyn KnockModel]] = &[fairpull_fuels::KNOCK_MODELS];

/// All plug-ins of this build.
#[must_use]
pub fn builtin() -> Catalogue<'static> {
    static KNOCK_LIST: OnceLock<Vec<&'static dyn KnockModel>> = OnceLock::new();
    with(KNOCK_LIST.get_or_init(|| KNOCKS.concat()))
}

/// The standards and loss models of this build without its knock models: what a figure on another basis needs.
#[must_use]
pub fn bases() -> Catalogue<'static> {
    with(&[])
}

fn with(knocks: &'static [&'static dyn KnockModel]) -> Catalogue<'static> {
    static STANDARD_LIST: OnceLock<Vec<&'static dyn CorrectionStandard>> = OnceLock::new();
    static LOSS_LIST: OnceLock<Vec<&'static dyn LossModel>> = OnceLock::new();
    let standards = STANDARD_LIST.get_or_init(|| STANDARDS.concat());
    let losses = LOSS_LIST.get_or_init(|| LOSSES.concat());
    // the ids are fixed at compile time; a test holds that none stands twice
    Catalogue::new(standards, losses, knocks).unwrap_or(Catalogue::EMPTY)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_id_stands_twice() {
        let c = builtin();
        assert_eq!(c.standards().len(), STANDARDS.concat().len());
        assert!(c.standards().len() >= 15 && c.losses().len() >= 7 && c.knocks().len() >= 3);
    }
}
