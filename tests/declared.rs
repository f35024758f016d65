//! Standards written as data: the twin of a built-in standard gives the same bits, a bad declaration is refused.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::{
    AbsolutePressure, Air, ChargeCooling, Charging, CorrectionStandard, Engine, Ignition, Refusal,
    Temperature, VapourPressure,
};
use fairpull_declared::{Declared, parse_json, parse_toml};

fn folder() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures/declared")
}

fn text(name: &str) -> String {
    std::fs::read_to_string(folder().join(name)).unwrap()
}

/// Every built-in standard but the relative-power method, which is no power law.
fn built_in() -> Vec<&'static dyn CorrectionStandard> {
    [
        fairpull_iso_1585::ALL,
        fairpull_iso_2534::ALL,
        fairpull_iso_15550::ALL,
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
    ]
    .concat()
}

fn twins() -> Vec<(Declared, &'static dyn CorrectionStandard)> {
    let mut names: Vec<String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .filter(|n| n.ends_with(".toml") && n != "fifteen-lines.toml")
        .collect();
    names.sort();
    names
        .iter()
        .map(|name| {
            let declared = parse_toml(&text(name), name).unwrap_or_else(|e| panic!("{e}"));
            let id = declared.card().id;
            assert_eq!(format!("{id}.toml"), *name);
            let twin = built_in().into_iter().find(|s| s.card().id == id);
            (declared, twin.unwrap_or_else(|| panic!("no built-in standard has the id {id}")))
        })
        .collect()
}

fn airs() -> Vec<Air> {
    let mut airs = Vec::new();
    for station in [62.0, 80.0, 84.5, 95.3, 98.5, 100.0, 101.325, 104.0] {
        for celsius in [-15.0, 0.0, 10.0, 15.7, 20.0, 25.0, 31.3, 48.0] {
            for vapour in [0.0, 0.61, 1.0, 2.2, 3.810351524324268] {
                let air = Air::new(
                    AbsolutePressure::from_kilopascals(station),
                    Temperature::from_celsius(celsius),
                    VapourPressure::from_kilopascals(vapour),
                );
                airs.push(air.unwrap());
            }
        }
    }
    airs
}

fn engines() -> Vec<Engine> {
    let mut engines = Vec::new();
    for ignition in [Ignition::Spark, Ignition::Compression] {
        for charging in [Charging::None, Charging::Supercharged, Charging::Turbocharged] {
            for cooling in [ChargeCooling::None, ChargeCooling::Air, ChargeCooling::Liquid] {
                let bare = Engine::new(ignition, charging).cooled(cooling);
                engines.push(bare);
                for (q, r) in [(30.0, 1.0), (52.5, 1.0), (101.3, 2.1), (140.0, 1.4)] {
                    engines.push(bare.fuelled(q, r));
                }
                engines.push(bare.fuelled(90.0, 1.7).with_mechanical_efficiency(0.87));
                engines.push(bare.fuelled(90.0, 1.7).compensated(true));
            }
        }
    }
    engines
}

/// Value and blind value as bits, or the kind of refusal.
fn bits(
    answer: &Result<fairpull_core::Factor, Refusal>,
) -> Result<(u64, u64), std::mem::Discriminant<Refusal>> {
    match answer {
        Ok(f) => Ok((f.value().to_bits(), f.blind().to_bits())),
        Err(e) => Err(std::mem::discriminant(e)),
    }
}

