//! Moist air against psychrolib, CoolProp, iapws, the ASHRAE and ISO 2533 tables, and second implementations.
#![allow(clippy::panic, clippy::unwrap_used)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use fairpull_core::{AbsolutePressure, Air, Temperature, VapourPressure};
use fairpull_humid::{
    Formulation, HumidError, Method, Moisture, Psychrometer, ReadingSpread, SeaLevelPressure, Surface, air,
    altimeter_setting, density_altitude, density_cipm_2007, density_ideal, dew_point, enhancement,
    frost_point, geometric, geopotential, humidity_ratio, pressure_altitude, relative_humidity, spread,
    standard_atmosphere, station_pressure, vapour_from_wet_bulb, wet_bulb,
};
use fairpull_tests::{fixture, half_digit, maybe, number, rows, text};
use proptest::prelude::*;
use toml::Table;

const IAPWS_ICE: Method = Method { formulation: Formulation::Iapws, surface: Surface::IceBelowFreezing };

fn celsius(t: f64) -> Temperature {
    Temperature::from_celsius(t)
}

fn pascals(p: f64) -> AbsolutePressure {
    AbsolutePressure::from_pascals(p)
}

/// Air of a row with `t_c`, `p_pa`, `phi`.
fn air_of(row: &Table, method: &Method) -> Air {
    let moisture = Moisture::RelativeHumidity(number(row, "phi"));
    air(pascals(number(row, "p_pa")), celsius(number(row, "t_c")), moisture, method).unwrap()
}

