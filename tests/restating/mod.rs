//! What the tests of restating share.
#![allow(clippy::unwrap_used)]

use fairpull_core::{Catalogue, CorrectionStandard};
use fairpull_restate::Figure;
use fairpull_units::Unit;

pub fn standards() -> Vec<&'static dyn CorrectionStandard> {
    [
        fairpull_iso_1585::ALL,
        fairpull_un_r85::ALL,
        fairpull_ec_80_1269::ALL,
        fairpull_sae_j1349::ALL,
        fairpull_din_70020::ALL,
        fairpull_jis_d_1001::ALL,
    ]
    .concat()
}

pub fn catalogue<'a>(standards: &'a [&'a dyn CorrectionStandard]) -> Catalogue<'a> {
    Catalogue::new(standards, fairpull_losses::ALL, &[]).unwrap()
}

pub fn kw(value: f64) -> Figure {
    Figure::new(value, Unit::find("kW").unwrap()).unwrap()
}
