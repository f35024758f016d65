//! What goes wrong around a long run: kills, full disks, files that move, two runs at once.
//!
//! The quick part runs with every test; the long part (200 kills) by `cargo xtask faults`.
#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod shop;

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant, SystemTime};

use fairpull_archive::{Input, Kind};
use shop::{Shop, same, tree, words};

/// Seeded: the same seed, the same kills (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % n
    }
}

/// Folders of results under a final name, each checked against an undisturbed run: whole, or not there.
fn finished(out: &Path, wanted: &BTreeMap<String, Vec<u8>>) -> BTreeSet<String> {
    let mut found: BTreeMap<String, usize> = BTreeMap::new();
    if !out.exists() {
        return BTreeSet::new();
    }
    for (name, bytes) in tree(out) {
        if name.starts_with(".work/") || name == "archive.lock" {
            continue;
        }
        assert!(wanted.get(&name) == Some(&bytes), "{name}: half a file under a final name");
        if name.starts_with("jobs/") {
            *found.entry(name.rsplit_once('/').unwrap().0.to_owned()).or_default() += 1;
        }
    }
    for (folder, files) in &found {
        assert_eq!(*files, 5, "{folder}: half a folder under a final name");
    }
    found.into_keys().collect()
}

/// Kills so many runs, each at a random time, and goes on from what they left.
fn kills(name: &str, jobs: usize, count: usize, seed: u64) {
    let shop = Shop::with(name, jobs);
    let begun = Instant::now();
    let wanted = shop.undisturbed();
    let whole = begun.elapsed().as_millis() as u64;
    let out = shop.dir.join("out");
    let mut dice = Dice(seed);
    let (mut killed, mut complete, mut early) = (0_usize, 0, 0);
    let mut before = BTreeSet::new();
    while killed < count {
        // mostly early, so that a run is killed again and again; now and then beyond its end
        let most = if dice.below(4) == 0 { 1200 } else { 300 };
        let pause = Duration::from_micros(dice.below(most * whole));
        let mut child = shop.command(&out, &["--threads", "2"]).spawn().unwrap();
        thread::sleep(pause);
        child.kill().unwrap();
        let o = child.wait_with_output().unwrap();
        let now = finished(&out, &wanted);
        assert!(before.is_subset(&now), "lost: {:?}", before.difference(&now));
        match o.status.code() {
            None => {
                killed += 1;
                early += usize::from(now.len() < jobs);
                before = now;
                if killed.is_multiple_of(20) {
                    println!("{killed} kills, {complete} archives completed between");
                }
            }
            Some(1) => {
                same(&tree(&out), &wanted);
                complete += 1;
                fs::remove_dir_all(&out).unwrap();
                before.clear();
            }
            other => panic!("{other:?}: {}", words(&o)),
        }
    }
    let o = shop.run(&out, &[]);
    assert_eq!(o.status.code(), Some(1), "{}", words(&o));
    same(&tree(&out), &wanted);
    println!(
        "{killed} runs killed, {early} of them with jobs open; {complete} archives completed between; every byte as undisturbed"
    );
}

#[test]
fn killed_runs_lose_nothing() {
    kills("kill", 5, 8, 1);
}

#[test]
#[ignore = "minutes; run by cargo xtask faults"]
fn two_hundred_kills_lose_nothing() {
    kills("kills", 8, 200, 20);
}

/// A small disk of its own, if this user may mount one.
struct Disk<'a>(&'a Path);

impl<'a> Disk<'a> {
    fn mount(at: &'a Path, options: &str) -> Option<Self> {
        fs::create_dir_all(at).unwrap();
        let done = Command::new("mount")
            .args(["-t", "tmpfs", "-o", options, "fairpull-test"])
            .arg(at)
            .stderr(Stdio::null())
            .status();
        done.is_ok_and(|s| s.success()).then_some(Self(at))
    }
}

impl Drop for Disk<'_> {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0).status();
    }
}

#[test]
fn a_full_disk_ends_the_run_and_room_lets_it_go_on() {
    let shop = Shop::with("full", 6);
    let wanted = shop.undisturbed();
    let small = shop.dir.join("small");
    let Some(disk) = Disk::mount(&small, "size=1m") else {
        println!("skipped: this user may not mount a small disk");
        return;
    };
    let out = small.join("out");
    let o = shop.run(&out, &[]);
    assert_eq!(o.status.code(), Some(1), "{}", words(&o));
    let said = words(&o);
    assert!(
        said.contains("No space left on device") && said.contains("run the same command again"),
        "{said}"
    );
    let kept = finished(&out, &wanted);
    assert!(!kept.is_empty() && kept.len() < 6, "{kept:?}");
    let more = Command::new("mount").args(["-o", "remount,size=64m"]).arg(&small).status().unwrap();
    assert!(more.success());
    let o = shop.run(&out, &[]);
    assert!(
        words(&o).contains(&format!("6 of 7 jobs finished, {} of them by an earlier run", kept.len())),
        "{}",
        words(&o)
    );
    same(&tree(&out), &wanted);
    drop(disk);
}

