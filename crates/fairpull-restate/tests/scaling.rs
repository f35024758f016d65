//! A scaling gives the bits of restating each value alone.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use fairpull_core::{Catalogue, CorrectionStandard, Ignition};
use fairpull_restate::{
    Figure, Interval, Knowledge, KnownAir, Restater, Site, Span, Target, Treatment, restate,
};
use fairpull_units::Unit;
use proptest::prelude::*;

fn with_catalogue<T>(use_it: impl FnOnce(&Catalogue<'_>) -> T) -> T {
    let standards: Vec<&dyn CorrectionStandard> =
        [fairpull_iso_1585::ALL, fairpull_sae_j1349::ALL, fairpull_din_70020::ALL].concat();
    use_it(&Catalogue::new(&standards, &[], &[]).unwrap())
}

fn treatment(id: &str) -> Treatment {
    if id == "observed" { Treatment::Observed } else { Treatment::Corrected(id.to_owned()) }
}

fn figure(value: f64, unit: &str, from: &str, site: Site) -> Figure {
    let mut figure = Figure::new(value, Unit::find(unit).unwrap()).unwrap().at(site);
    figure.treatment = Some(treatment(from));
    figure
}

/// Pairs of bases; the two editions of one standard give quotients that differ from 1 by rounding alone.
const PAIRS: [(&str, &str); 6] = [
    ("din-70020", "iso-1585"),
    ("iso-1585", "din-70020"),
    ("iso-1585", "observed"),
    ("observed", "sae-j1349"),
    ("iso-1585", "iso-1585-2020"),
    ("iso-1585-2020", "iso-1585"),
];

fn airs() -> [Knowledge<'static>; 4] {
    let mut known = Knowledge::new();
    known.air.pressure_kpa = Some(Span::exact(98.7));
    known.air.temperature_c = Some(Span::exact(24.0));
    known.air.humidity = Some(fairpull_restate::Humidity::Relative(Span::exact(0.55)));
    let mut humid = known.clone();
    humid.air.humidity = None;
    let mut month = Knowledge::new();
    (month.month, month.factor_in_range, month.draws) = (Some(3), true, 1000);
    [Knowledge::new(), known, humid, month]
}

fn same_bits(values: &[f64], unit: &str, site: Site) {
    with_catalogue(|catalogue| {
        for (from, to) in PAIRS {
            let target = Target { site, treatment: treatment(to) };
            for (n, knowledge) in airs().iter().enumerate() {
                let scaling = Restater::new(*catalogue)
                    .scaling(&figure(0.0, unit, from, site), &target, knowledge)
                    .unwrap_or_else(|| panic!("{from} to {to}, air {n}"));
                for value in values {
                    let alone =
                        restate(&figure(*value, unit, from, site), &target, catalogue, knowledge).unwrap();
                    let wanted = [alone.value, alone.lo95, alone.hi95].map(f64::to_bits);
                    let got = scaling.ends(*value).unwrap().map(f64::to_bits);
                    assert_eq!(got, wanted, "{value} {unit} {from} to {to}, air {n}");
                }
            }
        }
    });
}

#[test]
fn the_bits_of_each_value_restated_alone() {
    same_bits(&[1.0, 400.0, 0.1, 333.333, 99_999.0, 2e-12], "kW", Site::Crank);
    same_bits(&[530.0, 73.5], "PS", Site::Wheel);
    same_bits(&[612.7], "Nm", Site::Hub);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3, ..ProptestConfig::default() })]
    #[test]
    fn the_bits_of_any_value(values in prop::collection::vec(1e-6..9.9e4_f64, 3)) {
        same_bits(&values, "kW", Site::Crank);
    }
}

#[test]
fn what_is_restated_alone_or_refused_is_left_to_restate() {
    with_catalogue(|catalogue| {
        let of = |figure: &Figure, to: &str, site, knowledge: &Knowledge<'_>| {
            Restater::new(*catalogue).scaling(figure, &Target { site, treatment: treatment(to) }, knowledge)
        };
        let unknown = Knowledge::new();
        let plain = figure(1.0, "kW", "din-70020", Site::Crank);
        let scaling = of(&plain, "iso-1585", Site::Crank, &unknown).unwrap();
        for value in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-13, 100_001.0] {
            assert_eq!(scaling.ends(value), None, "{value}");
        }
        assert!(of(&plain, "iso-1585", Site::Wheel, &unknown).is_none());
        assert!(of(&plain, "din-70020", Site::Crank, &unknown).is_none(), "nothing changes");
        assert!(of(&plain, "no-such", Site::Crank, &unknown).is_none());
        assert!(of(&plain.clone().within(Interval::Half(0.1)), "iso-1585", Site::Crank, &unknown).is_none());
        let nowhere = Figure { site: None, ..plain.clone() };
        assert!(of(&nowhere, "iso-1585", Site::Crank, &unknown).is_none());
        let untreated = Figure { treatment: None, ..plain.clone() };
        assert!(of(&untreated, "iso-1585", Site::Crank, &unknown).is_none());
        let mut few = Knowledge::new();
        few.draws = 3;
        assert!(of(&plain, "iso-1585", Site::Crank, &few).is_none());
        let mut air = KnownAir::UNKNOWN;
        air.temperature_c = Some(Span::new(30.0, 20.0));
        assert!(of(&plain.clone().in_air(air), "iso-1585", Site::Crank, &unknown).is_none());
        let mut fuelless = Knowledge::new();
        fuelless.engine =
            Some(fairpull_core::Engine::new(Ignition::Compression, fairpull_core::Charging::None));
        let refused = restate(
            &plain,
            &Target { site: Site::Crank, treatment: treatment("iso-1585") },
            catalogue,
            &fuelless,
        );
        assert!(refused.is_err());
        assert!(of(&plain, "iso-1585", Site::Crank, &fuelless).is_none());
    });
}
