//! Fuel grades, octane conversions and blending against standards, definitions and reference libraries.
#![allow(clippy::panic, clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_core::{Reading, Refusal, Span};
use fairpull_fuels::{
    By, ETHANOL_OCTANE, GRADES, Kind, OctaneRule, OwnBlend, Part, Stock, antiknock_index, blend,
    charge_cooling, from_antiknock_index, grade, mole_fraction, motor_from_research, parse_fuel,
};
use toml::Table;

fn fixture(name: &str) -> Table {
    let path = format!("{}/../fixtures/fuels/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")).parse().unwrap()
}

fn tables<'a>(table: &'a Table, key: &str) -> Vec<&'a Table> {
    table[key].as_array().unwrap().iter().map(|c| c.as_table().unwrap()).collect()
}

/// A value printed as text: agreement within half a unit of its last digit.
fn printed(table: &Table, key: &str, got: f64) {
    let text = table[key].as_str().unwrap();
    let decimals = text.split_once('.').map_or(0, |(_, d)| d.len());
    let half = 0.5 * libm::pow(10.0, -(decimals as f64)) * (1.0 + 1e-6);
    let expected: f64 = text.parse().unwrap();
    assert!((got - expected).abs() <= half, "{key}: {got}, printed {text}");
}

fn octane(ron: f64, mon: f64) -> (Option<Span>, Option<Span>) {
    (Some(Span::new(ron, 0.25)), Some(Span::new(mon, 0.32)))
}

fn ethanol() -> Stock {
    let mut stock = grade("ethanol").unwrap().stock().unwrap().stock;
    // rounded inputs with which the comparison values were computed; density at 20 °C
    stock.density.value = 789.4;
    stock.lower_heating_value.value = 26.8e6;
    stock.heat_of_vaporisation.value = 919.0e3;
    stock
}

/// Minima as the standards print them: EN 228, 98/70/EC, JIS K 2202 (read); national 98 (from memory).
#[test]
fn minima_of_the_grades() {
    for (id, ron, mon) in [
        ("en-228-95", 95.0, Some(85.0)),
        ("en-228-95-e10", 95.0, Some(85.0)),
        ("ec-98-70-91", 91.0, Some(81.0)),
        ("national-98", 98.0, Some(88.0)),
        ("jis-k-2202-1", 96.0, None),
        ("jis-k-2202-2", 89.0, None),
    ] {
        let g = grade(id).unwrap();
        assert_eq!(g.ron.unwrap().low, Some(ron), "{id}");
        assert_eq!(g.mon.and_then(|m| m.low), mon, "{id}");
    }
    let en = grade("en-228-95").unwrap();
    assert_eq!((en.density.low, en.density.high), (Some(720.0), Some(775.0)));
    assert_eq!(en.ethanol.high, Some(5.0));
    assert_eq!(grade("en-228-95-e10").unwrap().ethanol.high, Some(10.0));
    assert_eq!(grade("jis-k-2202-1").unwrap().density.high, Some(783.0));
    // ASTM D4814: an antiknock index of 87 needs a MON of at least 82
    assert_eq!(grade("aki-87").unwrap().mon.unwrap().low, Some(82.0));
    // ASTM D5798: 51 to 83 % ethanol by volume
    let flex = grade("astm-d5798").unwrap();
    assert_eq!((flex.ethanol.low, flex.ethanol.high), (Some(51.0), Some(83.0)));
}

#[test]
fn every_grade_is_cited_unique_and_usable() {
    let mut seen = std::collections::BTreeSet::new();
    for g in GRADES {
        assert!(seen.insert(g.id), "{} stands twice", g.id);
        assert!(!g.title.is_empty() && !g.note.is_empty(), "{}", g.id);
        assert!(g.cites().all(|(_, c)| !c.document.is_empty()), "{}", g.id);
        let stock = g.stock().unwrap().stock;
        stock.check().unwrap();
        assert!(g.ron.is_some() || g.aki.is_some(), "{}", g.id);
        for p in
            [g.density, g.lower_heating_value, g.stoichiometric_ratio, g.heat_of_vaporisation, g.molar_mass]
        {
            let best = p.best().unwrap().value;
            assert!(p.low.is_none_or(|l| l <= best) && p.high.is_none_or(|h| best <= h), "{}: {p:?}", g.id);
        }
    }
    assert_eq!(grade("national-98").unwrap().ron.unwrap().cite.reading, Reading::Remembered);
    assert_eq!(grade("premium-102").unwrap().kind, Kind::Practice);
    assert_eq!(grade("en-15293").unwrap().ron.unwrap().cite.reading, Reading::Doubtful);
}

