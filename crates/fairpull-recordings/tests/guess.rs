//! The first guess at invented logs, and its TOML block read back by the reader.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{Confidence, Layout, RepairKind, Role, Separator, guess, read};

fn fixture(name: &str) -> Vec<u8> {
    let path = format!("{}/../../fixtures/recordings/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(&path).unwrap_or_else(|e| panic!("{path}: {e}"))
}

#[derive(serde::Deserialize)]
struct Block {
    layout: Layout,
}

fn layout(name: &str) -> Layout {
    let text = guess(&fixture(name), name).expect("guesses").toml("layout");
    toml::from_str::<Block>(&text).unwrap_or_else(|e| panic!("{e}\n{text}")).layout
}

fn roles(name: &str) -> Vec<Option<Role>> {
    guess(&fixture(name), name).expect("guesses").columns.iter().map(|c| c.role).collect()
}

#[test]
fn semicolons_and_latin_1() {
    let name = "semicolon-latin1.csv";
    let wanted = [
        Role::Time,
        Role::EngineSpeed,
        Role::RollerSpeed,
        Role::BrakeForce,
        Role::ManifoldPressure,
        Role::OilTemperature,
        Role::Lambda,
    ];
    assert_eq!(roles(name), wanted.map(Some));
    let r = read(&fixture(name), name, &layout(name)).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!((r.format.separator, r.channels.len()), (Separator::Semicolon, 6));
    assert_eq!(r.format.preamble.len(), 3);
    for (kind, n) in [(RepairKind::RepeatedStamp, 1), (RepairKind::Gap, 1), (RepairKind::Spike, 1)] {
        assert_eq!(r.repairs.count(kind), n, "{kind:?} {:?}", r.repairs);
    }
}

#[test]
fn commas_and_a_clock() {
    let name = "comma-clock.csv";
    let wanted = [
        Some(Role::Time),
        Some(Role::EngineSpeed),
        Some(Role::RoadSpeed),
        Some(Role::ManifoldPressure),
        Some(Role::IntakeTemperature),
        Some(Role::ExhaustTemperature),
        None,
    ];
    assert_eq!(roles(name), wanted);
    let g = guess(&fixture(name), name).expect("guesses");
    assert_eq!(g.columns[2].confidence, Confidence::Medium);
    assert!(g.columns[2].why.contains("roller_speed"));
    let r = read(&fixture(name), name, &layout(name)).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(r.rows, 200);
    for (kind, n) in [
        (RepairKind::HeaderRepeated, 1),
        (RepairKind::NoValue, 2),
        (RepairKind::TruncatedLastRow, 1),
        (RepairKind::Gap, 1),
        (RepairKind::CommentLine, 1),
    ] {
        assert_eq!(r.repairs.count(kind), n, "{kind:?} {:?}", r.repairs);
    }
}

#[test]
fn tabs_and_utf_16() {
    let name = "tab-utf16.txt";
    let wanted = [
        Role::Time,
        Role::EngineSpeed,
        Role::RollerSpeed,
        Role::Throttle,
        Role::ManifoldPressure,
        Role::Lambda,
        Role::Gear,
    ];
    assert_eq!(roles(name), wanted.map(Some));
    let r = read(&fixture(name), name, &layout(name)).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(r.rows, 120);
    assert_eq!(r.repairs.count(RepairKind::NeverChanges), 1);
}

/// Names that say only where, as many systems write them: the unit decides, and the guess says so.
#[test]
fn bare_names_are_mapped_by_their_unit() {
    let wanted = [
        (Role::Time, Confidence::High),
        (Role::RollerSpeed, Confidence::Medium),
        (Role::EngineSpeed, Confidence::Medium),
        (Role::IntakeTemperature, Confidence::Medium),
        (Role::ChargeTemperature, Confidence::Medium),
        (Role::ManifoldPressure, Confidence::Medium),
        (Role::PreTurbinePressure, Confidence::Medium),
        (Role::ExhaustTemperature, Confidence::Medium),
        (Role::Lambda, Confidence::High),
        (Role::SparkAdvance, Confidence::High),
    ];
    for name in ["before-1", "before-2", "before-3", "before-4", "after-1", "after-2", "after-3", "after-4"] {
        let name = format!("../demo/{name}.csv");
        let g = guess(&fixture(&name), &name).expect("guesses");
        let got: Vec<_> = g.columns.iter().map(|c| (c.role, c.confidence)).take(wanted.len()).collect();
        assert_eq!(got, wanted.map(|(r, c)| (Some(r), c)), "{name}");
        assert!(g.columns[1].why.contains("the unit km/h decided"), "{}", g.columns[1].why);
    }
    // the same word with another unit is another role, and without a unit none
    let log = "Time [s],Roller [rpm],Engine\n0,250,2500\n1,260,2600\n";
    let roles: Vec<_> =
        guess(log.as_bytes(), "a.csv").expect("guesses").columns.iter().map(|c| c.role).collect();
    assert_eq!(roles, [Some(Role::Time), Some(Role::RollerRotation), None]);
}

#[test]
fn what_the_log_does_not_say_is_left_for_a_person() {
    let log = "Time,Boost,RPM\n0,1.2,2500\n20,1.3,2600\n40,1.4,2700\n60,1.5,2800\n";
    let g = guess(log.as_bytes(), "a.csv").expect("guesses");
    insta::assert_snapshot!(g.toml("layout"), @r#"
    [layout]
    columns = [
      { role = "time", name = "Time", unit = "ms" }, # medium: "time" in the name; the log states no unit, the values look like ms: check
      { role = "manifold_pressure", name = "Boost", unit = "bar" }, # medium: "boost" in the name; the log states no unit, the values look like bar: check; gauge or absolute? state it
      { role = "engine_speed", name = "RPM" }, # high: "rpm" in the name
    ]
    "#);
}

#[test]
fn names_of_any_kind_are_quoted() {
    let log = "\"Time\\x [s]\",\"a \"\"b\"\"\"\n0,1\n1,2\n";
    let g = guess(log.as_bytes(), "a.csv").expect("guesses");
    let block = toml::from_str::<Block>(&g.toml("layout")).expect("parses");
    assert_eq!(block.layout.columns[0].name, "Time\\x [s]");
}
