//! Every command end to end: exit status, what goes to which stream, and messages word for word.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const REPO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

fn fairpull(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fairpull")).args(args).current_dir(REPO).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// Standard output of a command that succeeds in silence on the other stream.
fn done(args: &[&str]) -> String {
    let o = fairpull(args);
    assert_eq!(o.status.code(), Some(0), "{args:?}: {}", text(&o.stderr));
    assert!(o.stderr.is_empty(), "{args:?}: {}", text(&o.stderr));
    text(&o.stdout)
}

/// Standard error of a command whose input is refused: nothing on standard output, exit status 1.
fn refused(args: &[&str]) -> String {
    stopped(args, 1)
}

/// Standard error of a command that stops with this status and nothing on standard output.
fn stopped(args: &[&str], status: i32) -> String {
    let o = fairpull(args);
    assert_eq!(o.status.code(), Some(status), "{args:?}: {}", text(&o.stdout));
    assert!(o.stdout.is_empty(), "{args:?}: {}", text(&o.stdout));
    text(&o.stderr).trim_end().to_owned()
}

fn json(args: &[&str]) -> serde_json::Value {
    serde_json::from_str(&done(args)).unwrap()
}

/// A fresh folder for one test.
fn folder(name: &str) -> PathBuf {
    let dir = std::env::temp_dir().join(format!("fairpull-cli-{}-{name}", std::process::id()));
    let _ = fs::remove_dir_all(&dir);
    fs::create_dir_all(&dir).unwrap();
    dir
}

/// The demo job in a folder of its own.
fn demo(name: &str) -> PathBuf {
    let dir = folder(name);
    for entry in fs::read_dir(Path::new(REPO).join("fixtures/demo")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            fs::copy(&path, dir.join(path.file_name().unwrap())).unwrap();
        }
    }
    dir
}

/// A job whose text was changed, and the message it gets without the folder's own path.
fn job(name: &str, from: &str, to: &str) -> String {
    let dir = demo(name);
    let path = dir.join("job.toml");
    let before = fs::read_to_string(&path).unwrap();
    assert!(before.contains(from), "{from}");
    fs::write(&path, before.replacen(from, to, 1)).unwrap();
    let message = refused(&["reduce", path.to_str().unwrap(), "--dry-run"]);
    let shown = message.replace(&format!("{}/", dir.display()), "");
    fs::remove_dir_all(&dir).unwrap();
    shown
}

const AIR: [&str; 6] = ["--pressure", "985hPa", "--temperature", "34C", "--humidity", "55%"];

fn with_air(command: &str, more: &[&str]) -> Vec<String> {
    core::iter::once(command).chain(AIR).chain(more.iter().copied()).map(String::from).collect()
}