#[test]
fn a_limit_on_file_size_leaves_nothing_half_done() {
    let shop = Shop::with("limit", 2);
    let wanted = shop.undisturbed();
    let out = shop.dir.join("out");
    // blocks of 512 bytes: less than a report
    let o = Command::new("sh")
        .args(["-c", "ulimit -f 100; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_fairpull"), "reduce"])
        .arg(shop.archive())
        .arg("--out")
        .arg(&out)
        .output()
        .unwrap();
    assert_ne!(o.status.code(), Some(0), "{}", words(&o));
    assert_eq!(finished(&out, &wanted), BTreeSet::new());
    shop.run(&out, &[]);
    same(&tree(&out), &wanted);
}

#[test]
fn output_that_cannot_be_written_is_said() {
    let shop = Shop::with("unwritable", 1);
    let file = shop.dir.join("in/2025/car-000/job.toml");
    let o = shop.run(&file, &[]);
    assert_eq!(o.status.code(), Some(1));
    assert!(words(&o).contains("this is a file, not a folder; name another with --out"), "{}", words(&o));
    let o = shop.run(&file.join("below"), &[]);
    assert!(words(&o).contains("job.toml/below: cannot be made: "), "{}", words(&o));
    // a folder of something else
    let o = shop.run(&shop.archive(), &[]);
    assert!(words(&o).contains("holds no results of an archive"), "{}", words(&o));
    // somebody's own folder where results belong
    let out = shop.dir.join("out");
    shop.run(&out, &[]);
    let place = out.join("jobs/2025/car-000/job.toml");
    fs::remove_dir_all(&place).unwrap();
    fs::create_dir(&place).unwrap();
    fs::write(place.join("mine.txt"), "mine").unwrap();
    let o = shop.run(&out, &[]);
    assert!(words(&o).contains("mine.txt stands where the results of this job belong"), "{}", words(&o));
    assert_eq!(fs::read_to_string(place.join("mine.txt")).unwrap(), "mine");
    // a full device behind standard output
    for args in [&["--help"][..], &["--version"], &["reduce", "--help"], &["catalogue"]] {
        let Ok(full) = File::options().write(true).open("/dev/full") else {
            println!("skipped: there is no /dev/full");
            return;
        };
        let o = Command::new(env!("CARGO_BIN_EXE_fairpull")).args(args).stdout(full).output().unwrap();
        assert_eq!(o.status.code(), Some(1), "{args:?}: {}", words(&o));
        assert!(words(&o).contains("standard output: No space left on device"), "{args:?}: {}", words(&o));
    }
}

#[test]
fn cut_logs_are_mended_or_refused_and_the_others_done() {
    let shop = Shop::with("cut", 3);
    let logs = |k: usize| shop.dir.join(format!("in/{}/car-{k:03}/before-1.csv", 2025 + k % 2));
    let bytes = fs::read(logs(0)).unwrap();
    // inside the last line, and nothing at all
    fs::write(logs(0), &bytes[..bytes.len() - 15]).unwrap();
    fs::write(logs(1), "").unwrap();
    let o = shop.run(&shop.dir.join("out"), &["--json"]);
    let lines: Vec<serde_json::Value> = String::from_utf8(o.stdout.clone())
        .unwrap()
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    let status = |job: &str| lines.iter().find(|l| l["job"] == job).unwrap()["status"].clone();
    assert_eq!(status("2025/car-000/job.toml"), "done");
    assert_eq!(status("2026/car-001/job.toml"), "refused");
    assert_eq!(status("2025/car-002/job.toml"), "done");
    assert!(words(&o).contains("before-1.csv: the file is empty"), "{}", words(&o));
    let repairs = lines[0]["states"][0]["repair_text"].as_str().unwrap();
    assert!(repairs.contains("before-1.csv: 1 × "), "{repairs}");
}

