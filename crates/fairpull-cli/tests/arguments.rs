//! What is given counts, or is said not to: idle values, values given twice, values that are none.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::process::Command;

/// Exit status, standard output and standard error.
fn run(args: &[&str]) -> (i32, String, String) {
    let o = Command::new(env!("CARGO_BIN_EXE_fairpull"))
        .args(args)
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
        .output()
        .unwrap();
    let text = |b: Vec<u8>| String::from_utf8(b).unwrap();
    (o.status.code().unwrap(), text(o.stdout), text(o.stderr).trim_end().to_owned())
}

/// What is noted beside an answer.
fn notes(args: &[&str]) -> String {
    let (status, out, err) = run(args);
    assert!(status == 0 && !out.is_empty(), "{args:?}: {err}");
    err
}

/// A refusal, status 1; wrong usage, status 2.
fn refused(args: &[&str], wanted: i32) -> String {
    let (status, out, err) = run(args);
    assert!(status == wanted && out.is_empty(), "{args:?}: {status} {out}{err}");
    err
}

#[test]
fn what_counts_for_nothing_is_said() {
    let observed = [
        "restate",
        "400kW",
        "--site",
        "crank",
        "--to-site",
        "wheel",
        "--from",
        "observed",
        "--to",
        "observed",
    ];
    let with = |more: &[&'static str]| [&observed[..], more].concat();
    assert_eq!(
        notes(&with(&["--load-share", "29%"])),
        "note: load_share \"29%\" changes nothing in this answer; a loss model that takes it wants constant_drag too"
    );
    assert_eq!(
        notes(&with(&["--constant-drag", "9.5kW"])),
        "note: constant_drag \"9.5kW\" changes nothing in this answer; a loss model that takes it wants load_share too"
    );
    assert_eq!(notes(&with(&["--load-share", "29%", "--constant-drag", "9.5kW"])), "");
    assert_eq!(notes(&with(&["--month", "3"])), "note: month 3 changes nothing in this answer");
    let corrected = ["restate", "400kW", "--site", "crank", "--from", "din-70020", "--to", "iso-1585"];
    assert_eq!(notes(&[&corrected[..], &["--month", "3", "--elevation", "430m"]].concat()), "");
    let all = ["restate", "400kW", "--site", "crank", "--from", "observed", "--all"];
    let with = |more: &[&'static str]| [&all[..], more].concat();
    assert_eq!(notes(&with(&["--month", "3"])), "");
    assert_eq!(
        notes(&with(&["--load-share", "2%"])),
        "note: load_share \"2%\" changes nothing in this answer; a loss model that takes it wants constant_drag too"
    );
    let air = ["--pressure", "985hPa", "--temperature", "20C", "--humidity", "50%"];
    let said = "note: air.elevation \"430m\" changes nothing in this answer";
    assert_eq!(notes(&[&["factors", "--elevation", "430m"], &air[..]].concat()), said);
    assert_eq!(notes(&[&["air", "--elevation", "430m"], &air[..]].concat()), said.replace("air.", ""));
    assert_eq!(
        notes(&["stress", "--torque", "350Nm", "--swept-volume", "1950cm3", "--stroke", "90mm"]),
        "note: before.stroke \"90mm\" changes nothing in this answer"
    );
    assert_eq!(
        notes(&[
            "knock",
            "en-228-95",
            "--requirement",
            "96",
            "--k",
            "0",
            "--model",
            "octane-index",
            "--change-spark",
            "2deg"
        ]),
        "note: changes.spark_advance \"2deg\" changes nothing in this answer"
    );
    let car = ["road", "predict", "100-200km/h", "--mass", "1575kg", "--power", "200kW"];
    assert_eq!(
        notes(&[&car[..], &["--friction", "1.1"]].concat()),
        "note: car.friction \"1.1\" changes nothing in this answer"
    );
    assert_eq!(notes(&car), "");
    assert_eq!(
        notes(&["road", "coastdown", "fixtures/road/coast-down-question.toml", "--half-width", "4km/h"]),
        "note: half_width \"4km/h\" changes nothing in this answer"
    );
    let log =
        ["road", "log", "fixtures/road/demo/pull-north.csv", "--mass", "1575kg", "--load-kmh", "100,0,0.03"];
    assert_eq!(
        notes(&[&log[..], &["--power", "200kW"]].concat()),
        "note: car.power changes nothing in this answer: a log needs mass, road load and air"
    );
}

#[test]
fn what_is_given_twice_or_for_nothing_is_refused() {
    assert_eq!(
        refused(&["vet", "--power", "200kW", "--set", "engine.power=100kW"], 1),
        "error: engine.power: given twice, \"200kW\" and \"100kW\"; keep one of them"
    );
    assert_eq!(
        refused(&["vet", "--set", "engine.power=200kW", "--set", "engine.power=100kW"], 1),
        "error: engine.power: given twice, \"200kW\" and \"100kW\"; keep one of them"
    );
    let m =
        refused(&["knock", "en-228-95", "--requirement", "96", "--k", "0", "--anchor-uncertainty", "2"], 1);
    assert!(m.contains("there is no anchor"), "{m}");
    assert!(refused(&["restate", "400kW", "--all", "--to", "iso-1585"], 2).contains("--to"));
    assert!(refused(&["restate", "400kW", "--all", "--to-site", "wheel"], 2).contains("--to-site"));
}

#[test]
fn a_value_that_is_none_is_named() {
    for month in ["0", "13", "300", "-3", "may"] {
        let m = refused(&["restate", "400kW", "--to", "observed", "--month", month], 2);
        assert!(m.starts_with(&format!("error: invalid value '{month}'")) && m.contains("1 to 12"), "{m}");
    }
    let wheel = ["restate", "400kW", "--site", "wheel", "--to", "observed", "--from", "observed"];
    let with = |more: &[&'static str]| refused(&[&wheel[..], more].concat(), 1);
    insta::assert_snapshot!(with(&["--constant-drag", "1e300kW", "--load-share", "2%"]), @r###"error: constant_drag "1e300kW": is outside 0 to 200000 W; write e.g. 9.5kW; check the value and its unit"###);
    insta::assert_snapshot!(with(&["--engine-speed", "0rpm"]), @r###"error: engine_speed "0rpm": is outside 10 to 30000 1/min"###);
    insta::assert_snapshot!(with(&["--engine-speed", "1e300rpm"]), @r###"error: engine_speed "1e300rpm": is outside 10 to 30000 1/min"###);
    insta::assert_snapshot!(with(&["--engine-speed", "-3rpm"]), @r###"error: engine_speed "-3rpm": is outside 10 to 30000 1/min"###);
    insta::assert_snapshot!(with(&["--loss", "guess"]), @r###"error: loss "guess": unknown loss model "guess"; the nearest are coast-down, prior-band, eu-2017-2400"###);
    insta::assert_snapshot!(refused(&["restate", "400kW @ 0 rpm; wheel", "--to", "observed"], 1), @r###"error: engine_speed "400kW @ 0 rpm; wheel": is outside 10 to 30000 1/min"###);
    insta::assert_snapshot!(refused(&["restate", "400kW", "--to", "iso-1586", "--from", "observed", "--site", "crank"], 1), @r###"error: to "iso-1586": unknown standard "iso-1586"; the nearest are iso-1585, iso-15550, iso-2534"###);
    insta::assert_snapshot!(refused(&["stress", "--torque", "-3Nm", "--swept-volume", "1950cm3"], 1), @r###"error: bmep: brake torque is -3 N·m, outside 0 to 20000 N·m (fairpull, what an engine under test can show)"###);
    insta::assert_snapshot!(refused(&["road", "predict", "--mass", "1575kg", "--power", "-3kW"], 1), @r###"error: car.power "-3kW": is outside 100 to 100000000 W; check the value and its unit"###);
    insta::assert_snapshot!(refused(&["fuel", "-3"], 1), @r###"error: fuel "-3": no fuel grade has the id "-3"; did you mean aki-93? Write a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by volume such as `70% en-228-95 + 30% ethanol`"###);
    let m = refused(&["knock", "-3", "--requirement", "96", "--k", "port"], 1);
    assert!(m.starts_with("error: fuel \"-3\": no fuel grade has the id"), "{m}");
    insta::assert_snapshot!(refused(&["convert", "1gal", "L"], 1), @r###"error: quantity "1gal": "gal" is not a known unit; did you mean gal(US) or gal(UK)?"###);
    insta::assert_snapshot!(refused(&["convert", "300whp", "kW"], 1), @r###"error: quantity "300whp": "whp" is not a known unit; did you mean hp, with the wheel as the site?"###);
    insta::assert_snapshot!(refused(&["convert", "5e-324kW", "MW"], 1), @r###"error: unit "MW": is too large for so small a quantity"###);
    let log =
        ["road", "log", "fixtures/road/demo/pull-north.csv", "--mass", "1575kg", "--speed-scale", "1000%"];
    insta::assert_snapshot!(refused(&log, 1), @r###"error: speed_scale "1000%": is outside 0 to 0.2 as a ratio; write e.g. 1%; check the value and its unit"###);
    assert_eq!(run(&["convert", "1e300kW", "MW"]).1, "1.000000e297 MW\n");
    assert_eq!(run(&["convert", "1e-300kW", "MW"]).1, "1.000000e-303 MW\n");
}