#[test]
fn every_command_answers_and_its_json_parses() {
    // NIST SP 811 (2008), B.8: the metric horsepower is 735.4988 W
    assert!((json(&["convert", "530PS", "kW", "--json"])["value"].as_f64().unwrap() - 389.814).abs() < 1e-3);
    let air = with_air("air", &["--json"]);
    let air = json(&air.iter().map(String::as_str).collect::<Vec<_>>());
    assert!((air["temperature_c"].as_f64().unwrap() - 34.0).abs() < 1e-9);
    let factors = with_air("factors", &["--json"]);
    let factors = json(&factors.iter().map(String::as_str).collect::<Vec<_>>());
    assert!(factors["factors"].as_array().unwrap().len() >= 15);
    assert!(json(&["catalogue", "--json"]).as_array().unwrap().len() >= 20);
    assert_eq!(json(&["catalogue", "iso-1585", "--json"])["id"], "iso-1585");
    let fuel = json(&["fuel", "en-228-95", "--json"]);
    assert_eq!(fuel["fuels"][0]["ron"]["low"], 95.0); // EN 228: at least 95.0
    let knock = json(&["knock", "en-228-95", "--requirement", "96 ± 2", "--k", "0", "--json"]);
    assert_eq!(knock["fuels"][0]["margin_on"]["value"], -1.0);
    let restated = ["restate", "400kW", "--from", "din-70020", "--to", "iso-1585", "--json"];
    assert!(json(&restated)["value"].as_f64().unwrap() > 300.0);
    assert_eq!(json(&["columns", "fixtures/demo/before-1.csv", "--json"])["columns"][0]["role"], "time");
    let vet = json(&["vet", "fixtures/claims/contradicted.toml", "--json"]);
    assert_eq!(vet["outcome"], "contradicted");
    assert_eq!(json(&["vet", "fixtures/claims/consistent.toml", "--json"])["outcome"], "consistent");
    // t = m (v2² − v1²)/(2P) without drag and rotating parts
    let road = json(&[
        "road",
        "predict",
        "100-200km/h",
        "--mass",
        "1575kg",
        "--power",
        "200kW",
        "--site",
        "wheel",
        "--load-kmh",
        "0,0,0",
        "--mass-factor",
        "1",
        "--json",
    ]);
    let t = road["times"][0]["predicted"]["time_s"]["value"].as_f64().unwrap();
    assert!((t - 9.114_583_333).abs() < 1e-6, "{t}");
    // 4π T/V: 400 N·m from 2 l are 25.13 bar (Heywood 1988, 2.7)
    let stress = json(&["stress", "--torque", "400Nm", "--swept-volume", "2000cm3", "--json"]);
    let bmep = stress["before"]["figures"][0]["figure"]["value"].as_f64().unwrap();
    assert!((bmep - 25.132_741).abs() < 1e-5, "{bmep}");
}

#[test]
fn text_has_cautions_where_somebody_can_be_hurt() {
    assert!(done(&["fuel"]).contains("Caution: "));
    assert!(
        done(&["knock", "RON 98 MON 88", "--requirement", "96", "--k", "port"])
            .contains("never replaces a knock measurement")
    );
    assert!(done(&["stress", "--torque", "400Nm", "--swept-volume", "2000cm3"]).contains("Caution: "));
    assert!(done(&["road", "predict", "--mass", "1575kg", "--power", "200kW"]).contains("closed road"));
    assert!(done(&["vet", "fixtures/claims/consistent.toml"]).contains("Caution: "));
}

#[test]
fn wrong_usage_is_status_2() {
    for args in [&["nothing"][..], &["convert"], &["air", "--wind", "3"], &["road"]] {
        let o = fairpull(args);
        assert_eq!(o.status.code(), Some(2), "{args:?}");
        assert!(o.stdout.is_empty() && !o.stderr.is_empty());
    }
}

#[test]
fn a_vetted_claim_as_a_page() {
    let dir = folder("vetting");
    let page = dir.join("vetting.html");
    let args = ["vet", "fixtures/claims/contradicted.toml", "--html", page.to_str().unwrap()];
    done(&args);
    let shown = fs::read_to_string(&page).unwrap();
    assert!(shown.contains("Invented coupe, package three") && !shown.contains("<script"));
    assert!(
        refused(&args)
            .contains("vetting.html is there already; use --force to replace, or another file with --html")
    );
    fs::remove_dir_all(&dir).unwrap();
}