/// An antiknock index of 93 is about RON 97 to 98, never 93.
#[test]
fn antiknock_index_is_split_with_its_sensitivity() {
    let stock = grade("aki-93").unwrap().stock().unwrap();
    let (ron, mon) = (stock.stock.ron.unwrap(), stock.stock.mon.unwrap());
    assert!((97.0..=98.5).contains(&ron.value) && (87.5..=88.5).contains(&mon.value));
    assert!(stock.assumed[1].unwrap().what.contains("sensitivity"));
    // the split adds nothing to the index itself, whose uncertainty is that of the two tests
    assert_relative_eq!(stock.stock.antiknock_index().unwrap().value, 93.0, max_relative = 1e-12);
    let tests = 0.5 * libm::hypot(0.7 / 2.77, 0.9 / 2.77);
    assert_relative_eq!(stock.stock.antiknock_index().unwrap().uncertainty, tests, max_relative = 1e-9);
    assert_relative_eq!(
        stock.stock.sensitivity().unwrap().uncertainty,
        4.0 / libm::sqrt(12.0),
        max_relative = 1e-9
    );
}

#[test]
fn conversions_round_trip_and_refuse_the_impossible() {
    let aki = antiknock_index(Span::new(98.0, 0.25), Span::new(88.0, 0.32));
    assert_relative_eq!(aki.value, 93.0, max_relative = 1e-15);
    let split = from_antiknock_index(aki, Span::new(10.0, 0.0)).unwrap();
    assert_relative_eq!(split.ron.value, 98.0, max_relative = 1e-15);
    assert_relative_eq!(split.mon.value, 88.0, max_relative = 1e-15);
    let mon = motor_from_research(Span::new(96.0, 0.25), Span::new(10.0, 1.15)).unwrap();
    assert_relative_eq!(mon.mon.value, 86.0, max_relative = 1e-15);
    assert!(!mon.assumes.is_empty());
    assert!(from_antiknock_index(Span::new(f64::NAN, 0.2), Span::new(10.0, 0.0)).is_err());
    assert!(from_antiknock_index(aki, Span::new(70.0, 0.0)).is_err());
}

/// Linear molar rule and mass blending against values computed elsewhere (fixture).
#[test]
fn ethanol_in_petrol() {
    let table = fixture("ethanol-blends");
    let (ron, mon) = octane(95.0, 85.0);
    let base = Stock::petrol(ron, mon);
    for case in tables(&table, "case") {
        let v = case["volume"].as_float().unwrap();
        let parts = [Part { stock: base, share: 1.0 - v }, Part { stock: ethanol(), share: v }];
        let got = blend(&parts, By::Volume, OctaneRule::Molar).unwrap();
        printed(case, "mole", mole_fraction(v, &ethanol(), &base).unwrap());
        printed(case, "ron", got.ron.unwrap().value);
        printed(case, "mon", got.mon.unwrap().value);
        printed(case, "mass", v * 789.4 / got.density.value);
        printed(case, "density", got.density.value);
        printed(case, "air_fuel_ratio", got.stoichiometric_ratio.value);
        printed(case, "heating_value", got.lower_heating_value.value / 1e6);
    }
}