#[test]
fn a_log_that_grows_gives_what_was_read_or_a_message() {
    let shop = Shop::with("grow", 1);
    let log = shop.dir.join("in/2025/car-000/before-1.csv");
    let all = fs::read(&log).unwrap();
    let last = all.split_inclusive(|b| *b == b'\n').next_back().unwrap();
    let (time, rest) = std::str::from_utf8(last).unwrap().split_once(',').unwrap();
    let mut time: f64 = time.parse().unwrap();
    let out = shop.dir.join("out");
    let stop = AtomicBool::new(false);
    let (mut done, mut refused) = (0, 0);
    thread::scope(|s| {
        s.spawn(|| {
            let mut file = File::options().append(true).open(&log).unwrap();
            while !stop.load(Ordering::Relaxed) {
                time += 0.02;
                file.write_all(format!("{time:.3},{rest}").as_bytes()).unwrap();
                thread::sleep(Duration::from_micros(50));
            }
        });
        for _ in 0..6 {
            let o = shop.run(&out, &[]);
            assert_eq!(o.status.code(), Some(1), "{}", words(&o));
            if words(&o).contains("while it was read") { refused += 1 } else { done += 1 }
        }
        stop.store(true, Ordering::Relaxed);
    });
    println!("{done} done, {refused} told that the log changed");
    // what is finished stands on a beginning of the log, whole lines or a counted repair
    let mark = out.join("jobs/2025/car-000/job.toml/done.json");
    if let Ok(text) = fs::read_to_string(&mark) {
        let mark: serde_json::Value = serde_json::from_str(&text).unwrap();
        let files = mark["inputs"]["files"].as_array().unwrap();
        let used = files.iter().find(|f| f["name"] == "before-1.csv").unwrap();
        let all = fs::read(&log).unwrap();
        let beginning = &all[..used["bytes"].as_u64().unwrap() as usize];
        assert_eq!(used["sha256"], Input::of(Kind::Log, "before-1.csv", beginning).sha256.as_str());
    }
    let o = shop.run(&out, &[]);
    assert!(words(&o).contains("1 of 2 jobs finished"), "{}", words(&o));
    same(&tree(&out), &shop.undisturbed());
}

#[test]
fn two_runs_do_not_share_a_folder() {
    let shop = Shop::with("two", 8);
    let wanted = shop.undisturbed();
    let out = shop.dir.join("out");
    let mut first = shop.command(&out, &["--threads", "1"]).spawn().unwrap();
    let lock = out.join("archive.lock");
    while fs::read(&lock).map_or(true, |b| b.is_empty()) {
        assert!(first.try_wait().unwrap().is_none(), "the first run is over already");
        thread::sleep(Duration::from_millis(1));
    }
    let o = shop.run(&out, &[]);
    assert_eq!(o.status.code(), Some(1));
    let wanted_words = format!(
        "error: {}: another run (process {}) writes this folder; wait until it is done, or name another folder with --out",
        lock.display(),
        first.id()
    );
    assert_eq!(words(&o).trim_end(), wanted_words);
    // a lock whose owner was killed is nobody's
    first.kill().unwrap();
    first.wait().unwrap();
    assert!(!fs::read(&lock).unwrap().is_empty());
    shop.run(&out, &[]);
    same(&tree(&out), &wanted);
}

#[test]
fn clocks_do_not_matter() {
    let shop = Shop::with("clock", 2);
    let out = shop.dir.join("out");
    let wanted = shop.undisturbed();
    shop.run(&out, &[]);
    let day = Duration::from_secs(86_400);
    let set = |path: &Path, time: SystemTime| {
        File::options().append(true).open(path).unwrap().set_modified(time).unwrap();
    };
    for (name, _) in tree(&shop.archive()) {
        set(&shop.archive().join(name), SystemTime::now() + 4000 * day);
    }
    for (name, _) in tree(&out) {
        set(&out.join(name), SystemTime::now() + 8000 * day);
    }
    let o = shop.run(&out, &[]);
    assert!(words(&o).contains("2 of 3 jobs finished, 2 of them by an earlier run"), "{}", words(&o));
    same(&tree(&out), &wanted);
    // another content under an older date
    let log = shop.dir.join("in/2025/car-000/before-2.csv");
    let text = fs::read_to_string(&log).unwrap();
    let cut = text.len() - text.lines().last().unwrap().len() - 1;
    fs::write(&log, &text[..cut]).unwrap();
    set(&log, SystemTime::UNIX_EPOCH + 4000 * day);
    let o = shop.run(&out, &[]);
    assert!(
        words(&o).contains("note: 2025/car-000/job.toml: reduced again, for before-2.csv changed"),
        "{}",
        words(&o)
    );
}
