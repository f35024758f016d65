//! Units against their defining constants, a general-purpose unit library and NIST SP 811.
#![allow(clippy::panic, clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_core::AbsolutePressure;
use fairpull_tests::{fixture, half_digit, number, rows, text};
use fairpull_units::{
    Decimal, Digits, Dimension, NumberError, Problem, Reference, Sign, Unit, absolute_pressure, convert,
    gauge_pressure, number as read_number, parse, parse_as, parse_with, show, show_signed, show_with,
    station_pressure, units, units_of,
};
use proptest::prelude::*;

fn dimension(name: &str) -> Dimension {
    Dimension::ALL.into_iter().find(|d| d.name() == name).unwrap_or_else(|| panic!("no dimension {name}"))
}

fn find(symbol: &str) -> &'static Unit {
    Unit::find(symbol).unwrap_or_else(|| panic!("no unit {symbol}"))
}

#[test]
fn every_factor_is_the_exact_one() {
    let file = fixture("units");
    let mut worst = (0.0, "");
    for row in rows(&file, "unit") {
        let unit = Unit::find_in(text(row, "symbol"), dimension(text(row, "dimension"))).unwrap();
        let exact = number(row, "si");
        let off = (unit.factor() / exact - 1.0).abs();
        assert!(off <= 1e-12, "{unit}: {} against {exact}", unit.factor());
        if off > worst.0 {
            worst = (off, unit.symbol());
        }
    }
    println!("worst relative error of a factor: {:e} ({})", worst.0, worst.1);
}

#[test]
fn no_unit_escapes_the_fixture() {
    let file = fixture("units");
    let known: Vec<(&str, &str)> =
        rows(&file, "unit").iter().map(|r| (text(r, "dimension"), text(r, "symbol"))).collect();
    for unit in units().filter(|u| u.reference() == Reference::Unstated) {
        assert!(
            known.contains(&(unit.dimension().name(), unit.symbol())),
            "{unit} is not in fixtures/units.toml"
        );
    }
    // The forms of a pressure unit share its factor.
    for unit in units().filter(|u| u.reference() != Reference::Unstated) {
        let plain = find(unit.symbol().split('(').next().unwrap());
        assert_eq!((plain.factor(), plain.dimension()), (unit.factor(), Dimension::Pressure), "{unit}");
    }
}

#[test]
fn a_general_purpose_library_agrees() {
    let file = fixture("units");
    let mut checked = 0;
    for row in rows(&file, "unit") {
        let Some(other) = row.get("pint").and_then(|p| p.as_table()) else { continue };
        let unit = Unit::find_in(text(row, "symbol"), dimension(text(row, "dimension"))).unwrap();
        assert_relative_eq!(unit.factor(), number(other, "si"), max_relative = 1e-15);
        checked += 1;
    }
    assert!(checked >= 25, "only {checked} units checked");
}

#[test]
fn nist_sp_811_as_printed() {
    let file = fixture("units");
    let mut checked = 0;
    for row in rows(&file, "unit") {
        let Some(printed) = row.get("sp811").and_then(|p| p.as_str()) else { continue };
        let unit = Unit::find_in(text(row, "symbol"), dimension(text(row, "dimension"))).unwrap();
        let off = (unit.factor() - printed.parse::<f64>().unwrap()).abs();
        assert!(off <= half_digit(printed) * (1.0 + 1e-6), "{unit}: {} but printed {printed}", unit.factor());
        checked += 1;
    }
    assert!(checked >= 30, "only {checked} units checked");
}

#[test]
fn the_trade_formulas_hold() {
    // P[hp] = T[lbf.ft] n / 5252.113122032546 and its metric sisters, from exact definitions.
    for (power, torque, constant) in [
        ("kW", "Nm", 9_549.296_585_513_72),
        ("hp", "lbf·ft", 5_252.113_122_032_546),
        ("PS", "kgf·m", 716.197_243_913_529_1),
    ] {
        let watts = find(torque).to_si(300.0) * find("rpm").to_si(constant);
        assert_relative_eq!(find(power).from_si(watts), 300.0, max_relative = 1e-14);
    }
    assert_relative_eq!(
        convert(0.5, find("lb/hph"), find("g/kWh")).unwrap(),
        304.138_693_920_880_55,
        max_relative = 1e-14
    );
    assert_relative_eq!(
        convert(1.0, find("hp"), find("PS")).unwrap(),
        1.013_869_665_424,
        max_relative = 1e-14
    );
}