#[test]
fn completions_and_manual() {
    let script = done(&["completions", "bash"]);
    assert!(script.contains("complete -F _fairpull") && script.contains("--requirement"));
    let manual = done(&["man"]);
    assert!(manual.starts_with(".ie") && manual.contains("fairpull\\-reduce"), "{}", &manual[..200]);
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_fairpull"))
        .args(["catalogue", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let o = child.wait_with_output().unwrap();
    assert_eq!(o.status.code(), Some(0));
    assert!(o.stderr.is_empty(), "{}", text(&o.stderr));
}

#[test]
fn bad_quantities() {
    insta::assert_snapshot!(refused(&["air", "--pressure", "34C", "--temperature", "20C", "--humidity", "50%"]), @r###"error: pressure "34C": °C is a unit of temperature, but a pressure was expected; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "NaNhPa", "--temperature", "20C", "--humidity", "50%"]), @r###"error: pressure "NaNhPa": no number found; write digits such as 12.5"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "", "--temperature", "20C", "--humidity", "50%"]), @r###"error: pressure: empty where a pressure was expected; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "985hPa", "--temperature", "infC", "--humidity", "50%"]), @r###"error: temperature "infC": no number found; write digits such as 12.5"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "985hPa", "--temperature", "20C", "--humidity", "150%"]), @r###"error: humidity "150%": relative humidity is 150 %, outside 0 to 100 %; give percent, e.g. 55%"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "985hPa", "--temperature", "200C", "--humidity", "50%"]), @r###"error: temperature "200C": intake air temperature is 200 °C, outside -60 to 80 °C (fairpull, what a place where engines are tested can be)"###);
    insta::assert_snapshot!(refused(&["air", "--pressure", "20hPa", "--temperature", "34C", "--humidity", "55%"]), @r###"error: pressure "20hPa": station pressure is 2 kPa, outside 40 to 120 kPa (fairpull, what a place where engines are tested can be)"###);
    insta::assert_snapshot!(refused(&["convert", "5furlong", "kW"]), @r###"error: quantity "5furlong": "furlong" is not a known unit; write a number and a unit, e.g. 221kW"###);
    insta::assert_snapshot!(refused(&["stress", "--manifold", "1.2bar", "--charge-temperature", "40C"]), @r###"error: manifold "1.2bar": bar does not say whether it counts from vacuum or from the barometer; write bar(a) for absolute or bar(g) for gauge"###);
    insta::assert_snapshot!(refused(&["knock", "en-228-95"]), @r###"error: requirement: nothing is said about the engine; give the octane index at which it is just borderline (96 ± 2), or a cycle"###);
    insta::assert_snapshot!(refused(&["road", "predict", "fast", "--mass", "1575kg", "--power", "200kW"]), @r###"error: measures "fast": "fast" is neither speeds nor a distance; write 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m or 1000m from 80km/h"###);
    insta::assert_snapshot!(refused(&["road", "predict", "--mass", "0kg", "--power", "200kW"]), @r###"error: car: mass is 0 kg; expected 30 to 100000 kg: give the mass as driven, with driver and fuel"###);
    insta::assert_snapshot!(refused(&["vet", "--power", "221C"]), @r###"error: engine.power: "221C": °C is a unit of temperature, but a power was expected; units of power: kW, W, MW, PS, hp, lbf·ft/s; write e.g. power = "221kW""###);
    insta::assert_snapshot!(refused(&["vet", "--set", "engine.powr=221kW"]), @r###"error: engine.powr: is not a field of a claim; did you mean power?"###);
    insta::assert_snapshot!(refused(&["fuel", "en-229-95"]), @r###"error: fuel "en-229-95": no fuel grade has the id "en-229-95"; did you mean en-228-95? Write a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by volume such as `70% en-228-95 + 30% ethanol`"###);
}

#[test]
fn a_factor_outside_its_range_is_said_to_be() {
    let hot = ["factors", "--pressure", "985hPa", "--temperature", "45C", "--humidity", "20%", "--json"];
    let answer = json(&hot);
    let iso = answer["factors"].as_array().unwrap().iter().find(|f| f["standard"] == "iso-1585").unwrap();
    assert_eq!(iso["status"], "outside");
    assert!(
        iso["why"].as_str().unwrap().contains("intake air temperature is 318 K, outside 288 to 308 K"),
        "{iso}"
    );
}

#[test]
fn files_that_are_none() {
    insta::assert_snapshot!(refused(&["columns", "no-such.csv"]), @r###"error: no-such.csv: there is no such file"###);
    insta::assert_snapshot!(refused(&["columns", "fixtures"]), @r###"error: fixtures: this is a folder; name a file"###);
    insta::assert_snapshot!(refused(&["reduce", "no-such/job.toml"]), @r###"error: no-such/job.toml: there is no such file"###);
    insta::assert_snapshot!(stopped(&["reduce", "fixtures"], 2), @r###"error: fixtures: this is a folder of jobs; say where the results go with --out DIR"###);
    insta::assert_snapshot!(refused(&["vet", "no-such.toml"]), @r###"error: no-such.toml: there is no such file"###);
    let dir = folder("binary");
    let path = dir.join("log.csv");
    fs::write(&path, [0x7f, 0x45, 0x4c, 0x46, 0, 0, 1, 2]).unwrap();
    let m = refused(&["columns", path.to_str().unwrap()]);
    insta::assert_snapshot!(m.replace(&format!("{}/", dir.display()), ""), @r###"error: log.csv: byte 4 is 0x00, so this is not a text file; expected comma, semicolon, tab or bar separated text. Export the log as text (CSV)"###);
    fs::write(&path, "").unwrap();
    let m = refused(&["columns", path.to_str().unwrap()]);
    insta::assert_snapshot!(m.replace(&format!("{}/", dir.display()), ""), @r###"error: log.csv: the file is empty; expected a header and rows of numbers. Export the log again"###);
    // what is held whole is refused before it is read: the file takes no place and its zeros no time
    let path = dir.join("job.toml");
    fs::File::create(&path).unwrap().set_len(600_000_000).unwrap();
    let name = path.to_str().unwrap();
    for args in [&["reduce", name][..], &["vet", name], &["catalogue", "--declared", name]] {
        let m = refused(args);
        insta::allow_duplicates! {
            insta::assert_snapshot!(m.replace(&format!("{}/", dir.display()), ""), @"error: job.toml: 600000000 bytes are too many for a file of this kind; expected at most 2000000 bytes. Check that this is the file you mean; recordings belong in logs of their own");
        }
    }
    fs::remove_dir_all(&dir).unwrap();
}

/// A refusal that leaves an answer to the rest: status 1 all the same.
fn in_part(args: &[&str]) -> (String, String) {
    let o = fairpull(args);
    assert_eq!(o.status.code(), Some(1), "{args:?}: {}", text(&o.stdout));
    (text(&o.stdout), text(&o.stderr).trim_end().to_owned())
}

#[test]
fn what_is_refused_is_status_1_with_and_without_an_answer_beside_it() {
    let engine = ["--requirement", "96", "--k", "port"];
    insta::assert_snapshot!(refused(&[&["knock", "nosuch"], &engine[..]].concat()), @r###"error: fuel "nosuch": no fuel grade has the id "nosuch"; did you mean toluene? Write a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by volume such as `70% en-228-95 + 30% ethanol`"###);
    let (table, why) = in_part(&[&["knock", "nosuch", "en-228-95"], &engine[..]].concat());
    assert!(table.contains("en-228-95") && why.starts_with("error: fuel \"nosuch\""), "{table}{why}");
    let (answer, why) = in_part(&[&["knock", "nosuch", "--json"], &engine[..]].concat());
    assert!(answer.starts_with('{') && why.starts_with("error: fuel \"nosuch\""), "{answer}{why}");
    insta::assert_snapshot!(refused(&["stress", "--torque", "350Nm", "--swept-volume", "0cm3"]), @r###"error: bmep: swept volume is 0 m³, outside 0.00002 to 0.05 m³ (fairpull, what an engine under test can show)"###);
    let state = ["stress", "--torque", "350Nm", "--swept-volume", "1950cm3", "--engine-speed", "5200rpm"];
    let (table, why) = in_part(&[&state[..], &["--stroke", "0mm"]].concat());
    assert!(
        table.contains("brake mean effective pressure") && why.starts_with("error: piston-speed: "),
        "{table}{why}"
    );
    insta::assert_snapshot!(refused(&["stress", "--torque", "350Nm"]), @r###"error: stress: no figure can be made of what is given; state at least two of power, engine speed, swept volume, stroke, pressures and temperatures, or a pipe"###);
    let car = ["--mass", "1575kg", "--power", "200kW"];
    insta::assert_snapshot!(refused(&[&["road", "predict", "100-50km/h"], &car[..]].concat()), @r###"error: measures "100-50km/h": start speed is 100 km/h; expected 0 to 50 km/h: the end speed lies above the start speed"###);
    insta::assert_snapshot!(refused(&[&["road", "predict", "120-120km/h"], &car[..]].concat()), @r###"error: measures "120-120km/h": start speed is 120 km/h; expected 0 to 120 km/h: the end speed lies above the start speed"###);
    // that a car does not get there is an answer
    assert!(done(&[&["road", "predict", "100-500km/h"], &car[..]].concat()).contains("is not reached"));
}

#[test]
fn messages_stay_short() {
    let long = "x".repeat(100_000);
    for args in [
        &["fuel", &long][..],
        &["convert", &long, "kW"],
        &["convert", "1kW", &long],
        &["catalogue", &long],
        &["restate", "400kW", "--to", &long],
        &["vet", "--set", &format!("engine.{long}=1")],
        &["vet", "--set", &format!("engine.charging={long}")],
        &["stress", "--torque", &long],
        &["stress", "--torque", "1e308Nm", "--swept-volume", "1950cm3"],
        &["road", "predict", "--mass", "1e308kg", "--power", "200kW"],
        &["road", "predict", &long, "--mass", "1575kg", "--power", "200kW"],
        &["air", "--pressure", "985hPa", "--temperature", "1e308C", "--humidity", "5%"],
    ] {
        let m = refused(args);
        assert!(m.chars().count() < 1500, "{}: {}", args[0], m.chars().take(300).collect::<String>());
        assert!(!m.contains("000000000000000"), "{m}");
    }
    for (from, to) in [
        ("standard = \"iso-1585\"", format!("standard = \"{long}\"")),
        ("cylinders = 4", format!("{long} = 4")),
        ("ignition = \"spark\"", format!("ignition = \"{long}\"")),
        ("name = \"Roller\"", format!("name = \"{long}\"")),
    ] {
        let m = job("long", from, &to);
        assert!(m.len() < 3000, "{}", &m[..500]);
    }
    let dir = demo("wide");
    let head: Vec<String> = (0..20_000).map(|i| format!("column {i}")).collect();
    fs::write(dir.join("before-1.csv"), format!("{}\n{}\n", head.join(","), vec!["1"; 20_000].join(",")))
        .unwrap();
    let m = refused(&["reduce", dir.join("job.toml").to_str().unwrap(), "--dry-run"]);
    assert!(m.contains("\"column 11\" and 19988 more"), "{m}");
    fs::remove_dir_all(&dir).unwrap();
}

#[test]
fn bad_jobs() {
    insta::assert_snapshot!(job("column", "name = \"Roller\"", "name = \"Rolls\""), @r###"
error: before-1.csv:1: no column "Rolls" for roller surface speed (did you mean "Roller [km/h]"?); columns: "Time [s]", "Roller [km/h]", "Engine [rpm]", "Intake [°C]", "Charge [°C]", "Manifold [kPa]", "Pre-turbine [kPa]", "Exhaust [°C]", "Lambda", "Spark [deg]"
"###);
    insta::assert_snapshot!(job("unit", "pressure = \"985.6hPa\"", "pressure = \"34C\""), @r###"
error: air.pressure: "34C": °C is a unit of temperature, but a pressure was expected; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge
  --> job.toml:99:20
   |
99 | air = { pressure = "34C", temperature = "23.9C", humidity = "57.9%" }
   |                    ^^^^^
"###);
    insta::assert_snapshot!(job("humid", "humidity = \"57.9%\"", "humidity = \"157.9%\""), @r###"
error: air: relative humidity is 157.9 %, outside 0 to 100 %; give percent, e.g. 55%
  --> job.toml:99:66
   |
99 | air = { pressure = "985.6hPa", temperature = "23.9C", humidity = "157.9%" }
   |                                                                  ^^^^^^^^
"###);
    insta::assert_snapshot!(job("escape", "file = \"before-1.csv\"", "file = \"../before-1.csv\""), @r###"
error: state.log.file: a log must lie in the job file's folder or below it
   --> job.toml:102:8
    |
102 | file = "../before-1.csv"
    |        ^^^^^^^^^^^^^^^^^ write a relative path without ..
"###);
    insta::assert_snapshot!(job("absent", "file = \"before-1.csv\"", "file = \"before-9.csv\""), @r###"
error: state.log.file: there is no such file
   --> job.toml:102:8
    |
102 | file = "before-9.csv"
    |        ^^^^^^^^^^^^^^
"###);
    insta::assert_snapshot!(job("field", "cylinders = 4", "cylinder = 4"), @r###"
error: vehicle: unknown field `cylinder`, expected one of `name`, `ignition`, `charging`, `charge_cooling`, `ambient_compensated`, `displacement`, `cylinders`, `bore`, `stroke`, `compression_ratio`, `driven_wheels`, `tyre_radius`, `tyre_radius_u`, `ratio`, `engine_inertia`, `engine_inertia_u`, `gearbox_inertia`, `wheel_inertia`, `gearbox`, `fuel_per_cycle`, `charge_pressure_ratio`, `mechanical_efficiency`
  --> job.toml:17:1
   |
17 | cylinder = 4
   | ^^^^^^^^
"###);
    insta::assert_snapshot!(job("type", "ratio = 5.62", "ratio = \"x\""), @r###"
error: vehicle.ratio: invalid type: string "x", expected a number
  --> job.toml:21:9
   |
21 | ratio = "x"
   |         ^^^
"###);
    insta::assert_snapshot!(job("negative", "cylinders = 4", "cylinders = -4"), @r###"
error: vehicle.cylinders: invalid value: integer `-4`, expected a whole number from 0 to 4294967295
  --> job.toml:17:13
   |
17 | cylinders = -4
   |             ^^
"###);
    insta::assert_snapshot!(job("uncertainty", "pressure_u = \"0.5hPa\"", "pressure_u = \"1e9hPa\""), @r###"
error: air.pressure_u: 1e9hPa is outside 0 to 10000 Pa
  --> job.toml:51:14
   |
51 | pressure_u = "1e9hPa"
   |              ^^^^^^^^ check the value and its unit
"###);
    insta::assert_snapshot!(job("also", "\"sae-j1349\"", "\"sae-j1350\""), @r###"
error: basis.also: "sae-j1350" is not in the catalogue
  --> job.toml:44:9
   |
44 | also = ["sae-j1350", "din-70020"]
   |         ^^^^^^^^^^^ nearest: sae-j1349, sae-j1995, sae-j1349-1990
"###);
    // the title says the same words: the caret stands under the field all the same
    let dir = demo("twice");
    let path = dir.join("job.toml");
    let job_text = fs::read_to_string(&path).unwrap();
    let changed = job_text
        .replace("Stage package, invented demo", "sae-j1350")
        .replace("\"iso-1585\"", "\"sae-j1350\"");
    fs::write(&path, changed).unwrap();
    let m = refused(&["reduce", path.to_str().unwrap(), "--dry-run"]);
    insta::assert_snapshot!(m.replace(&format!("{}/", dir.display()), ""), @r###"
error: basis.standard: "sae-j1350" is not in the catalogue
  --> job.toml:43:12
   |
43 | standard = "sae-j1350"
   |            ^^^^^^^^^^^ nearest: sae-j1349, sae-j1995, sae-j1349-1990
"###);
    fs::remove_dir_all(&dir).unwrap();
    insta::assert_snapshot!(job("standard", "standard = \"iso-1585\"", "standard = \"iso-1586\""), @r###"
error: basis.standard: "iso-1586" is not in the catalogue
  --> job.toml:43:12
   |
43 | standard = "iso-1586"
   |            ^^^^^^^^^^ nearest: iso-1585, iso-1585-2020, iso-15550
"###);
}

/// The demo job with its first log cut, and what is said of it.
fn cut(name: &str, keep: impl Fn(&[&str]) -> usize) -> String {
    let dir = demo(name);
    let log = dir.join("before-1.csv");
    let all = text(&fs::read(&log).unwrap());
    let rows: Vec<&str> = all.lines().collect();
    let kept = rows.get(..keep(&rows)).unwrap().join("\n") + "\n";
    fs::write(&log, kept).unwrap();
    let o = fairpull(&["reduce", dir.join("job.toml").to_str().unwrap(), "--dry-run"]);
    let shown = format!("{}{}", text(&o.stdout), text(&o.stderr)).replace(&format!("{}/", dir.display()), "");
    fs::remove_dir_all(&dir).unwrap();
    shown
}

/// Rows up to the top of the pull and a little of the coast-down.
fn pull_only(rows: &[&str]) -> usize {
    let speed = |r: &str| r.split(',').nth(1).and_then(|c| c.parse::<f64>().ok()).unwrap_or(0.0);
    let mut most = 0.0;
    for (i, r) in rows.iter().enumerate().skip(1) {
        let v = speed(r);
        if most > 100.0 && v > 1.0 && v < most - 3.0 {
            return i;
        }
        most = f64::max(most, v);
    }
    rows.len()
}

#[test]
fn one_sample_no_pull_and_no_coast_down_are_told() {
    insta::assert_snapshot!(cut("one", |_| 2).trim_end(), @"error: before-1.csv:2: only 1 row of numbers with a time stamp; expected at least two. Export the whole log");
    insta::assert_snapshot!(cut("two", |_| 3).trim_end(), @"error: before-1.csv: only 2 rows have a speed; give a recording of a whole pull");
    insta::assert_snapshot!(cut("none", |_| 60).trim_end(), @r###"error: before-1.csv: no full-load pull was found: the speed runs from 35.9 to 36.1 km/h without a lasting rise; check the unit of the speed column, or leave the log out with skip = "reason""###);
    let short = cut("short", pull_only);
    assert!(short.contains("before-1.csv: no coast-down of its own"), "{short}");
}

#[test]
fn a_road_log_shows_its_times_and_a_coast_down_its_load() {
    // v² = v0² + 2 P t/m: 200 kW and 1575 kg take m (v2² − v1²)/(2P) = 9.1146 s from 100 to 200 km/h
    let dir = folder("road");
    let rows: Vec<String> = (0..140)
        .map(|i| {
            let t = 0.1 * f64::from(i);
            // the square root as the tests of the library take it
            let v = libm::sqrt(22.0 * 22.0 + 2.0 * 200e3 * t / 1575.0);
            format!("{t:.1},{:.4}", 3.6 * v)
        })
        .collect();
    let log = dir.join("pull.csv");
    fs::write(&log, format!("Time [s],Speed [km/h]\n{}\n", rows.join("\n"))).unwrap();
    let path = log.to_str().unwrap();
    let car =
        ["--mass", "1575kg", "--load-kmh", "0,0,0", "--mass-factor", "1", "--speed-column", "Speed [km/h]"];
    let ask = |more: &[&str]| {
        [&["road", "log", path], &car[..], more].concat().iter().map(|s| (*s).to_owned()).collect::<Vec<_>>()
    };
    let args = ask(&["--measure", "100-200km/h", "--json"]);
    let answer = json(&args.iter().map(String::as_str).collect::<Vec<_>>());
    let t = answer["logs"][0]["times"][0]["time_s"]["value"].as_f64().unwrap();
    assert!((t - 9.1146).abs() < 0.01, "{t}");
    let args = ask(&["--measure", "0-60mph"]);
    let never = refused(&args.iter().map(String::as_str).collect::<Vec<_>>());
    assert!(never.contains("km/h") && never.contains("pull.csv"), "{never}");
    // one run is not driven in both directions, by whatever name
    let copy = dir.join("other.csv");
    fs::copy(&log, &copy).unwrap();
    for back in [path, copy.to_str().unwrap()] {
        let args = ask(&["--back", back]);
        let twice = refused(&args.iter().map(String::as_str).collect::<Vec<_>>());
        assert!(twice.contains("holds the same 140 speeds to the last digit as "), "{twice}");
        let coasted = refused(&[
            "road",
            "coastdown",
            "--mean-mass",
            "1600kg",
            "--temperature",
            "12C",
            "--pressure",
            "1002hPa",
            "--there",
            path,
            "--back",
            back,
        ]);
        assert!(coasted.contains("one run is no second one"), "{coasted}");
    }
    fs::remove_dir_all(&dir).unwrap();
    // the question's own times come from F = 120 N + 0.35052 N/(m/s)² v²
    let load = json(&["road", "coastdown", "fixtures/road/coast-down-question.toml", "--json"]);
    let f = |i: usize| load["measured_kmh"][i].as_f64().unwrap();
    assert!(
        (f(0) - 120.0).abs() < 0.01 && f(1).abs() < 1e-3 && (f(2) - 0.35052 / 12.96).abs() < 1e-5,
        "{load}"
    );
    insta::assert_snapshot!(refused(&["road", "coastdown", "--mean-mass", "1600kg"]), @"error: temperature: is missing; give e.g. 12C");
}

#[test]
fn a_report_is_never_overwritten_unasked_and_never_half_written() {
    let dir = demo("overwrite");
    let path = dir.join("job.toml");
    let out = dir.join("report");
    let args = ["reduce", path.to_str().unwrap()];
    assert!(done(&args).contains("Written to "));
    let first = fs::read(out.join("result.json")).unwrap();
    let result: serde_json::Value = serde_json::from_slice(&first).unwrap();
    assert_eq!(result["schema"], "fairpull-result-1");
    assert_eq!(result["states"][0]["margins"].as_array().unwrap().len(), 3);
    assert!(result["comparisons"][0]["cost"].as_str().unwrap().starts_with("Power up "));
    assert!(result["comparisons"][0]["stress"].as_array().unwrap().len() >= 4);
    let html = fs::read_to_string(out.join("report.html")).unwrap();
    assert!(html.contains("Knock margin by fuel") && html.contains("Stress at peak power"));
    fs::write(out.join("report.html"), "mine").unwrap();
    let m = refused(&args).replace(&format!("{}/", dir.display()), "");
    insta::assert_snapshot!(m, @r###"error: report: report.html, result.json, curves.csv, gains.csv are there already; use --force to replace, or another folder with --out"###);
    assert_eq!(fs::read_to_string(out.join("report.html")).unwrap(), "mine");
    done(&["reduce", path.to_str().unwrap(), "--force"]);
    assert_eq!(fs::read(out.join("result.json")).unwrap(), first, "same input, same bits");
    let names: Vec<String> =
        fs::read_dir(&out).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    assert_eq!(names.len(), 4, "no part file is left: {names:?}");
    // a file where the folder should be
    let m = refused(&["reduce", path.to_str().unwrap(), "--out", path.to_str().unwrap()]);
    insta::assert_snapshot!(m.replace(&format!("{}/", dir.display()), ""), @r###"error: job.toml: this is a file, not a folder; name another folder with --out"###);
    fs::remove_dir_all(&dir).unwrap();
}
