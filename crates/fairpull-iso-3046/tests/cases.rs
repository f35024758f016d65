//! Every case of the relative-power method by logarithms, its exponents typed here again: A, C and D as worked examples of
//! Mathur and Sharma (2010) have them; B, F, G and liquid fuel from memory, as the crate says. Ranges from both sides.
#![allow(clippy::unwrap_used)]

use fairpull_core::{
    AbsolutePressure, Air, ChargeCooling, Charging, CorrectionStandard, Engine, Ignition, Refusal,
    Temperature, VapourPressure,
};
use fairpull_iso_3046::{Ambient, Case, Iso3046, relative};

/// a, m, n, s.
const CASES: [(&Case, [f64; 4]); 7] = [
    (&Case::A, [1.0, 1.0, 0.75, 0.0]),
    (&Case::B, [0.0, 1.0, 1.0, 0.0]),
    (&Case::C, [0.0, 0.7, 2.0, 0.0]),
    (&Case::D, [0.0, 0.7, 1.2, 1.0]),
    (&Case::F, [1.0, 0.86, 0.55, 0.0]),
    (&Case::G, [0.0, 0.57, 0.55, 1.75]),
    (&Case::SPARK_LIQUID, [1.0, 1.0, 0.5, 0.0]),
];

#[test]
fn every_case_by_logarithms() {
    let reference = Ambient::new(100.0, 298.0, 298.0).humid(0.3, 3.2);
    for (pressure, kelvin, coolant, humidity, saturation) in
        [(90.0, 318.0, 312.0, 0.6, 9.6), (103.0, 276.0, 285.0, 0.9, 0.76), (70.0, 298.0, 298.0, 0.0, 3.2)]
    {
        let site = Ambient::new(pressure, kelvin, coolant).humid(humidity, saturation);
        for (case, [a, m, n, s]) in CASES {
            let ratio = (pressure - a * humidity * saturation) / (100.0 - a * 0.3 * 3.2);
            let log = m * libm::log(ratio) + n * libm::log(298.0 / kelvin) + s * libm::log(298.0 / coolant);
            let k = libm::exp(log);
            for eta in [0.1, 0.8, 0.9, 1.0] {
                let alpha = k - 0.7 * (1.0 - k) * (1.0 / eta - 1.0);
                if alpha <= 0.0 {
                    assert!(matches!(relative(case, &reference, &site, eta), Err(Refusal::Other { .. })));
                    continue;
                }
                let got = relative(case, &reference, &site, eta).unwrap();
                for (got, expected) in [(got.k, k), (got.alpha, alpha), (got.beta, k / alpha)] {
                    assert!((got / expected - 1.0).abs() < 1e-12, "{}: {got} {expected}", case.name);
                }
            }
        }
    }
}

/// The reference of the text; air is dry until it is said to be humid; any power that is left counts.
#[test]
fn reference_dryness_and_the_last_of_the_power() {
    assert_eq!(Ambient::REFERENCE, Ambient::new(100.0, 298.0, 298.0).humid(0.3, 3.2));
    let (dry, site) = (Ambient::new(100.0, 298.0, 298.0), Ambient::new(50.0, 298.0, 298.0));
    assert_eq!(dry, dry.humid(0.0, 3.2));
    let got = relative(&Case::A, &dry, &site, 1.0).unwrap();
    assert!((got.k - 0.5).abs() < 1e-15, "{got:?}");
    // α = 0.5 − 0.35·(1/η − 1) is 0.04 at η = 35/81
    let little = relative(&Case::A, &dry, &site, 35.0 / 81.0).unwrap();
    assert!((little.alpha - 0.04).abs() < 1e-12, "{little:?}");
}

/// A coolant is assumed where its temperature has a say, and only there.
#[test]
fn the_coolant_that_is_assumed() {
    let hot = Air::new(
        AbsolutePressure::from_kilopascals(95.0),
        Temperature::from_celsius(35.0),
        VapourPressure::from_kilopascals(1.0),
    )
    .unwrap();
    let says = |engine: &Engine| {
        let factor = Iso3046.factor(&hot, engine).unwrap();
        factor.notices().iter().any(|n| n.to_string().contains("coolant"))
    };
    let engine = |charging, cooling: Option<ChargeCooling>| {
        let mut e = Engine::new(Ignition::Compression, charging);
        if let Some(c) = cooling {
            e.charge_cooling = c;
        }
        e
    };
    assert!(!says(&engine(Charging::None, None)));
    assert!(!says(&engine(Charging::Turbocharged, Some(ChargeCooling::None))));
    assert!(says(&engine(Charging::Turbocharged, Some(ChargeCooling::Liquid))));
}

#[test]
fn what_an_ambient_can_be() {
    let fine = Ambient::new(100.0, 298.0, 298.0);
    let ask = |site: Ambient| relative(&Case::D, &fine, &site, 0.8).is_ok();
    let here = |p: f64, t: f64, c: f64| Ambient::new(p, t, c);
    for (inside, outside) in [
        (here(30.0, 298.0, 298.0), here(29.99, 298.0, 298.0)),
        (here(130.0, 298.0, 298.0), here(130.01, 298.0, 298.0)),
        (here(100.0, 200.0, 298.0), here(100.0, 199.99, 298.0)),
        (here(100.0, 360.0, 298.0), here(100.0, 360.01, 298.0)),
        (here(100.0, 298.0, 200.0), here(100.0, 298.0, 199.99)),
        (here(100.0, 298.0, 420.0), here(100.0, 298.0, 420.01)),
        (here(100.0, 298.0, 298.0).humid(0.5, 100.0), here(100.0, 298.0, 298.0).humid(0.5, 100.02)),
        (here(100.0, 298.0, 298.0).humid(0.0, 5.0), here(100.0, 298.0, 298.0).humid(-0.01, 5.0)),
        (here(100.0, 298.0, 298.0), here(f64::NAN, 298.0, 298.0)),
    ] {
        // little power may be left, but the ambient itself is one
        let inside = relative(&Case::D, &fine, &inside, 1.0);
        assert!(inside.is_ok(), "{inside:?}");
        assert!(!ask(outside), "{outside:?}");
        assert!(relative(&Case::D, &outside, &fine, 0.8).is_err(), "{outside:?}");
    }
    let eta = |x: f64| relative(&Case::D, &fine, &fine, x).is_ok();
    assert!(eta(0.1) && eta(1.0) && !eta(0.0999) && !eta(1.0001) && !eta(f64::NAN));
}