/// A low-octane blendstock of RON 88, 735 kg/m³, 100 g/mol; values computed outside this project's code.
#[test]
fn ethanol_in_a_blendstock() {
    let (ron, mon) = octane(88.0, 81.5);
    let mut base = Stock::petrol(ron, mon);
    base.density.value = 735.0;
    base.molar_mass.value = 100.0;
    assert_relative_eq!(
        mole_fraction(0.1, &ethanol(), &base).unwrap(),
        0.205_740_919_665_299_06,
        max_relative = 1e-9
    );
    for (v, expected) in [
        (0.1, 92.320_559_312_971_28),
        (0.2, 95.732_614_445_016_74),
        (0.3, 98.495_457_264_554_26),
        (0.5, 102.696_183_441_745_03),
    ] {
        let parts = [Part { stock: base, share: 1.0 - v }, Part { stock: ethanol(), share: v }];
        let got = blend(&parts, By::Volume, OctaneRule::Molar).unwrap();
        assert_relative_eq!(got.ron.unwrap().value, expected, max_relative = 1e-9);
        let fitted = blend(&parts, By::Volume, OctaneRule::MolarFitted { z_ron: 5.0, z_mon: 0.0 }).unwrap();
        let x = mole_fraction(v, &ethanol(), &base).unwrap();
        assert_relative_eq!(fitted.ron.unwrap().value, expected + 5.0 * x * (1.0 - x), max_relative = 1e-12);
    }
    assert_eq!((ETHANOL_OCTANE[0].value, ETHANOL_OCTANE[1].value), (109.0, 90.0));
}

/// Volume, mass and mole describe one blend; primary reference fuels blend by volume (definition of the scale).
#[test]
fn three_ways_to_state_one_blend() {
    let stock = |id: &str| grade(id).unwrap().stock().unwrap().stock;
    let (a, b) = (stock("iso-octane"), stock("n-heptane"));
    let by = |share: f64, by: By| {
        blend(&[Part { stock: a, share }, Part { stock: b, share: 1.0 - share }], by, OctaneRule::Volumetric)
            .unwrap()
    };
    let volume = by(0.9, By::Volume);
    assert_relative_eq!(volume.ron.unwrap().value, 90.0, max_relative = 1e-12);
    let mass = 0.9 * a.density.value / (0.9 * a.density.value + 0.1 * b.density.value);
    let mole = mole_fraction(0.9, &a, &b).unwrap();
    for other in [by(mass, By::Mass), by(mole, By::Mole)] {
        assert_relative_eq!(other.ron.unwrap().value, 90.0, max_relative = 1e-12);
        assert_relative_eq!(other.density.value, volume.density.value, max_relative = 1e-12);
        assert_relative_eq!(
            other.lower_heating_value.value,
            volume.lower_heating_value.value,
            max_relative = 1e-12
        );
    }
}

/// ΔT = h_fg/(AFR cp + cp_fuel), values computed outside this project's code; and equal air means nearly equal heat.
#[test]
fn charge_cooling_and_heat_per_air() {
    let (ron, mon) = octane(95.0, 85.0);
    let petrol = Stock::petrol(ron, mon);
    assert_relative_eq!(charge_cooling(&petrol, 1.0).unwrap().value, 20.756293, max_relative = 1e-7);
    assert_relative_eq!(charge_cooling(&ethanol(), 1.0).unwrap().value, 81.623873, max_relative = 1e-7);
    for (v, expected) in [(0.1, 25.192379), (0.3, 34.918), (0.85, 69.472511)] {
        let parts = [Part { stock: petrol, share: 1.0 - v }, Part { stock: ethanol(), share: v }];
        let got = blend(&parts, By::Volume, OctaneRule::Molar).unwrap();
        assert_relative_eq!(charge_cooling(&got, 1.0).unwrap().value, expected, max_relative = 1e-5);
    }
    assert_relative_eq!(petrol.heat_per_air() / 1e6, 2.950276, max_relative = 1e-6);
    assert_relative_eq!(ethanol().heat_per_air() / 1e6, 2.976147, max_relative = 1e-6);
    assert!(charge_cooling(&petrol, 0.0).is_err());
}

/// Reference libraries (fixture written by tests/reference/fuels.py): within 0.5 %.
#[test]
fn neat_substances_agree_with_the_libraries() {
    let table = fixture("neat");
    let mut worst: f64 = 0.0;
    for t in tables(&table, "fuel") {
        let id = t["id"].as_str().unwrap();
        let stock = grade(id).unwrap().stock().unwrap().stock;
        for (key, got) in [
            ("molar_mass", stock.molar_mass.value),
            ("air_fuel_ratio", stock.stoichiometric_ratio.value),
            ("lower_heating_value", stock.lower_heating_value.value),
            ("density", stock.density.value),
            ("heat_of_vaporisation", stock.heat_of_vaporisation.value),
        ] {
            let Some(expected) = t.get(key).map(|v| v.as_float().unwrap()) else { continue };
            let off = (got / expected - 1.0).abs();
            println!("{id} {key}: {got} against {expected}, {:.3} %", off * 100.0);
            worst = worst.max(off);
            assert!(off < 0.005, "{id} {key}: {got} against {expected}");
        }
    }
    println!("worst {:.3} %", worst * 100.0);
}