#[test]
fn a_declared_twin_gives_the_same_bits() {
    assert_eq!(twins().len(), built_in().len(), "every built-in standard has a twin");
    for (declared, twin) in twins() {
        let (mut factors, mut refusals) = (0, 0);
        for air in airs() {
            for engine in engines() {
                let (a, b) = (declared.factor(&air, &engine), twin.factor(&air, &engine));
                assert_eq!(
                    bits(&a),
                    bits(&b),
                    "{} {air:?} {engine:?}: {a:?} beside {b:?}",
                    declared.card().id
                );
                match (&a, &b) {
                    (Ok(a), Ok(b)) => {
                        factors += 1;
                        assert_eq!(a.outside_range(), b.outside_range());
                    }
                    _ => refusals += 1,
                }
            }
        }
        println!(
            "{} | declared and built in | {factors} factors same bits, {refusals} same refusals",
            declared.card().id
        );
        let (d, t) = (declared.card(), twin.card());
        assert_eq!((d.designation, d.rating), (t.designation, t.rating));
        assert_eq!((d.applies, d.reference), (t.applies, t.reference));
        let standing = |s: &fairpull_core::Status| core::mem::discriminant(s);
        assert_eq!(standing(&d.status), standing(&t.status), "{}", d.id);
        for (a, b) in [(d.spark, t.spark), (d.compression, t.compression)] {
            let ends = |w: fairpull_core::TestWindow| {
                [w.temperature, w.pressure, w.factor].map(|l| l.map(|l| (l.what, l.unit, l.low, l.high)))
            };
            assert_eq!(ends(a), ends(b));
        }
    }
}

#[test]
fn declarations_pass_the_conformance_kit() {
    for (declared, _) in twins() {
        let failures = fairpull_conformance::standard::run(&declared);
        assert!(failures.is_empty(), "{failures:#?}");
    }
    let toy = parse_toml(&text("fifteen-lines.toml"), "fifteen-lines.toml").unwrap();
    assert!(fairpull_conformance::standard::run(&toy).is_empty());
}

#[test]
fn fifteen_lines_are_enough() {
    let declaration = text("fifteen-lines.toml");
    assert!(declaration.lines().count() <= 15);
    let guide = std::fs::read_to_string(folder().join("../../docs/declared.md")).unwrap();
    assert!(guide.contains(&declaration), "the guide shows the declaration that this test loads");
    let toy = parse_toml(&declaration, "fifteen-lines.toml").unwrap();
    assert_eq!(toy.card().formula, "spark: (99/p_d)^1.1 (T/298)^0.55");
    // Hand-worked: 90 kPa dry and 25 °C leave (99/90)^1.1 = 1.1^1.1.
    let air = Air::new(
        AbsolutePressure::from_kilopascals(91.0),
        Temperature::from_celsius(25.0),
        VapourPressure::from_kilopascals(1.0),
    );
    let factor = toy.factor(&air.unwrap(), &Engine::new(Ignition::Spark, Charging::None)).unwrap();
    approx::assert_relative_eq!(factor.value(), 1.110534241054576, max_relative = 1e-14);
    assert!(factor.outside_range());
}

#[test]
fn json_says_the_same_as_toml() {
    for name in ["iso-1585.toml", "sae-j1349.toml", "din-70020.toml"] {
        let table: toml::Table = text(name).parse().unwrap();
        let json = serde_json::to_string_pretty(&table).unwrap();
        let (a, b) = (parse_toml(&text(name), name).unwrap(), parse_json(&json, name).unwrap());
        // Equal cards are kept once, so the same card comes back.
        assert!(std::ptr::eq(a.card(), b.card()), "{name}");
    }
}

#[test]
fn loading_twice_keeps_one_card() {
    let once = parse_toml(&text("iso-1585.toml"), "a.toml").unwrap();
    let twice = parse_toml(&text("iso-1585.toml"), "b.toml").unwrap();
    assert!(std::ptr::eq(once.card(), twice.card()));
}

/// The good declaration with one line changed.
fn spoilt(from: &str, to: &str) -> String {
    let good = text("sae-j1349.toml");
    assert!(good.contains(from), "{from}");
    parse_toml(&good.replacen(from, to, 1), "mine.toml").unwrap_err().to_string()
}