#[test]
fn temperatures_have_their_fixed_points() {
    let points = [
        ("68F", 293.15),
        ("32F", 273.15),
        ("212 °F", 373.15),
        ("-40F", 233.15),
        ("-40 °C", 233.15),
        ("0K", 0.0),
    ];
    for (written, kelvin) in points {
        assert_relative_eq!(parse(written).unwrap().si, kelvin, max_relative = 2e-16);
    }
    assert_eq!(parse_as("9°F", Dimension::TemperatureDifference).unwrap().si, 5.0);
    assert_eq!(parse_as("5 °C", Dimension::TemperatureDifference).unwrap().si, 5.0);
    assert!(matches!(parse("-300C").unwrap_err().problem(), Problem::Impossible(_)));
}

#[test]
fn words_of_the_trade_are_read() {
    for (written, symbol) in [
        ("530PS", "PS"),
        ("530 cv", "PS"),
        ("530ch", "PS"),
        ("500bhp", "hp"),
        ("389.8KW", "kW"),
        ("400 Nm", "N·m"),
        ("400 N.m", "N·m"),
        ("400N m", "N·m"),
        ("300lb-ft", "lbf·ft"),
        ("300 ft-lb", "lbf·ft"),
        ("300 lbf.ft", "lbf·ft"),
        ("300lbft", "lbf·ft"),
        ("40 mkg", "kgf·m"),
        ("40 kgfm", "kgf·m"),
        ("29.92inHg", "inHg"),
        ("29.92 in.Hg", "inHg"),
        ("14.7psia", "psi(a)"),
        ("14.7 psig", "psi(g)"),
        ("1.2 bar(g)", "bar(g)"),
        ("1.2barg", "bar(g)"),
        ("2.2 bar abs", "bar(a)"),
        ("2.2 bar(a)", "bar(a)"),
        ("100 kPa abs", "kPa(a)"),
        ("100kPa gauge", "kPa(g)"),
        ("1 ata", "kgf/cm²(a)"),
        ("34C", "°C"),
        ("34°C", "°C"),
        ("34 degC", "°C"),
        ("34℃", "°C"),
        ("93.2F", "°F"),
        ("100kph", "km/h"),
        ("60 MPH", "mph"),
        ("3000rpm", "rpm"),
        ("3000 1/min", "rpm"),
        ("3000min-1", "rpm"),
        ("3000 min⁻¹", "rpm"),
        ("50Hz", "rev/s"),
        ("101.6mm", "mm"),
        ("4 in", "in"),
        ("4\"", "in"),
        ("6'", "ft"),
        ("1984cc", "cm³"),
        ("2.0l", "L"),
        ("121 cu in", "in³"),
        ("550 cc/min", "cm³/min"),
        ("300CFM", "ft³/min"),
        ("0.45 lb/hp-hr", "lb/hph"),
        ("300 g/kW.h", "g/kWh"),
        ("4.2kg m2", "kg·m²"),
        ("4.2 kgm^2", "kg·m²"),
        ("55%", "%"),
        ("55 %RH", "%"),
        ("43.0MJ/kg", "MJ/kg"),
        ("12°", "°"),
        ("12 °BTDC", "°"),
        ("10 gal(US)", "gal(US)"),
        ("45 mg/l", "mg/L"),
        ("250 µs", "µs"),
    ] {
        let r = parse(written).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(r.unit.symbol(), symbol, "{written}");
    }
    assert_eq!(parse_as("1.1g", Dimension::Acceleration).unwrap().si, 1.1 * 980_665.0 / 1e5);
    assert_eq!(parse_as("200lb", Dimension::Force).unwrap().unit.symbol(), "lbf");
}

