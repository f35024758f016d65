//! Where moist air ends: saturation, dryness, the ends of the formulas, each from both sides.
#![allow(clippy::unwrap_used)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use fairpull_core::{AbsolutePressure, Air, Temperature, VapourPressure};
use fairpull_humid::{
    Formulation, Method, Moisture, Psychrometer, ReadingSpread, air, dew_point, enhancement, spread,
    vapour_from_wet_bulb,
};

fn celsius(t: f64) -> Temperature {
    Temperature::from_celsius(t)
}

fn sea() -> AbsolutePressure {
    AbsolutePressure::from_pascals(101_325.0)
}

/// Nothing is moister than saturated: humidity to 100 %, vapour to the saturation pressure and a rounding of it, points
/// and bulbs to the temperature of the air.
#[test]
fn saturated_air_is_taken_and_more_is_refused() {
    let m = Method::default();
    let full = m.saturation(celsius(25.0)).unwrap().pascals();
    let read = |moisture| air(sea(), celsius(25.0), moisture, &m).map(|a| a.vapour().pascals());
    let vapour = |pa: f64| read(Moisture::Vapour(VapourPressure::from_pascals(pa)));
    for saturated in [
        read(Moisture::percent(100.0)),
        read(Moisture::DewPoint(celsius(25.0))),
        read(Moisture::wet_bulb(celsius(25.0))),
        vapour(full),
        vapour(full * (1.0 + 0.9e-9)),
    ] {
        assert_relative_eq!(saturated.unwrap(), full, max_relative = 2e-9);
    }
    for more in [
        read(Moisture::percent(100.5)),
        read(Moisture::DewPoint(celsius(25.001))),
        read(Moisture::wet_bulb(celsius(25.001))),
        vapour(full + 0.5),
        vapour(full * 1.005),
    ] {
        assert!(more.is_err(), "{more:?}");
    }
    // a psychrometer whose bulbs read the same stands in saturated air, whatever its coefficient
    for kind in [Psychrometer::Thermodynamic, Psychrometer::Sprung, Psychrometer::Wmo] {
        let e = vapour_from_wet_bulb(sea(), celsius(25.0), celsius(25.0), kind, &m).unwrap();
        assert_relative_eq!(e.pascals(), full, max_relative = 1e-12);
    }
}

/// A relative humidity is read wherever an intake and the formula of the saturation pressure both answer, and no further.
#[test]
fn relative_humidity_to_the_ends_of_a_formula() {
    for formulation in Formulation::ALL {
        let m = Method { formulation, ..Method::default() };
        let (range, intake) = (formulation.range(), Air::INTAKE);
        let (low, high) = (range.low.max(intake.low), range.high.min(intake.high));
        let read = |t: f64| air(sea(), celsius(t), Moisture::percent(50.0), &m);
        for t in [low + 1e-9, high - 1e-9] {
            let half = 0.5 * formulation.over_water(celsius(t)).unwrap().pascals();
            assert_eq!(read(t).unwrap().vapour().pascals(), half, "{formulation:?} {t}");
        }
        for t in [low - 1e-9, high + 1e-9] {
            assert!(read(t).is_err(), "{formulation:?} {t}");
        }
    }
}

/// A dew point is sought over the whole range that the page of the formula states, and no further.
#[test]
fn dew_points_to_the_ends_of_a_formula() {
    for (formulation, low, high) in [
        (Formulation::Iapws, -60.0, 45.0),
        (Formulation::Bolton, -35.0, 35.0),
        (Formulation::AlduchovEskridge, -40.0, 50.0),
        (Formulation::Buck1981, -20.0, 50.0),
        (Formulation::Buck1996, -80.0, 50.0),
        (Formulation::Tetens, -20.0, 50.0),
    ] {
        let m = Method { formulation, ..Method::default() };
        let with = |e: f64| {
            let e = VapourPressure::from_pascals(e);
            dew_point(&Air::new(sea(), celsius(60.0), e).unwrap(), &m).map(|t| t.celsius())
        };
        for t in [low + 0.01, high - 0.01] {
            let e = formulation.over_water(celsius(t)).unwrap().pascals();
            assert_abs_diff_eq!(with(e).unwrap(), t, epsilon = 1e-9);
        }
        let driest = formulation.over_water(celsius(low)).unwrap().pascals();
        assert!(with(0.97 * driest).is_err(), "{}", formulation.id());
        if formulation != Formulation::Iapws {
            let moistest = formulation.over_water(celsius(high)).unwrap().pascals();
            assert!(with(1.05 * moistest).is_err(), "{}", formulation.id());
        }
    }
}

/// The uncertainty of a vapour pressure that is read is its own; of humidity next to none it is the saturation
/// pressure's share, though there is only a moister side.
#[test]
fn uncertainty_at_the_dry_end_and_of_vapour_itself() {
    let m = Method::default();
    let of = |moisture: f64| ReadingSpread { station_pa: 0.0, temperature_k: 0.0, moisture };
    let full = m.saturation(celsius(25.0)).unwrap().pascals();
    let dry = spread(sea(), celsius(25.0), Moisture::percent(0.0), &m, &of(0.02)).unwrap();
    assert_relative_eq!(dry.vapour_pa, 0.02 * full, max_relative = 1e-9);
    // a dew point at the lower end of the formula has a warmer side alone: the slope there by a wider step
    let at = |t: f64| m.formulation.over_water(celsius(t)).unwrap().pascals();
    let coldest = spread(sea(), celsius(25.0), Moisture::DewPoint(celsius(-60.0)), &m, &of(1.0)).unwrap();
    assert_relative_eq!(coldest.vapour_pa, (at(-59.9) - at(-60.0)) / 0.1, max_relative = 0.02);
    let e = Moisture::Vapour(VapourPressure::from_pascals(1500.0));
    let read = spread(sea(), celsius(25.0), e, &m, &of(10.0)).unwrap();
    assert_relative_eq!(read.vapour_pa, 10.0, max_relative = 1e-9);
    assert_relative_eq!(read.dry_pa, 10.0, max_relative = 1e-9);
}

/// f = 1.0016 + 3.15e-6 p − 0.074/p with p in hPa (WMO-No. 8, annex 4.B, from memory), evaluated in Python 3.11.
#[test]
fn the_enhancement_factor_by_value() {
    for (hpa, f) in [(300.0, 1.0022983333333333), (500.0, 1.003027), (1013.25, 1.004718705178263)] {
        assert_relative_eq!(enhancement(AbsolutePressure::from_hectopascals(hpa)), f, max_relative = 1e-12);
    }
}
