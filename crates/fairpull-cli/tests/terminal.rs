//! Text from outside never commands a terminal: controls at every door, and the bytes that come out.
#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const REPO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");
/// Red, a bell, a turn of the reading direction, one-byte escape (ECMA-48, 5.3), and a line that pretends to be ours.
const DIRTY: &str = "red\u{1b}[31m\u{7}\u{202e}\u{9b}1m\nFORGED done";
/// The same as TOML and JSON write it.
const WRITTEN: &str = "red\\u001b[31m\\u0007\\u202e\\u009b1m\\nFORGED done";

fn run(dir: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fairpull")).args(args).current_dir(dir).output().unwrap()
}

/// Both streams hold no control but line feed and tab, nothing that turns or hides text, and no forged line; something
/// of the dirt must be there, or the test would look at nothing.
fn clean(dir: &Path, args: &[&str]) -> String {
    let o = run(dir, args);
    let mut all = String::new();
    for (stream, bytes) in [("stdout", &o.stdout), ("stderr", &o.stderr)] {
        let text = String::from_utf8(bytes.clone()).unwrap();
        for c in text.chars() {
            let hidden =
                matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}' | '\u{200b}');
            assert!(
                c == '\n' || c == '\t' || !(c.is_control() || hidden),
                "{args:?}: {c:?} on {stream}: {text:?}"
            );
        }
        assert!(
            !text.lines().any(|l| l.starts_with("FORGED")),
            "{args:?}: a forged line on {stream}:\n{text}"
        );
        all += &text;
    }
    assert!(all.contains("red"), "{args:?}: {all}");
    all
}

fn folder(name: &str) -> PathBuf {
    let dir = std::env::temp_dir().join(format!("fairpull-terminal-{}-{name}", std::process::id()));
    let _ = fs::remove_dir_all(&dir);
    fs::create_dir_all(&dir).unwrap();
    dir
}

/// The demo job with a change, in the folder `to`.
fn demo(to: &Path, change: impl Fn(String) -> String) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(Path::new(REPO).join("fixtures/demo")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "csv") {
            fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
        }
    }
    let text = fs::read_to_string(Path::new(REPO).join("fixtures/demo/job.toml")).unwrap();
    fs::write(to.join("job.toml"), change(text)).unwrap();
}