#[test]
fn a_word_means_one_unit_of_a_dimension() {
    for d in Dimension::ALL {
        for unit in units_of(d) {
            for word in core::iter::once(unit.symbol()).chain(unit.aliases().iter().copied()) {
                assert_eq!(Unit::find_in(word, d), Some(unit), "{word}");
            }
        }
    }
}

#[test]
fn numbers_with_commas_points_and_groups() {
    for (written, value) in [
        ("1,5", 1.5),
        ("1.5", 1.5),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("1.234.567", 1_234_567.0),
        ("1,234,567.25", 1_234_567.25),
        ("1'234.5", 1234.5),
        ("0,123", 0.123),
        ("1234,567", 1234.567),
        (".5", 0.5),
        (",5", 0.5),
        ("5.", 5.0),
        ("-3", -3.0),
        ("−3", -3.0),
        ("+3e-2", 0.03),
        ("1e3", 1000.0),
        ("1,5E−1", 0.15),
    ] {
        assert_eq!(read_number(written, Decimal::Either), Ok(value), "{written}");
    }
    for (written, why) in [
        ("1,234", NumberError::Ambiguous),
        ("12,345", NumberError::Ambiguous),
        ("1.2.3", NumberError::Malformed),
        ("1,2,3", NumberError::Malformed),
        ("1,23.4", NumberError::Malformed),
        ("1.5,5.5", NumberError::Malformed),
        ("--5", NumberError::Malformed),
        ("1e", NumberError::Malformed),
        ("NaN", NumberError::Missing),
        ("inf", NumberError::Missing),
        ("", NumberError::Missing),
        ("1e999", NumberError::NotFinite),
        ("0x10", NumberError::Malformed),
        ("1 000", NumberError::Malformed),
    ] {
        assert_eq!(read_number(written, Decimal::Either), Err(why), "{written}");
    }
    assert_eq!(read_number("1,234", Decimal::Comma), Ok(1.234));
    assert_eq!(read_number("1,234", Decimal::Point), Ok(1234.0));
    assert_eq!(read_number("1.234", Decimal::Comma), Ok(1234.0));
    assert_eq!(read_number("1,5", Decimal::Point), Err(NumberError::Malformed));
}