#[test]
fn fuels_as_a_user_writes_them() {
    let both = parse_fuel("RON 98 MON 88").unwrap().stock;
    assert_eq!((both.ron.unwrap().value, both.mon.unwrap().value), (98.0, 88.0));
    let aki = parse_fuel("AKI 93").unwrap();
    assert_eq!(aki.stock.ron.unwrap().value, 98.0);
    assert!(aki.assumed.iter().any(|a| a.contains("assumed sensitivity")));
    let comma = parse_fuel("ron 95,5 s 10").unwrap().stock;
    assert_eq!(comma.mon.unwrap().value, 85.5);
    assert!(parse_fuel("RON 96").unwrap().stock.mon.is_none());
    assert_eq!(parse_fuel("EN-228-95").unwrap().stock.ron.unwrap().value, 95.0);
    let e30 = parse_fuel("70% en-228-95 + 30% ethanol").unwrap().stock;
    assert!((e30.ron.unwrap().value - 102.1).abs() < 0.1, "{e30:?}");
    let own: OwnBlend = toml::from_str(
        "name = \"shop mix\"\nby = \"volume\"\n[[parts]]\nfuel = \"RON 95 MON 85\"\npercent = 50.0\n\
         [[parts]]\nfuel = \"ethanol\"\npercent = 50.0\n",
    )
    .unwrap();
    assert!(own.fuel().unwrap().stock.ron.unwrap().value > 103.0);
}

#[test]
fn a_fuel_that_cannot_be_read_says_what_can() {
    let said = |text: &str| parse_fuel(text).unwrap_err().to_string();
    insta::assert_snapshot!(said("en-228-59"), @r#"no fuel grade has the id "en-228-59"; did you mean en-228-95? Write a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by volume such as `70% en-228-95 + 30% ethanol`"#);
    insta::assert_snapshot!(said("RON ninety"), @r#""ninety" in the fuel "RON ninety" is not a number; write a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by volume such as `70% en-228-95 + 30% ethanol`"#);
    insta::assert_snapshot!(said("RON 980 MON 88"), @r#"fuel "RON 980 MON 88": octane number is 980, outside 0 to 150 (fairpull, range in which an octane number has a meaning)"#);
    insta::assert_snapshot!(said("70% en-228-95 + 20% ethanol"), @r#"fuel "70% en-228-95 + 20% ethanol": sum of the shares of a blend is 0.9, outside 0.999999 to 1.000001 (fairpull, the parts make the whole)"#);
    assert!(parse_fuel("").is_err() && parse_fuel("RON nan").is_err() && parse_fuel("% + %").is_err());
    assert!(parse_fuel("RON 95 RON 98").is_err() && parse_fuel("AKI 93 RON 98").is_err());
}

#[test]
fn shares_outside_zero_to_one_are_refused() {
    let (ron, mon) = octane(95.0, 85.0);
    let parts = [Part { stock: Stock::petrol(ron, mon), share: -0.5 }, Part { stock: ethanol(), share: 1.5 }];
    assert!(matches!(blend(&parts, By::Volume, OctaneRule::Molar), Err(Refusal::OutOfRange(_))));
    assert!(blend(&[], By::Mass, OctaneRule::Molar).is_err());
}

proptest::proptest! {
    /// Whatever is written: a fuel with possible properties or an error that quotes the text, never a panic.
    #[test]
    fn any_text_is_a_fuel_or_an_error(text in "(RON|MON|AKI|S|[0-9]{1,4}[.,]?[0-9]{0,2}|%|\\+|ethanol|en-228-95| |[a-z\u{e9}]){0,12}") {
        match parse_fuel(&text) {
            Ok(named) => proptest::prop_assert!(named.stock.check().is_ok()),
            Err(e) => proptest::prop_assert!(!e.to_string().is_empty()),
        }
    }
}