#[test]
fn a_bad_declaration_is_refused_with_place_field_and_reason() {
    let messages = [
        spoilt("id = \"sae-j1349\"", "id = \"SAE J1349\""),
        spoilt("status = \"current\"", "status = \"valid\""),
        spoilt("rating = \"net\"\n", ""),
        spoilt("charged = true", "charged = \"yes\""),
        spoilt("pressure-kpa = 99.0", "pressure-kpa = 990.0"),
        spoilt("pressure-kpa = 99.0", "presure-kpa = 99.0"),
        spoilt("kelvin-offset = 273.0", "kelvin-offset = nan"),
        spoilt("offset = 0.18", "offset = 0.81"),
        spoilt("exponents = [1.0, 0.5]", "exponents = [1.0]"),
        spoilt("lower = 0.2", "lower = 0.3"),
        spoilt("factor = [0.97, 1.03]", "factor = [1.03, 0.97]"),
        spoilt("reading = \"doubtful\"", "reading = \"sure\""),
        spoilt("printed = \"1.22510368684994\"", "printed = \"1.23510\""),
        spoilt("title = ", "titel = "),
        spoilt("status = \"current\"", "status = \"current\"\nsuperseded-by = \"SAE J9999\""),
        spoilt("[spark]", "[spark"),
        parse_toml("", "empty.toml").unwrap_err().to_string(),
        parse_json("{\"id\": \"a-1\", \"id\": \"a-2\"}", "twice.json").unwrap_err().to_string(),
        parse_json("{\"id\": ", "cut.json").unwrap_err().to_string(),
        parse_json("[]", "list.json").unwrap_err().to_string(),
        parse_json("{\"reference\": {\"basis\": \"wet\"}}", "wet.json").unwrap_err().to_string(),
    ];
    insta::assert_snapshot!(messages.join("\n"), @r#"
    mine.toml:2:6: id: "SAE J1349" where a lower-case designation such as "xy-1234" was expected: letters a to z, digits, hyphens
    mine.toml:6:10: status: "valid" where one of current, withdrawn, historic, unknown was expected
    mine.toml: rating: missing: give one of net, gross, either
    mine.toml:8:11: charged: "yes" where true or false was expected
    mine.toml:9:45: reference.pressure-kpa: 990 where a number from 50 to 120 kPa was expected
    mine.toml:9:30: reference.pressure-kpa: missing: give a number from 50 to 120 kPa; is presure-kpa a slip of the pen?
    mine.toml:9:107: reference.kelvin-offset: NaN where a number from 272 to 274: what the text adds to °C was expected
    mine.toml:15:10: spark.offset: 0.81 beside scale 1.18 gives the factor 0.3699999999999999 at the reference air, where it must be 1
    mine.toml:16:13: spark.exponents: a list of 1 where a pair [exponent of p_ref/p, exponent of T/T_ref] was expected
    mine.toml:28:40: compression.engine-factor.lower: 0.3, but slope and minus give 0.19920000000000004 at 37.2 mg/(l·cycle): limit and value come in pairs
    mine.toml:20:10: spark.factor: [1.03, 0.97] where low must not be above high
    mine.toml:21:97: spark.limits.reading: "sure" where one of derived, read, corroborated, remembered, doubtful was expected
    mine.toml:53:11: example[1].printed: printed 1.23510, but the declared formula gives 1.225103686849939: mend the constants or the example
    mine.toml:4:1: title: missing: give a short title; is titel a slip of the pen?
    mine.toml:7:17: superseded-by: given, but only a withdrawn text has a successor: set status = "withdrawn" or leave it out
    mine.toml:12:7: not TOML: unclosed table, expected `]`
    empty.toml: reference: missing: give the reference air
    twice.json:1:26: not JSON: the field id stands twice at line 1 column 26
    cut.json:1:7: not JSON: EOF while parsing a value at line 1 column 7
    list.json: a list of 0 where a table of fields was expected
    wet.json: reference.basis: "wet" where one of dry, total was expected
    "#);
}

#[test]
fn no_text_makes_the_reader_panic() {
    let good = text("iso-1585.toml");
    let mut random = fairpull_uncertainty::Random::new(20);
    for _ in 0..4000 {
        let mut bytes = good.clone().into_bytes();
        for _ in 0..1 + random.bits() % 4 {
            let i = random.bits() as usize % bytes.len().max(1);
            match random.bits() % 3 {
                0 if i < bytes.len() => bytes[i] = (random.bits() % 128) as u8,
                1 if i < bytes.len() => drop(bytes.remove(i)),
                _ => bytes.truncate(i.max(1)),
            }
        }
        let spoilt = String::from_utf8_lossy(&bytes).into_owned();
        if let Err(e) = parse_toml(&spoilt, "f") {
            assert!(!e.to_string().is_empty());
        }
        let _ = parse_json(&spoilt, "f");
    }
}