/// Largest difference seen, printed by the test.
struct Worst(&'static str, f64);

impl Worst {
    fn relative(&mut self, got: f64, expected: f64, within: f64, what: &str) {
        let off = (got / expected - 1.0).abs();
        assert!(off <= within, "{}: {got} against {expected}, {off:e} ({what})", self.0);
        self.1 = self.1.max(off);
    }

    fn absolute(&mut self, got: f64, expected: f64, within: f64, what: &str) {
        let off = (got - expected).abs();
        assert!(off <= within, "{}: {got} against {expected}, {off:e} ({what})", self.0);
        self.1 = self.1.max(off);
    }
}

impl Drop for Worst {
    fn drop(&mut self) {
        println!("worst {}: {:.2e}", self.0, self.1);
    }
}

#[test]
fn saturation_formulas_agree_with_a_second_implementation() {
    let file = fixture("moist-air/formulas");
    let within = number(&file, "tolerance");
    let mut checked = 0;
    for (phase, surface) in [("water", Surface::Water), ("ice", Surface::IceBelowFreezing)] {
        for row in rows(&file, phase) {
            for f in Formulation::ALL {
                let Some(expected) = maybe(row, f.id()) else { continue };
                let got = f.saturation(celsius(number(row, "t_c")), surface).unwrap().pascals();
                assert_relative_eq!(got, expected, max_relative = within);
                checked += 1;
            }
        }
    }
    assert_eq!(checked, 7 * 6 + 4 + 4 * 4);
}

#[test]
fn saturation_within_a_thousandth_of_the_libraries() {
    let file = fixture("moist-air/saturation");
    let mut iapws = Worst("saturation, ours to iapws", 0.0);
    let mut coolprop = Worst("saturation, ours to CoolProp", 0.0);
    let mut ashrae = Worst("saturation, ours to psychrolib", 0.0);
    let mut same = Worst("saturation, our Hyland-Wexler to psychrolib's", 0.0);
    for row in rows(&file, "case") {
        let t = celsius(number(row, "t_c"));
        let got = IAPWS_ICE.saturation(t).unwrap().pascals();
        let at = format!("{} °C", t.celsius());
        iapws.relative(got, number(row, "iapws_pa"), 1e-4, &at);
        ashrae.relative(got, number(row, "psychrolib_pa"), 1e-3, &at);
        if let Some(expected) = maybe(row, "coolprop_pa") {
            coolprop.relative(got, expected, 1e-4, &at);
        }
        same.relative(
            Method::ASHRAE.saturation(t).unwrap().pascals(),
            number(row, "psychrolib_pa"),
            1e-12,
            &at,
        );
    }
}

#[test]
fn formulations_agree_with_each_other() {
    // The three reference formulas spread by less than 3e-4 above freezing; the short Magnus forms by 4e-3.
    for t in 0..=50 {
        let t = celsius(f64::from(t));
        let best = Formulation::Iapws.over_water(t).unwrap().pascals();
        for f in Formulation::ALL.into_iter().filter(|f| f.range().check(t.celsius()).is_ok()) {
            let fine = matches!(f, Formulation::Iapws | Formulation::HylandWexler | Formulation::Sonntag);
            let within = if fine { 3e-4 } else { 4e-3 };
            assert_relative_eq!(f.over_water(t).unwrap().pascals(), best, max_relative = within);
        }
    }
    // Supercooled water, where IAPWS and Hyland-Wexler are extrapolated, against Sonntag, who covers it.
    let mut iapws = Worst("supercooled water to -20 °C, IAPWS extrapolated to Sonntag", 0.0);
    let mut hw = Worst("supercooled water to -20 °C, Hyland-Wexler extrapolated to Sonntag", 0.0);
    for t in -20..0 {
        let t = celsius(f64::from(t));
        let reference = Formulation::Sonntag.over_water(t).unwrap().pascals();
        iapws.relative(Formulation::Iapws.over_water(t).unwrap().pascals(), reference, 2e-3, "iapws");
        hw.relative(Formulation::HylandWexler.over_water(t).unwrap().pascals(), reference, 2e-3, "hw");
    }
}

#[test]
fn printed_ashrae_saturation_table() {
    for row in rows(&fixture("moist-air/humidity"), "printed") {
        let got = Method::ASHRAE.saturation(celsius(number(row, "t_c"))).unwrap().pascals();
        assert_relative_eq!(got, number(row, "saturation_pa"), max_relative = 3e-4);
    }
}

#[test]
fn humidity_quantities_agree_with_a_second_implementation() {
    let file = fixture("moist-air/humidity");
    let within = number(&file, "tolerance");
    let m = Method::ASHRAE;
    for row in rows(&file, "case") {
        let a = air_of(row, &m);
        assert_relative_eq!(a.vapour().pascals(), number(row, "vapour_pa"), max_relative = within);
        assert_relative_eq!(humidity_ratio(&a), number(row, "ratio"), max_relative = within);
        assert_abs_diff_eq!(dew_point(&a, &m).unwrap().celsius(), number(row, "dew_c"), epsilon = 1e-10);
        let wet = wet_bulb(&a, Psychrometer::Thermodynamic, &m).unwrap();
        assert_abs_diff_eq!(wet.celsius(), number(row, "wet_c"), epsilon = 1e-10);
    }
    let wmo = Method { formulation: Formulation::MagnusWmo, ..Method::default() };
    for row in rows(&file, "wet_bulb") {
        let (p, t, w) =
            (pascals(number(row, "p_pa")), celsius(number(row, "t_c")), celsius(number(row, "wet_c")));
        let a = air(p, t, Moisture::wet_bulb(w), &m).unwrap();
        assert_relative_eq!(humidity_ratio(&a), number(row, "ratio"), max_relative = within);
        assert_relative_eq!(a.vapour().pascals(), number(row, "vapour_pa"), max_relative = within);
        assert_relative_eq!(relative_humidity(&a, &m).unwrap(), number(row, "phi"), max_relative = within);
        assert_relative_eq!(a.dry().pascals(), number(row, "dry_pa"), max_relative = within);
        let e = vapour_from_wet_bulb(p, t, w, Psychrometer::Wmo, &wmo).unwrap();
        assert_relative_eq!(e.pascals(), number(row, "wmo_pa"), max_relative = within);
        let e = vapour_from_wet_bulb(p, t, w, Psychrometer::Sprung, &wmo).unwrap();
        assert_relative_eq!(e.pascals(), number(row, "sprung_pa"), max_relative = within);
    }
    for row in rows(&file, "frozen") {
        let (p, t, w) =
            (pascals(number(row, "p_pa")), celsius(number(row, "t_c")), celsius(number(row, "wet_c")));
        let a = air(p, t, Moisture::wet_bulb(w), &m).unwrap();
        assert_relative_eq!(humidity_ratio(&a), number(row, "ratio"), max_relative = within);
        assert_relative_eq!(a.vapour().pascals(), number(row, "vapour_pa"), max_relative = within);
    }
    for row in rows(&file, "dry") {
        let formulation = Formulation::find(text(row, "formulation")).unwrap();
        let m = Method { formulation, ..Method::default() };
        let a = air(pascals(98_500.0), celsius(32.0), Moisture::percent(70.0), &m).unwrap();
        assert_relative_eq!(a.dry().pascals(), number(row, "dry_pa"), max_relative = within);
    }
}

#[test]
fn worked_example_of_the_ashrae_handbook() {
    // Read off a chart: one unit of the last printed digit.
    let file = fixture("moist-air/humidity");
    let e = file["example"].as_table().unwrap();
    let m = Method::ASHRAE;
    let a = air(
        pascals(number(e, "p_pa")),
        celsius(number(e, "t_c")),
        Moisture::wet_bulb(celsius(number(e, "wet_c"))),
        &m,
    )
    .unwrap();
    let chart = |key: &str| 2.0 * half_digit(text(e, key));
    assert_abs_diff_eq!(humidity_ratio(&a), number(e, "ratio"), epsilon = chart("ratio"));
    assert_abs_diff_eq!(dew_point(&a, &m).unwrap().celsius(), number(e, "dew_c"), epsilon = chart("dew_c"));
    let percent = 100.0 * relative_humidity(&a, &m).unwrap();
    assert_abs_diff_eq!(percent, number(e, "phi_percent"), epsilon = chart("phi_percent"));
}

#[test]
fn psychrolib_from_minus_10_to_50() {
    let file = fixture("moist-air/psychrolib");
    let m = Method::ASHRAE;
    let mut ratio = Worst("humidity ratio to psychrolib", 0.0);
    let mut dew = Worst("dew point to psychrolib, K", 0.0);
    let mut wet = Worst("wet bulb to psychrolib, K", 0.0);
    let mut rho = Worst("ideal density to psychrolib", 0.0);
    let mut both = 0;
    for row in rows(&file, "case") {
        let a = air_of(row, &m);
        let at = format!("{row:?}");
        ratio.relative(humidity_ratio(&a), number(row, "humidity_ratio"), 1e-9, &at);
        // The library calls the frost point a dew point below the triple point.
        let expected = number(row, "dew_point_c");
        let point = if expected < 0.01 { frost_point(&a, &m) } else { dew_point(&a, &m) };
        dew.absolute(point.unwrap().celsius(), expected, 1e-6, &at);
        let got = wet_bulb(&a, Psychrometer::Thermodynamic, &m).unwrap().celsius();
        // Where water and ice both solve the wet bulb, the library's bisection may end on the ice.
        let theirs = number(row, "wet_bulb_c");
        if (theirs < 0.0) == (got < 0.0) {
            wet.absolute(got, theirs, 1.5e-3, &at);
        } else {
            both += 1;
        }
        rho.relative(density_ideal(&a), number(row, "density"), 1e-4, &at);
    }
    println!("wet bulbs with two answers, ours liquid, the library's ice: {both}");
    assert!(both <= 8, "{both}");
}

#[test]
fn coolprop_from_minus_10_to_50() {
    let file = fixture("moist-air/coolprop");
    let mut ratio = Worst("humidity ratio (ideal) to CoolProp (real gas)", 0.0);
    let mut dew = Worst("dew point to CoolProp, K", 0.0);
    let mut wet = Worst("wet bulb to CoolProp, K", 0.0);
    let mut ideal = Worst("ideal density to CoolProp", 0.0);
    let mut cipm = Worst("CIPM-2007 density to CoolProp", 0.0);
    let mut dry = Worst("dry pressure to CoolProp", 0.0);
    for row in rows(&file, "case") {
        let a = air_of(row, &IAPWS_ICE);
        let at = format!("{row:?}");
        let w = number(row, "humidity_ratio");
        ratio.relative(humidity_ratio(&a), w, 7e-3, &at);
        let p = a.station().pascals();
        dry.relative(a.dry().pascals(), p - p * w / (0.621_945 + w), 1e-3, &at);
        let expected = number(row, "dew_point_c");
        let point = if expected < 0.01 { frost_point(&a, &IAPWS_ICE) } else { dew_point(&a, &IAPWS_ICE) };
        dew.absolute(point.unwrap().celsius(), expected, 0.02, &at);
        let got = wet_bulb(&a, Psychrometer::Thermodynamic, &IAPWS_ICE).unwrap().celsius();
        if (number(row, "wet_bulb_c") < 0.0) == (got < 0.0) {
            wet.absolute(got, number(row, "wet_bulb_c"), 0.05, &at);
        }
        ideal.relative(density_ideal(&a), number(row, "density"), 1e-3, &at);
        cipm.relative(density_cipm_2007(&a, &IAPWS_ICE).unwrap().density, number(row, "density"), 1e-3, &at);
    }
}

#[test]
fn densities_agree_with_a_second_implementation() {
    for row in rows(&fixture("moist-air/density"), "case") {
        let a = air_of(row, &Method::ASHRAE);
        let cipm = text(row, "cipm");
        let got = density_cipm_2007(&a, &Method::ASHRAE).unwrap();
        if number(row, "t_c") >= 0.0 {
            assert_abs_diff_eq!(got.density, number(row, "cipm"), epsilon = half_digit(cipm).max(1e-15));
        }
        let inside = (15.0..=27.0).contains(&number(row, "t_c"));
        assert_eq!(got.outside.is_none(), inside, "{row:?}");
        if let Some(expected) = maybe(row, "two_gases") {
            // The fixture has 287.05 J/(kg K) for dry air, ours is the 287.05287 of ISO 2533: 1e-5 apart.
            assert_relative_eq!(density_ideal(&a), expected, max_relative = 1.1e-5);
        }
    }
}

#[test]
fn standard_atmosphere_tables() {
    let file = fixture("moist-air/atmosphere");
    for row in rows(&file, "printed") {
        let h = maybe(row, "geopotential_m").unwrap_or_else(|| geopotential(number(row, "geometric_m")));
        let at = standard_atmosphere(h).unwrap();
        let mbar = text(row, "pressure_mbar");
        assert_abs_diff_eq!(
            at.pressure.hectopascals(),
            number(row, "pressure_mbar"),
            epsilon = half_digit(mbar)
        );
        if let Some(density) = maybe(row, "density") {
            assert_abs_diff_eq!(at.density, density, epsilon = half_digit(text(row, "density")));
        }
    }
    for (key, geo) in [("geometric", true), ("geopotential", false)] {
        for row in rows(&file, key) {
            let h = number(row, "h_m");
            if geo {
                assert_relative_eq!(geopotential(number(row, "z_m")), h, max_relative = 1e-14);
                assert_relative_eq!(geometric(h), number(row, "z_m"), max_relative = 1e-14);
            }
            let at = standard_atmosphere(h).unwrap();
            assert_relative_eq!(at.temperature.kelvin(), number(row, "kelvin"), max_relative = 1e-14);
            assert_relative_eq!(at.pressure.pascals(), number(row, "p_pa"), max_relative = 1e-12);
            assert_relative_eq!(at.density, number(row, "density"), max_relative = 1e-12);
            assert_abs_diff_eq!(pressure_altitude(at.pressure), h, epsilon = 1e-7);
        }
    }
}

#[test]
fn station_pressure_and_altitudes() {
    let file = fixture("moist-air/atmosphere");
    for row in rows(&file, "qnh") {
        let (qnh, h) = (pascals(number(row, "qnh_pa")), number(row, "h_m"));
        let p = station_pressure(SeaLevelPressure::Qnh(qnh), h).unwrap();
        assert_relative_eq!(p.pascals(), number(row, "p_pa"), max_relative = 1e-12);
        assert_relative_eq!(altimeter_setting(p, h).unwrap().pascals(), qnh.pascals(), max_relative = 1e-12);
    }
    for row in rows(&file, "altitude") {
        let a = air_of(row, &Method::ASHRAE);
        assert_relative_eq!(density_ideal(&a), number(row, "density"), max_relative = 1e-12);
        assert_abs_diff_eq!(pressure_altitude(a.station()), number(row, "hp_m"), epsilon = 1e-8);
        assert_abs_diff_eq!(density_altitude(&a), number(row, "hd_m"), epsilon = 1e-8);
    }
    // Ten metres of elevation are 0.12 % of pressure (hydrostatic equation at sea level).
    let at = |h| station_pressure(SeaLevelPressure::Qnh(pascals(101_325.0)), h).unwrap().pascals();
    assert_abs_diff_eq!(at(10.0) / at(0.0) - 1.0, -0.0012, epsilon = 2e-5);
}

#[test]
fn enhancement_moves_the_dry_pressure_by_little() {
    // f is 1.004 at sea level (WMO-No. 8, from memory).
    let f = enhancement(pascals(101_325.0));
    assert_abs_diff_eq!(f, 1.0047, epsilon = 5e-5);
    let a = air(pascals(98_000.0), celsius(25.0), Moisture::percent(50.0), &Method::default()).unwrap();
    let moved = (f - 1.0) * a.vapour().pascals() / a.dry().pascals();
    assert!(moved < 1e-4, "{moved}");
}

#[test]
fn uncertainty_by_hand() {
    // 25 °C, 50 %: e = phi es; es = 3169.82 Pa, d es/dt = 188.7 Pa/K (Clausius-Clapeyron, L 2.4417 MJ/kg).
    let of = ReadingSpread { station_pa: 30.0, temperature_k: 0.5, moisture: 0.02 };
    let m = Method::default();
    let got = spread(pascals(98_000.0), celsius(25.0), Moisture::percent(50.0), &m, &of).unwrap();
    let slope = 2.4417e6 * 3169.82 / (461.5 * 298.15 * 298.15);
    let e = libm::hypot(0.02 * 3169.82, 0.5 * slope * 0.5);
    assert_relative_eq!(got.vapour_pa, e, max_relative = 2e-3);
    assert_relative_eq!(got.dry_pa, libm::hypot(e, 30.0), max_relative = 2e-3);
    // At saturation only the drier side exists.
    let wet = spread(pascals(98_000.0), celsius(25.0), Moisture::percent(100.0), &m, &of).unwrap();
    assert_relative_eq!(wet.vapour_pa, libm::hypot(0.02 * 3169.82, slope * 0.5), max_relative = 2e-3);
}

/// A wet bulb's vapour falls as the station pressure rises (e = e_w − A p (t − t_w)), so an error of the barometer
/// stands whole in the dry pressure with the vapour's share on top.
#[test]
fn the_barometer_counts_twice_through_a_wet_bulb() {
    let of = ReadingSpread { station_pa: 100.0, temperature_k: 0.0, moisture: 0.0 };
    let m = Method::default();
    let wet = Moisture::wet_bulb(celsius(18.0));
    let got = spread(pascals(98_000.0), celsius(25.0), wet, &m, &of).unwrap();
    assert!(got.vapour_pa > 0.1, "{got:?}");
    assert_relative_eq!(got.dry_pa, 100.0 + got.vapour_pa, max_relative = 1e-9);
}

/// CIPM-2007, section 2 (from memory): 15 to 27 °C, 600 to 1100 hPa.
#[test]
fn the_density_says_where_its_formula_is_recommended() {
    let outside = |hpa: f64, c: f64| {
        let a = Air::new(pascals(100.0 * hpa), celsius(c), VapourPressure::from_pascals(800.0)).unwrap();
        density_cipm_2007(&a, &Method::default()).unwrap().outside.is_some()
    };
    for (hpa, c) in [(1000.0, 15.01), (1000.0, 26.99), (600.1, 20.0), (1099.9, 20.0)] {
        assert!(!outside(hpa, c), "{hpa} {c}");
    }
    for (hpa, c) in [(1000.0, 14.99), (1000.0, 27.01), (599.9, 20.0), (1100.1, 20.0)] {
        assert!(outside(hpa, c), "{hpa} {c}");
    }
}

/// Ice below the triple point, 273.16 K, water above.
#[test]
fn the_surface_changes_at_the_triple_point() {
    for (kelvin, ice) in [(273.15, true), (273.1599, true), (273.1601, false), (273.17, false)] {
        let t = Temperature::from_kelvin(kelvin);
        let own = IAPWS_ICE.saturation(t).unwrap();
        let meant = if ice { Formulation::Iapws.over_ice(t) } else { Formulation::Iapws.over_water(t) };
        assert_eq!(own, meant.unwrap(), "{kelvin} K");
    }
}

/// The ranges of docs/moist-air.md are the ones that are held.
#[test]
fn the_page_lists_every_range() {
    let page = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/moist-air.md")).unwrap();
    let words = |low: f64, high: f64| format!("{low} to {high}").replace('-', "−");
    for f in Formulation::ALL {
        let row = page.lines().find(|l| l.starts_with('|') && l.contains(&format!("`{}`", f.id()))).unwrap();
        let r = f.range();
        assert!(row.contains(&words(r.low, r.high)), "{row}: {r:?}");
        match f.ice_range() {
            Some(ice) => {
                assert!(row.contains(&format!("ice {}", words(ice.low, ice.high))), "{row}: {ice:?}")
            }
            None => assert!(!row.contains("ice"), "{row}"),
        }
    }
}

#[test]
fn messages_name_the_reading() {
    let m = Method::default();
    let why = |p: f64, t: f64, moisture: Moisture| {
        air(pascals(p), celsius(t), moisture, &m).unwrap_err().to_string()
    };
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::percent(120.0)), @"relative humidity is 120 %, outside 0 to 100 %; give percent, e.g. 55%");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::percent(f64::NAN)), @"relative humidity is NaN %, outside 0 to 100 %; give percent, e.g. 55%");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::DewPoint(celsius(26.0))), @"dew point is 26.00 °C, above the air temperature of 25.00 °C: exchange the two or check the sensor");
    insta::assert_snapshot!(why(98_000.0, -5.0, Moisture::FrostPoint(celsius(-4.0))), @"frost point is -4.00 °C, above the air temperature of -5.00 °C: exchange the two or check the sensor");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::wet_bulb(celsius(26.0))), @"wet bulb is 26.00 °C, above the dry bulb of 25.00 °C: exchange the two or wet the sleeve");
    insta::assert_snapshot!(why(98_000.0, 40.0, Moisture::wet_bulb(celsius(5.0))), @"wet bulb is 5.00 °C, lower than perfectly dry air gives at a dry bulb of 40.00 °C");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::Vapour(VapourPressure::from_kilopascals(4.0))), @"vapour pressure is 4.0000 kPa, above saturation at the air temperature (3.1698 kPa)");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::Vapour(VapourPressure::from_kilopascals(-1.0))), @"vapour pressure is -1 kPa, outside 0 to 49 kPa (fairpull, what a place where engines are tested can be)");
    insta::assert_snapshot!(why(98_000.0, 200.0, Moisture::percent(50.0)), @"intake air temperature is 200 °C, outside -60 to 80 °C (fairpull, what a place where engines are tested can be)");
    insta::assert_snapshot!(why(985.0, 25.0, Moisture::percent(50.0)), @"station pressure is 0.985 kPa, outside 40 to 120 kPa (fairpull, what a place where engines are tested can be)");
    insta::assert_snapshot!(why(f64::INFINITY, 25.0, Moisture::percent(50.0)), @"station pressure is not a finite number (kPa); give a measured value");
    insta::assert_snapshot!(why(98_000.0, 25.0, Moisture::DewPoint(celsius(f64::NAN))), @"dew point is not a finite number (°C); give a measured value");
    let p = AbsolutePressure::from_hectopascals;
    let bad = |s: SeaLevelPressure, h: f64| station_pressure(s, h).unwrap_err().to_string();
    insta::assert_snapshot!(bad(SeaLevelPressure::Qff(p(1013.0)), 500.0), @"1013.0 hPa is a pressure reduced to sea level with the day's temperature (QFF), which cannot be undone without the station's own reduction; give the station pressure, or the altimeter setting (QNH) with the elevation");
    insta::assert_snapshot!(bad(SeaLevelPressure::Unknown(p(1013.0)), 500.0), @"1013.0 hPa is a sea-level pressure of unknown kind; find out whether it is the altimeter setting (QNH), or read a barometer at the rig");
    insta::assert_snapshot!(bad(SeaLevelPressure::Qnh(p(950.0 - 150.0)), 500.0), @"altimeter setting (QNH) is 800 hPa, outside 860 to 1090 hPa (ICAO Doc 7488 (standard atmosphere), altimeter setting, derived)");
    insta::assert_snapshot!(bad(SeaLevelPressure::Qnh(p(1013.0)), 9000.0), @"elevation is 9000 m, outside -500 to 6000 m (ICAO Doc 7488 (standard atmosphere), altimeter setting, derived)");
    let tetens = Method { formulation: Formulation::Tetens, surface: Surface::IceBelowFreezing };
    let frost = tetens.saturation(celsius(-5.0)).unwrap_err();
    assert!(matches!(frost, HumidError::NoIceFormula { .. }));
    insta::assert_snapshot!(frost.to_string(), @"there is no formula over ice in Tetens, Zeitschrift für Geophysik 6 (1930); choose IAPWS, Hyland-Wexler, Sonntag or Magnus WMO");
    insta::assert_snapshot!(Formulation::Bolton.over_water(celsius(60.0)).unwrap_err().to_string(), @"temperature of the saturated air is 60 °C, outside -35 to 35 °C (Bolton, Monthly Weather Review 108 (1980), equation 10; from memory, believed right)");
}

