//! A run over an archive leaves alone what is not its own, and is stopped by nothing that lies in its way.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod shop;

use std::fs;
use std::path::Path;
use std::process::Command;

use shop::{Shop, tree, words};

const PLACE: &str = "jobs/2025/car-000/job.toml";

fn retitle(shop: &Shop) {
    let job = shop.dir.join("in/2025/car-000/job.toml");
    let text = fs::read_to_string(&job).unwrap();
    fs::write(&job, text.replace("Package 0", "Package zero")).unwrap();
}

#[test]
fn what_is_no_result_is_never_replaced() {
    let shop = Shop::with("others", 2);
    let out = shop.dir.join("out");
    let place = out.join(PLACE);
    let refused = |more: &[&str], name: &str| {
        let o = shop.run(&out, more);
        assert_eq!(o.status.code(), Some(1), "{}", words(&o));
        assert!(
            words(&o).contains(&format!("{name} stands where the results of this job belong")),
            "{}",
            words(&o)
        );
        // the other job is done all the same, and so are table and listing
        assert!(words(&o).contains("1 of 3 jobs finished"), "{}", words(&o));
        assert!(fs::read_to_string(out.join("failures.jsonl")).unwrap().contains(name));
    };
    shop.run(&out, &[]);
    // beside results that have to be made again
    retitle(&shop);
    fs::write(place.join("invoice.txt"), "mine").unwrap();
    for more in [&[][..], &["--force"]] {
        refused(more, "invoice.txt");
        assert_eq!(fs::read_to_string(place.join("invoice.txt")).unwrap(), "mine");
        assert!(place.join("report.html").exists());
    }
    // in their place, as a folder and as a file
    fs::remove_dir_all(&place).unwrap();
    fs::create_dir_all(place.join("other.toml")).unwrap();
    refused(&["--force"], "other.toml");
    fs::remove_dir_all(&place).unwrap();
    fs::write(&place, "mine").unwrap();
    for more in [&[][..], &["--force"]] {
        refused(more, "a file or a link");
        assert_eq!(fs::read_to_string(&place).unwrap(), "mine");
    }
    // above it
    fs::remove_dir_all(out.join("jobs/2025")).unwrap();
    fs::write(out.join("jobs/2025"), "mine").unwrap();
    let o = shop.run(&out, &[]);
    assert!(
        words(&o).contains("1 of 3 jobs finished, 1 of them by an earlier run; 2 refused."),
        "{}",
        words(&o)
    );
    assert_eq!(fs::read_to_string(out.join("jobs/2025")).unwrap(), "mine");
}

#[test]
fn a_folder_with_a_lock_of_somebody_else_is_not_taken() {
    let shop = Shop::with("lock", 1);
    let other = shop.dir.join("other");
    fs::create_dir_all(other.join(".work/x")).unwrap();
    fs::write(other.join("data.db"), "theirs").unwrap();
    for content in ["theirs", "fairpull archives", ""] {
        fs::write(other.join("archive.lock"), content).unwrap();
        let before = tree(&other);
        let o = shop.run(&other, &[]);
        assert_eq!(o.status.code(), Some(1));
        assert!(words(&o).contains("holds no results of an archive"), "{}", words(&o));
        assert_eq!(tree(&other), before);
        assert!(other.join(".work/x").exists());
    }
    // a lock made a moment before the run was killed
    let out = shop.dir.join("out");
    fs::create_dir_all(out.join(".work")).unwrap();
    fs::write(out.join("archive.lock"), "").unwrap();
    assert!(words(&shop.run(&out, &[])).contains("1 of 2 jobs finished"));
    assert_eq!(fs::read_to_string(out.join("archive.lock")).unwrap(), "fairpull archive\n");
}

#[test]
fn an_altered_mark_is_not_believed() {
    let shop = Shop::with("mark", 1);
    let out = shop.dir.join("out");
    shop.run(&out, &[]);
    let mark = out.join(PLACE).join("done.json");
    let (whole, before) = (fs::read_to_string(&mark).unwrap(), tree(&out));
    let value: serde_json::Value = serde_json::from_str(&whole).unwrap();
    let altered = |change: &dyn Fn(&mut serde_json::Value)| {
        let mut v = value.clone();
        change(&mut v);
        serde_json::to_string_pretty(&v).unwrap()
    };
    for text in [
        altered(&|v| v["rows"][0]["peak_power_kw"] = 999.into()),
        altered(&|v| v["rows"] = serde_json::json!([])),
        altered(&|v| v["results"] = serde_json::json!([])),
        altered(&|v| v["fingerprint"] = "0".into()),
        altered(&|v| v["seal"] = "".into()),
    ] {
        assert_ne!(text, whole);
        fs::write(&mark, text).unwrap();
        let o = shop.run(&out, &[]);
        assert!(words(&o).contains("reduced again, for done.json changed"), "{}", words(&o));
        assert!(tree(&out) == before);
    }
}

/// Pipes have no end until somebody writes; links may share a job text but not its logs.
#[cfg(unix)]
#[test]
fn pipes_are_refused_and_links_followed() {
    use std::os::unix::fs::symlink;
    let shop = Shop::with("pipes", 1);
    let out = shop.dir.join("out");
    let pipe = |path: &Path| {
        fs::remove_file(path).unwrap();
        assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    };
    shop.run(&out, &[]);
    for name in ["report.html", "done.json"] {
        pipe(&out.join(PLACE).join(name));
        let o = shop.run(&out, &[]);
        assert!(words(&o).contains(&format!("reduced again, for {name} changed")), "{}", words(&o));
    }
    let log = shop.dir.join("in/2025/car-000/after-1.csv");
    let kept = fs::read(&log).unwrap();
    for zero in [false, true] {
        fs::remove_file(&log).unwrap();
        symlink("/dev/zero", &log).unwrap();
        if !zero {
            pipe(&log);
        }
        let o = shop.run(&out, &[]);
        assert!(words(&o).contains("this is a device or a pipe, not a file"), "{}", words(&o));
    }
    fs::remove_file(&log).unwrap();
    fs::write(&log, kept).unwrap();
    // one job text for two folders of logs
    let (first, second) = (shop.dir.join("in/2025/car-000"), shop.dir.join("in/2025/car-100"));
    fs::create_dir(&second).unwrap();
    for log in ["before-1.csv", "before-2.csv", "after-1.csv"] {
        fs::copy(first.join(log), second.join(log)).unwrap();
    }
    symlink(first.join("job.toml"), second.join("job.toml")).unwrap();
    let o = shop.run(&out, &[]);
    assert!(words(&o).contains("refused: 2025/car-100/job.toml"), "{}", words(&o));
    assert!(words(&o).contains("after-2.csv"), "{}", words(&o));
    // a lock that leads elsewhere
    let (away, elsewhere) = (shop.dir.join("away"), shop.dir.join("elsewhere.txt"));
    fs::create_dir(&away).unwrap();
    fs::write(&elsewhere, "mine").unwrap();
    symlink(&elsewhere, away.join("archive.lock")).unwrap();
    let o = shop.run(&away, &[]);
    assert!(words(&o).contains("holds no results of an archive"), "{}", words(&o));
    assert_eq!(fs::read_to_string(&elsewhere).unwrap(), "mine");
}