#[test]
fn text_of_a_job() {
    let dir = folder("job");
    let fields = [
        ("\"Roller\"", format!("\"{WRITTEN}\"")),
        ("unit = \"s\"", format!("unit = \"{WRITTEN}\"")),
        ("cylinders = 4", format!("\"{WRITTEN}\" = 4")),
        ("cylinders = 4", format!("cylinders = \"{WRITTEN}\"")),
        ("model = \"coast-down\"", format!("model = \"{WRITTEN}\"")),
        ("standard = \"iso-1585\"", format!("standard = \"{WRITTEN}\"")),
        ("\"sae-j1349\"", format!("\"{WRITTEN}\"")),
        ("ignition = \"spark\"", format!("ignition = \"{WRITTEN}\"")),
        ("\"1950cm3\"", format!("\"{WRITTEN}\"")),
        ("fairpull-job-1", WRITTEN.into()),
        ("before-1.csv", WRITTEN.into()),
        ("\"2026-05-11T10:02:00\"", format!("\"{WRITTEN}\"")),
        // these are accepted, and stand in the summary
        ("Stage package, invented demo", WRITTEN.into()),
        ("\"before\"", format!("\"{WRITTEN}\"")),
        ("Invented data: no real car, shop or person.", WRITTEN.into()),
        ("\"RON 98 MON 88\"", format!("\"{WRITTEN}\"")),
    ];
    for (i, (from, to)) in fields.iter().enumerate() {
        let own = dir.join(i.to_string());
        demo(&own, |t| {
            assert!(t.contains(from), "{from}");
            t.replacen(from, to, 1)
        });
        clean(&own, &["reduce", "job.toml", "--dry-run"]);
        fs::remove_dir_all(own).unwrap();
    }
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn names_of_files_and_folders() {
    let dir = folder("names");
    demo(&dir.join(DIRTY), |t| t.replace("cylinders = 4", "cylinders = \"four\""));
    let job = format!("{DIRTY}/job.toml");
    clean(&dir, &["reduce", &job]);
    let parent = dir.file_name().unwrap().to_str().unwrap();
    clean(&dir, &["reduce", &format!("../{parent}"), "--out", &format!("../{parent}-results")]);
    let _ = fs::remove_dir_all(dir.join(format!("../{parent}-results")));
    clean(&dir, &["reduce", DIRTY]);
    demo(&dir.join("whole"), |t| t);
    let out = format!("o{DIRTY}");
    for args in [
        &["reduce", "whole/job.toml", "--out", &out][..],
        &["reduce", "whole/job.toml", "--out", &out],
        &["reduce", "whole", "--out", &format!("a{DIRTY}")],
        &["reduce", "whole/job.toml", "--out", &job],
    ] {
        clean(&dir, args);
    }
    for command in ["reduce", "columns", "vet", "stress"] {
        clean(&dir, &[command, &format!("none{DIRTY}.toml")]);
        clean(&dir, &[command, DIRTY]);
    }
    for more in
        [&["knock", "--question"][..], &["catalogue", "--declared"], &["road", "predict", "--question"]]
    {
        clean(&dir, &[more, &[&format!("none{DIRTY}.toml")]].concat());
    }
    clean(&dir, &["vet", "--power", "221kW", "--html", &format!("{DIRTY}/job.toml")]);
    fs::remove_dir_all(dir).unwrap();
}

#[test]
fn text_of_a_log() {
    let dir = folder("log");
    // a bell makes it no text file, a line feed another row
    let dirty = DIRTY.replace(['\u{7}', '\n'], "");
    let header = format!("Time [s],{dirty} [km/h],Engine {dirty} [rpm]");
    let rows: String = (0..40).map(|i| format!("{}.{},{i},{}\n", i / 10, i % 10, 100 * i)).collect();
    fs::write(dir.join("log.csv"), format!("{header}\n{rows}")).unwrap();
    let cell = &dirty;
    fs::write(
        dir.join("cells.csv"),
        format!("Time [s],Roller [km/h],red\n0,{cell},{cell}\n1,{cell},2\n2,3,4\n"),
    )
    .unwrap();
    let shown = clean(&dir, &["columns", "log.csv"]);
    clean(&dir, &["columns", "cells.csv"]);
    let (_, proposed) = shown.split_once("every line:\n").unwrap();
    assert!(fairpull::question_file::<Anything>(proposed, "job.toml").is_ok(), "{proposed}");
    let json = run(&dir, &["columns", "log.csv", "--json"]);
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    assert!(
        json["columns"].as_array().unwrap().iter().any(|c| c["name"].as_str().unwrap().contains('\u{1b}'))
    );
    let car = ["--mass", "1500kg", "--load-kmh", "100,0,0.03"];
    for log in ["log.csv", "cells.csv"] {
        clean(&dir, &[&["road", "log", log, "--speed-column", "red"], &car[..]].concat());
        clean(&dir, &[&["road", "log", log, "--speed-column", &format!("{dirty} none")], &car[..]].concat());
        clean(
            &dir,
            &[
                "road",
                "coastdown",
                "--there",
                log,
                "--back",
                log,
                "--mean-mass",
                "1500kg",
                "--temperature",
                "12C",
                "--pressure",
                "1000hPa",
                "--time-column",
                "red",
            ],
        );
    }
    for log in ["log.csv", "cells.csv"] {
        let own = dir.join("own");
        demo(&own, |t| t);
        fs::copy(dir.join(log), own.join("before-1.csv")).unwrap();
        clean(&own, &["reduce", "job.toml", "--dry-run"]);
        fs::remove_dir_all(own).unwrap();
    }
    fs::remove_dir_all(dir).unwrap();
}

/// Any TOML.
struct Anything;

impl fairpull::Field for Anything {
    fn read(_: fairpull_tree::Node) -> Result<Self, fairpull_tree::Fault> {
        Ok(Self)
    }
}

#[test]
fn text_of_claims_questions_and_declared_standards() {
    let dir = folder("texts");
    let claim = fs::read_to_string(Path::new(REPO).join("fixtures/claims/consistent.toml")).unwrap();
    let changes = [
        ("Invented hatch, package one", WRITTEN.to_owned()),
        ("site = \"crank\"", format!("site = \"{WRITTEN}\"")),
        ("ignition = \"spark\"", format!("ignition = \"{WRITTEN}\"")),
        ("\"iso-1585\"", format!("\"{WRITTEN}\"")),
        ("\"221kW\"", format!("\"{WRITTEN}\"")),
        ("fairpull-claim-1", WRITTEN.to_owned()),
        ("cylinders = 4", format!("\"{WRITTEN}\" = 4")),
        ("[stock]", format!("[\"{WRITTEN}\"]")),
    ];
    for (from, to) in &changes {
        assert!(claim.contains(from), "{from}");
        fs::write(dir.join("claim.toml"), claim.replacen(from, to, 1)).unwrap();
        clean(&dir, &["vet", "claim.toml"]);
    }
    for field in ["red", "points", "columns", "car", "pipe", "before", "cycle"] {
        let text = format!("[{field}]\n\"{WRITTEN}\" = 1\n");
        fs::write(dir.join("q.toml"), text).unwrap();
        for args in [
            &["road", "coastdown", "q.toml"][..],
            &["road", "predict", "--question", "q.toml"],
            &["stress", "q.toml"],
            &["knock", "--question", "q.toml"],
        ] {
            clean_or_other(&dir, args);
        }
    }
    fs::write(dir.join("q.json"), format!("{{\"{WRITTEN}\": 1}}")).unwrap();
    clean(&dir, &["stress", "q.json"]);
    let toy = fs::read_to_string(Path::new(REPO).join("docs/declared.md")).unwrap();
    let toy = toy.split("```toml\n").nth(1).unwrap().split("```").next().unwrap();
    for (from, to) in [
        ("\"Toy Standard 1:2001\"\ntitle", format!("\"{WRITTEN}\"\ntitle")),
        ("An invented net-power test", WRITTEN.to_owned()),
        ("edition = \"2001\"", format!("edition = \"{WRITTEN}\"")),
        ("clause = \"5\"", format!("clause = \"{WRITTEN}\"")),
        ("toy-1", WRITTEN.to_owned()),
        ("power-law", WRITTEN.to_owned()),
        ("charged = true", format!("charged = true\n\"{WRITTEN}\" = 1")),
    ] {
        assert!(toy.contains(from), "{from}");
        fs::write(dir.join("toy.toml"), toy.replacen(from, &to, 1)).unwrap();
        let air = ["--pressure", "985hPa", "--temperature", "24C", "--humidity", "50%"];
        clean_or_other(&dir, &["catalogue", "--declared", "toy.toml"]);
        clean_or_other(&dir, &["catalogue", "toy-1", "--declared", "toy.toml"]);
        clean_or_other(&dir, &[&["factors", "--declared", "toy.toml"], &air[..]].concat());
        clean_or_other(
            &dir,
            &[
                &["restate", "400kW", "--from", "toy-1", "--to", "iso-1585", "--declared", "toy.toml"],
                &air[..],
            ]
            .concat(),
        );
    }
    fs::remove_dir_all(dir).unwrap();
}

/// As [`clean`], where the dirt need not be shown.
fn clean_or_other(dir: &Path, args: &[&str]) {
    let o = run(dir, args);
    for text in [o.stdout, o.stderr].map(|b| String::from_utf8(b).unwrap()) {
        assert!(
            text.chars().all(|c| c == '\n' || c == '\t' || !c.is_control() && c != '\u{202e}'),
            "{args:?}: {text:?}"
        );
        assert!(!text.lines().any(|l| l.starts_with("FORGED")), "{args:?}:\n{text}");
    }
}

#[test]
fn text_of_arguments() {
    let dir = folder("arguments");
    let one: &[&[&str]] = &[
        &[DIRTY],
        &["convert", DIRTY, "kW"],
        &["convert", "3kW", DIRTY],
        &["fuel", DIRTY],
        &["knock", DIRTY, "--requirement", "96", "--k", "0"],
        &["knock", "en-228-95", "--requirement", DIRTY],
        &["knock", "en-228-95", "--requirement", "96", "--k", DIRTY],
        &["knock", "en-228-95", "--requirement", "96", "--model", DIRTY],
        &["restate", DIRTY, "--to", "iso-1585"],
        &["restate", "400kW", "--to", DIRTY],
        &["restate", "400kW", "--from", DIRTY, "--to", "observed", "--site", "crank"],
        &["restate", "400kW", "--to", "observed", "--loss", DIRTY, "--site", "wheel", "--from", "observed"],
        &["restate", "400kW", "--to", "observed", "--site", DIRTY],
        &["restate", "400kW", "--to", "observed", "--month", DIRTY],
        &["catalogue", DIRTY],
        &["stress", "--torque", DIRTY],
        &["stress", "--injectors", DIRTY],
        &["air", "--pressure", DIRTY],
        &["air", "--pressure", "985hPa", "--temperature", "20C", "--humidity", DIRTY],
        &[
            "factors",
            "--ignition",
            DIRTY,
            "--pressure",
            "985hPa",
            "--temperature",
            "20C",
            "--humidity",
            "50%",
        ],
        &["vet", "--power", DIRTY],
        &["vet", "--set", DIRTY],
        &["vet", "--set", &format!("engine.{DIRTY}=1")],
        &["vet", "--standard", DIRTY, "--power", "200kW"],
        &["road", "predict", DIRTY, "--mass", "1500kg", "--power", "200kW"],
        &["road", "predict", "--mass", "1500kg", "--power", "200kW", "--curve", DIRTY],
        &["road", "predict", "--mass", "1500kg", "--power", "200kW", "--site", DIRTY],
        &["reduce", "job.toml", "--language", DIRTY],
        &["completions", DIRTY],
    ];
    for args in one {
        clean(&dir, args);
    }
    fs::remove_dir_all(dir).unwrap();
}

/// One door out: no other file of the command writes to a stream, but for the line of progress, which holds numbers.
#[test]
fn only_one_room_writes() {
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        let text = fs::read_to_string(&path).unwrap();
        let writes =
            ["io::stdout()", "io::stderr()", "println!", "print!(", "dbg!("].iter().any(|w| text.contains(w));
        assert_eq!(writes, ["out.rs", "progress.rs"].contains(&name.as_str()), "{name}");
    }
}
