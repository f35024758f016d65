//! The conformance kit on every standard of the repository; each crate also runs it on its own plug-ins.

use fairpull_conformance::standard;
use fairpull_core::{Catalogue, CorrectionStandard};

/// Every list of correction standards.
const LISTS: [&[&dyn CorrectionStandard]; 15] = [
    fairpull_iso_1585::ALL,
    fairpull_iso_2534::ALL,
    fairpull_iso_15550::ALL,
    fairpull_iso_3046::ALL,
    fairpull_un_r85::ALL,
    fairpull_un_r24::ALL,
    fairpull_ec_80_1269::ALL,
    fairpull_eu_134_2014::ALL,
    fairpull_sae_j1349::ALL,
    fairpull_sae_j1995::ALL,
    fairpull_sae_j607::ALL,
    fairpull_sae_j816::ALL,
    fairpull_sae_j245::ALL,
    fairpull_din_70020::ALL,
    fairpull_jis_d_1001::ALL,
];

#[test]
fn every_standard_keeps_every_promise() {
    let mut failures = Vec::new();
    for s in LISTS.concat() {
        failures.extend(standard::run(s));
    }
    assert!(failures.is_empty(), "{failures:#?}");
}

#[test]
fn no_id_or_alias_stands_twice() {
    let all = LISTS.concat();
    let catalogue = Catalogue::new(&all, &[], &[]).expect("unique ids");
    for id in ["iso-1585-1992", "gb-t-17692", "is-14599", "jis-b-8003", "jis-b-8002-1", "gb-t-21404"] {
        assert!(catalogue.standard(id).is_some(), "{id}");
    }
    // one plug-in for each designation that figures come on
    for id in [
        "iso-1585",
        "iso-2534",
        "iso-15550",
        "iso-3046",
        "un-r85",
        "un-r24",
        "ec-80-1269",
        "eu-134-2014",
        "sae-j1349",
        "sae-j1995",
        "sae-j607",
        "sae-j816",
        "sae-j245",
        "din-70020",
        "jis-d-1001",
    ] {
        assert_eq!(catalogue.standard(id).map(|s| s.card().id), Some(id));
    }
}

#[test]
fn doubtful_cards_own_up() {
    for s in LISTS.concat() {
        let card = s.card();
        let weak = card.grade() >= fairpull_core::Reading::Remembered;
        assert!(!weak || !card.gaps.is_empty(), "{} rests on memory and names no gap", card.id);
    }
}

#[test]
fn every_loss_model_keeps_every_promise() {
    let failures: Vec<_> =
        fairpull_losses::ALL.iter().flat_map(|m| fairpull_conformance::loss::run(*m)).collect();
    assert!(failures.is_empty(), "{failures:#?}");
}

#[test]
fn every_knock_model_keeps_every_promise() {
    let models = fairpull_fuels::KNOCK_MODELS;
    let failures: Vec<_> = models.iter().flat_map(|m| fairpull_conformance::knock::run(*m)).collect();
    assert!(failures.is_empty(), "{failures:#?}");
}

#[test]
fn the_facade_registers_every_standard() {
    let builtin: Vec<_> = fairpull::builtin().standards().iter().map(|s| s.card().id).collect();
    for s in LISTS.concat() {
        assert!(builtin.contains(&s.card().id), "{} is not registered", s.card().id);
    }
}