fn any_formulation() -> impl Strategy<Value = Formulation> {
    prop::sample::select(Formulation::ALL.to_vec())
}

fn any_psychrometer() -> impl Strategy<Value = Psychrometer> {
    prop::sample::select(vec![Psychrometer::Thermodynamic, Psychrometer::Sprung, Psychrometer::Wmo])
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn readings_round_trip(p in 60_000.0f64..110_000.0, t in 1.0f64..50.0, phi in 0.05f64..1.0, kind in any_psychrometer()) {
        let m = Method::default();
        let a = air(pascals(p), celsius(t), Moisture::RelativeHumidity(phi), &m).unwrap();
        prop_assert!((relative_humidity(&a, &m).unwrap() - phi).abs() < 1e-14);
        let dew = dew_point(&a, &m).unwrap();
        prop_assert!(dew.kelvin() <= a.temperature().kelvin() + 1e-9);
        let by_dew = m.formulation.over_water(dew).unwrap().pascals();
        prop_assert!((by_dew / a.vapour().pascals() - 1.0).abs() < 1e-12);
        let wet = wet_bulb(&a, kind, &m).unwrap();
        let by_wet = vapour_from_wet_bulb(pascals(p), celsius(t), wet, kind, &m).unwrap().pascals();
        prop_assert!((by_wet - a.vapour().pascals()).abs() < 1e-7, "{by_wet} {}", a.vapour().pascals());
        if kind == Psychrometer::Thermodynamic {
            prop_assert!(dew.kelvin() <= wet.kelvin() + 1e-3 && wet.kelvin() <= a.temperature().kelvin() + 1e-9);
        }
    }

    #[test]
    fn more_moisture_never_lowers_the_vapour(t in -30.0f64..50.0, phi in 0.0f64..0.99, step in 0.0f64..0.01) {
        let m = Method::default();
        let at = |phi| air(pascals(98_000.0), celsius(t), Moisture::RelativeHumidity(phi), &m).unwrap().vapour().pascals();
        prop_assert!(at(phi) <= at(phi + step));
    }

    #[test]
    fn any_float_gives_an_answer(
        p in any::<f64>(), t in any::<f64>(), x in any::<f64>(), f in any_formulation(), kind in any_psychrometer(), ice: bool
    ) {
        let surface = if ice { Surface::IceBelowFreezing } else { Surface::Water };
        let m = Method { formulation: f, surface };
        for moisture in [
            Moisture::RelativeHumidity(x), Moisture::DewPoint(celsius(x)), Moisture::FrostPoint(celsius(x)),
            Moisture::WetBulb(celsius(x), kind), Moisture::Vapour(VapourPressure::from_pascals(x)),
        ] {
            if let Err(e) = air(pascals(p), celsius(t), moisture, &m) {
                prop_assert!(e.to_string().len() > 10);
            }
        }
        let _ = (f.over_water(celsius(t)), f.over_ice(celsius(t)), standard_atmosphere(x), pressure_altitude(pascals(p)));
        let _ = (station_pressure(SeaLevelPressure::Qnh(pascals(p)), x), altimeter_setting(pascals(p), x));
        let _ = vapour_from_wet_bulb(pascals(p), celsius(t), celsius(x), kind, &m);
    }

    #[test]
    fn any_possible_air_gives_finite_answers(
        p in 40_000.0f64..120_000.0, t in -60.0f64..80.0, share in 0.0f64..0.5, f in any_formulation(), kind in any_psychrometer()
    ) {
        let a = Air::new(pascals(p), celsius(t), VapourPressure::from_pascals(share * p)).unwrap();
        let m = Method { formulation: f, surface: Surface::Water };
        for result in [dew_point(&a, &m), frost_point(&a, &m), wet_bulb(&a, kind, &m)].into_iter().flatten() {
            prop_assert!(result.is_finite());
        }
        prop_assert!(density_ideal(&a).is_finite() && density_altitude(&a).is_finite() && humidity_ratio(&a).is_finite());
        if let Ok(d) = density_cipm_2007(&a, &m) {
            prop_assert!(d.density.is_finite());
        }
        let of = ReadingSpread { station_pa: 10.0, temperature_k: 0.1, moisture: 1.0 };
        if let Ok(s) = spread(a.station(), a.temperature(), Moisture::Vapour(a.vapour()), &m, &of) {
            prop_assert!(s.vapour_pa.is_finite() && s.dry_pa.is_finite());
        }
    }
}