#[test]
fn messages_say_how_to_mend_it() {
    let why = |written: &str, d: Dimension| parse_as(written, d).unwrap_err().to_string();
    insta::assert_snapshot!(why("34C", Dimension::Pressure), @r#""34C": °C is a unit of temperature, but a pressure was expected; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge"#);
    insta::assert_snapshot!(why("985 hPs", Dimension::Pressure), @r#""985 hPs": "hPs" is not a known unit of pressure; did you mean hPa? Otherwise: units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge"#);
    insta::assert_snapshot!(why("400whp", Dimension::Power), @r#""400whp": "whp" is not a known unit of power; did you mean hp, with the wheel as the site? Otherwise: units of power: kW, W, MW, PS, hp, lbf·ft/s"#);
    insta::assert_snapshot!(why("1,234W", Dimension::Power), @r#""1,234W": the comma can be a decimal comma or group thousands; write 1234 or 1.234 with a point"#);
    insta::assert_snapshot!(why("221", Dimension::Power), @r#""221": the unit is missing; units of power: kW, W, MW, PS, hp, lbf·ft/s"#);
    insta::assert_snapshot!(why("  ", Dimension::Torque), @r#""  ": empty where a torque was expected; units of torque: N·m, kN·m, lbf·ft, lbf·in, kgf·m"#);
    insta::assert_snapshot!(why("nan kW", Dimension::Power), @r#""nan kW": no number found; write digits such as 12.5"#);
    insta::assert_snapshot!(why("1e999kW", Dimension::Power), @r#""1e999kW": too large to be a number here"#);
    insta::assert_snapshot!(why("-1K", Dimension::Temperature), @r#""-1K": below absolute zero (0 K = -273.15 °C = -459.67 °F)"#);
    insta::assert_snapshot!(why("5 mW", Dimension::Power), @r#""5 mW": "mW" is not a known unit of power; did you mean MW? Otherwise: units of power: kW, W, MW, PS, hp, lbf·ft/s"#);
    insta::assert_snapshot!(parse("5 furlong").unwrap_err().to_string(), @r#""5 furlong": "furlong" is not a known unit; write a number and a unit, e.g. 221kW"#);
    insta::assert_snapshot!(station_pressure("1.2bar(g)").unwrap_err().to_string(), @r#""1.2bar(g)": bar(g) is a gauge pressure, but an absolute pressure was expected; give the absolute pressure, e.g. in kPa(a), or the barometer to add"#);
    insta::assert_snapshot!(gauge_pressure("1.2bar").unwrap_err().to_string(), @r#""1.2bar": bar does not say whether the pressure is gauge or absolute; write bar(a) or bar(g)"#);
    insta::assert_snapshot!(gauge_pressure("1.2bara").unwrap_err().to_string(), @r#""1.2bara": bar(a) is an absolute pressure, but a gauge pressure was expected; give it above the barometer, e.g. in kPa(g)"#);
    insta::assert_snapshot!(absolute_pressure("-0.2bar(a)", None).unwrap_err().to_string(), @r#""-0.2bar(a)": an absolute pressure below vacuum; give it as gauge, e.g. in kPa(g), if it is one"#);
    insta::assert_snapshot!(convert(1.0, find("kW"), find("Nm")).unwrap_err().to_string(), @"kW is a unit of power, N·m of torque: there is no conversion");
    insta::assert_snapshot!(convert(1.0, find("psig"), find("bara")).unwrap_err().to_string(), @"from psi(g) to bar(a) the barometer of the moment is needed: add or subtract it first");
    let e = parse_as("  34 C", Dimension::Pressure).unwrap_err();
    assert_eq!((e.span(), e.fault(), e.expected()), (5..6, "C", Some(Dimension::Pressure)));
    assert_eq!(e.accepted().next(), Some("kPa"));
    assert_eq!(parse_as("30 kpsi", Dimension::Pressure).unwrap_err().nearest(), Some("psi"));
}

#[test]
fn gauge_and_absolute_stay_apart() {
    let barometer = AbsolutePressure::from_kilopascals(98.0);
    for (written, barometer) in
        [("1.2 bar(g)", Some(barometer)), ("2.18 bar(a)", Some(barometer)), ("2.18bara", None)]
    {
        let p = absolute_pressure(written, barometer).unwrap();
        assert_relative_eq!(p.pascals(), 218_000.0, max_relative = 1e-15);
    }
    assert!(absolute_pressure("-1.2 bar(g)", Some(barometer)).is_err());
    assert_eq!(gauge_pressure("-0.6 bar(g)").unwrap().kilopascals(), -60.0);
    assert_eq!(station_pressure("985hPa").unwrap().hectopascals(), 985.0);
    assert_eq!(convert(1.2, find("bar"), find("kPa(g)")), Ok(120.0));
}

#[test]
fn printing() {
    let (kw, ps, c) = (find("kW"), find("PS"), find("°C"));
    assert_eq!(show(221_342.0, kw, Digits::Decimals(1)), "221.3 kW");
    assert_eq!(show(221_342.0, kw, Digits::Significant(2)), "220 kW");
    assert_eq!(show(999_960.0, kw, Digits::Significant(4)), "1000 kW");
    assert_eq!(show(221_342.0, kw, Digits::Shortest), "221.342 kW");
    assert_eq!(show(-0.001, kw, Digits::Decimals(1)), "0.0 kW");
    assert_eq!(show(0.0, kw, Digits::Significant(3)), "0.00 kW");
    assert_eq!(show(f64::NAN, kw, Digits::Significant(3)), "undefined kW");
    assert_eq!(show(307.15, c, Digits::Decimals(0)), "34 °C");
    assert_eq!(show(0.55, find("%"), Digits::Decimals(0)), "55 %");
    assert_eq!(show_signed(389_814.337_5, ps, Digits::Decimals(2), Sign::Comma), "530,00 PS");
    assert_eq!(show_with(221_342.0, 4_120.0, kw), "221.3 ± 4.1 kW");
    assert_eq!(show_with(221_342.0, 996.0, kw), "221.3 ± 1.0 kW");
    assert_eq!(show_with(221_342.0, 99.6, kw), "221.34 ± 0.10 kW");
    assert_eq!(show_with(221_342.0, 41_200.0, kw), "221 ± 41 kW");
    assert_eq!(show_with(221_342.0, 123_400.0, kw), "220 ± 120 kW");
    assert_eq!(show_with(307.15, 0.9, c), "34.00 ± 0.90 °C");
    assert_eq!(show_with(221_342.0, 0.0, kw), "221.3 kW");
    assert_eq!(show_with(221_342.0, f64::INFINITY, kw), "221.3 kW");
}

fn any_unit() -> impl Strategy<Value = &'static Unit> {
    prop::sample::select(units().filter(|u| u.symbol() != "1").collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn printed_values_read_back(unit in any_unit(), mantissa in 0.1f64..10.0, power in -3i32..6, minus: bool) {
        let sign = if minus && unit.dimension() != Dimension::Temperature { -1.0 } else { 1.0 };
        let si = unit.to_si(sign * mantissa * libm::exp10(f64::from(power)));
        let point = parse_as(&show(si, unit, Digits::Shortest), unit.dimension()).unwrap();
        prop_assert_eq!(point.unit, unit);
        prop_assert!((point.si - si).abs() <= 1e-12 * si.abs(), "{} {}", point.si, si);
        let printed = show_signed(si, unit, Digits::Shortest, Sign::Comma);
        let comma = parse_with(&printed, unit.dimension(), Decimal::Comma).unwrap();
        prop_assert_eq!(comma.si, point.si);
    }

    #[test]
    fn there_and_back(unit in any_unit(), value in 1e-3f64..1e6) {
        for other in units_of(unit.dimension()).filter(|u| u.reference() == Reference::Unstated) {
            let back = convert(convert(value, unit, other).unwrap(), other, unit).unwrap();
            prop_assert!((back - value).abs() <= 1e-12 * (value.abs() + unit.offset()), "{} by {}", unit, other);
        }
    }

    #[test]
    fn any_text_gives_an_answer(text in "\\PC{0,40}", index in 0usize..25) {
        let d = Dimension::ALL[index];
        for result in [parse(&text), parse_as(&text, d), parse_with(&text, d, Decimal::Comma)] {
            match result {
                Ok(r) => prop_assert!(r.si.is_finite() && r.value.is_finite()),
                Err(e) => {
                    prop_assert!(text.get(e.span()).is_some());
                    prop_assert!(e.to_string().len() > 10);
                }
            }
        }
        let _ = (station_pressure(&text), gauge_pressure(&text), absolute_pressure(&text, None));
    }

    #[test]
    fn near_misses_give_an_answer(text in "[-+−]?[0-9.,' ]{0,8}[eE]?[-+]?[0-9]{0,3} ?[a-zA-Z°·/²()%\"]{0,8}") {
        if let Ok(r) = parse(&text) {
            prop_assert!(r.si.is_finite());
        }
    }

    #[test]
    fn any_float_prints(value in any::<f64>(), half in any::<f64>(), unit in any_unit(), n in 0u8..40) {
        for digits in [Digits::Decimals(n), Digits::Significant(n), Digits::Shortest] {
            prop_assert!(!show(value, unit, digits).is_empty());
        }
        prop_assert!(!show_with(value, half, unit).is_empty());
    }
}

/// The row of a unit in docs/units.md.
fn documented(unit: &Unit) -> String {
    let words: Vec<String> = unit.aliases().iter().map(|a| format!("`{a}`")).collect();
    format!("| `{}` | {} | {} |", unit.symbol(), words.join(" "), unit.definition())
}

#[test]
fn the_manual_lists_every_unit() {
    let path = format!("{}/../docs/units.md", env!("CARGO_MANIFEST_DIR"));
    let manual = std::fs::read_to_string(path).unwrap();
    for d in Dimension::ALL {
        let rows: Vec<String> =
            units_of(d).filter(|u| u.reference() == Reference::Unstated).map(documented).collect();
        let table = format!(
            "### {}\n\n| unit | also read | exactly |\n|---|---|---|\n{}\n",
            d.name(),
            rows.join("\n")
        );
        assert!(manual.contains(&table), "docs/units.md lacks this table:\n{table}");
    }
}
