//! One recording given for several is refused, by whatever way it comes; like pulls are not.
#![allow(clippy::panic, clippy::unwrap_used)]

use std::collections::BTreeMap;

use fairpull_core::Catalogue;
use fairpull_reduction::{Job, Outcome, reduce};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures/demo");

struct Case {
    job: String,
    /// In whatever encoding they are.
    logs: BTreeMap<String, Vec<u8>>,
}

fn demo() -> Case {
    let read = |name: &str| std::fs::read(format!("{DEMO}/{name}")).unwrap();
    let logs = ["before", "after"].into_iter().flat_map(|s| (1..=4).map(move |n| format!("{s}-{n}.csv")));
    let job =
        String::from_utf8(read("job.toml")).unwrap().replace("also = [\"sae-j1349\", \"din-70020\"]\n", "");
    Case { job, logs: logs.map(|l| (l.clone(), read(&l))).collect() }
}

impl Case {
    fn first(&self) -> String {
        String::from_utf8(self.logs["before-1.csv"].clone()).unwrap()
    }

    fn with(&mut self, log: &str, text: String) {
        self.logs.insert(log.into(), text.into_bytes());
    }

    fn reduced(&self) -> Result<Outcome, String> {
        let job = Job::parse(&self.job, "job.toml").map_err(|e| e.to_string())?;
        let catalogue = Catalogue::new(fairpull_iso_1585::ALL, fairpull_losses::ALL, &[]).unwrap();
        let mut read =
            |name: &str| Ok(self.logs[name.trim_start_matches("./").trim_start_matches("link/")].clone());
        reduce(&job, &catalogue, &mut read, &mut |_, _| true).map_err(|e| e.to_string())
    }

    fn told(&self) -> String {
        self.reduced().map_or_else(|e| e, |o| format!("{:.1} kW", o.states[0].peak_power.value.value / 1e3))
    }
}

#[test]
fn by_another_path_or_name() {
    for name in ["./before-1.csv", "link/before-1.csv"] {
        let mut case = demo();
        case.job = case.job.replace("\"before-2.csv\"", &format!("\"{name}\""));
        assert!(case.told().contains(" as pull 1 of before-1.csv ("), "{}", case.told());
        assert!(case.told().starts_with(name), "{}", case.told());
    }
    let mut case = demo();
    let first = case.first();
    case.with("before-3.csv", first.clone());
    insta::assert_snapshot!(case.told(), @r#"before-3.csv: pull 1 (2.0 to 8.1 s) holds the same 289 rows to the last digit as pull 1 of before-1.csv (2.0 to 8.1 s): the same pull is no repeat of itself; name each recording once, or leave one out with skip = "reason""#);
    // in the other state, written in other words
    let mut case = demo();
    case.with("after-4.csv", first.replace('\n', "\r\n").replace(',', ";"));
    assert!(case.told().starts_with("after-4.csv: pull 1 ("), "{}", case.told());
    // without its first seconds
    let (header, rows) = first.split_once('\n').unwrap();
    let later: Vec<&str> = rows.lines().skip(60).collect();
    case.with("after-4.csv", format!("{header}\n{}\n", later.join("\n")));
    assert!(case.told().starts_with("after-4.csv: pull 1 ("), "{}", case.told());
}

#[test]
fn appended_to_itself() {
    let mut case = demo();
    let first = case.first();
    let rows = first.split_once('\n').unwrap().1;
    case.with("before-1.csv", format!("{first}{rows}"));
    insta::assert_snapshot!(case.told(), @"before-1.csv: pull 2 (126.3 to 132.4 s) holds the same 289 rows to the last digit as pull 1 (2.0 to 8.1 s): the same pull is no repeat of itself; cut the repetition out of the log");
    // with a clock that goes on
    let last: f64 = first.lines().last().unwrap().split(',').next().unwrap().parse().unwrap();
    let shifted: String = rows
        .lines()
        .map(|l| {
            l.split_once(',')
                .map(|(t, rest)| format!("{:.3},{rest}\n", t.parse::<f64>().unwrap() + last + 5.0))
                .unwrap()
        })
        .collect();
    case.with("before-1.csv", format!("{first}{shifted}"));
    assert!(case.told().starts_with("before-1.csv: pull 2 ("), "{}", case.told());
}

/// One digit of one speed in the pull is another recording; so is the demo as it is.
#[test]
fn like_pulls_are_repeats() {
    let case = demo();
    assert!(case.told().ends_with(" kW"), "{}", case.told());
    let mut case = demo();
    let mut lines: Vec<String> = case.first().lines().map(String::from).collect();
    let fastest = |l: &String| l.split(',').nth(1).and_then(|v| v.parse::<f64>().ok()).unwrap_or(0.0);
    let top = (1..lines.len()).max_by(|a, b| fastest(&lines[*a]).total_cmp(&fastest(&lines[*b]))).unwrap();
    let speed = fastest(&lines[top - 200]);
    let cells: Vec<String> = lines[top - 200]
        .split(',')
        .enumerate()
        .map(|(i, c)| if i == 1 { format!("{}", speed + 0.001) } else { c.to_owned() })
        .collect();
    lines[top - 200] = cells.join(",");
    case.with("before-2.csv", lines.join("\n") + "\n");
    assert!(case.told().ends_with(" kW"), "{}", case.told());
}
