//! Many jobs into one folder: what is found, done, kept, told, and the table read back.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod shop;

use std::fs;
use std::process::Command;

use shop::{REPO, Shop, same, tree, words};

#[test]
fn threads_change_no_byte_and_one_job_is_as_ever() {
    let shop = Shop::with("threads", 5);
    let wanted = shop.undisturbed();
    for threads in ["1", "3", "16"] {
        let out = shop.dir.join(threads);
        let o = shop.run(&out, &["--threads", threads]);
        assert_eq!(o.status.code(), Some(1), "{}", words(&o));
        same(&tree(&out), &wanted);
    }
    // the same figures as the job alone gives
    let alone = shop.dir.join("alone");
    let job = shop.dir.join("in/2025/car-000/job.toml");
    let o = Command::new(env!("CARGO_BIN_EXE_fairpull"))
        .arg("reduce")
        .arg(&job)
        .arg("--out")
        .arg(&alone)
        .output()
        .unwrap();
    assert!(o.status.success(), "{}", words(&o));
    let csv = fs::read(alone.join("curves.csv")).unwrap();
    assert!(wanted["jobs/2025/car-000/job.toml/curves.csv"] == csv);
}

#[test]
fn finished_jobs_are_kept_changed_ones_redone_and_refused_ones_listed() {
    let shop = Shop::with("resume", 3);
    let out = shop.dir.join("out");
    let o = shop.run(&out, &[]);
    let said = words(&o);
    assert!(
        said.contains("3 of 4 jobs finished; 1 refused.") && said.contains("table.parquet (6 rows)"),
        "{said}"
    );
    assert!(
        said.contains("refused: 2025/refused.job.toml\nerror: ")
            && said.contains("job file: missing field `vehicle`"),
        "{said}"
    );
    let listing = fs::read_to_string(out.join("failures.jsonl")).unwrap();
    let failure: serde_json::Value = serde_json::from_str(listing.trim_end()).unwrap();
    assert_eq!(failure["job"], "2025/refused.job.toml");
    assert!(failure["message"].as_str().unwrap().contains("refused.job.toml:1:1"), "{failure}");
    let before = tree(&out);
    let o = shop.run(&out, &[]);
    assert!(
        words(&o).contains("3 of 4 jobs finished, 3 of them by an earlier run; 1 refused."),
        "{}",
        words(&o)
    );
    same(&tree(&out), &before);
    // a result that was lost or spoilt is made again
    fs::write(out.join("jobs/2025/car-000/job.toml/gains.csv"), "spoilt").unwrap();
    fs::remove_file(out.join("jobs/2026/car-001/job.toml/report.html")).unwrap();
    let o = shop.run(&out, &[]);
    let said = words(&o);
    assert!(said.contains("note: 2025/car-000/job.toml: reduced again, for gains.csv changed"), "{said}");
    assert!(said.contains("note: 2026/car-001/job.toml: reduced again, for report.html changed"), "{said}");
    same(&tree(&out), &before);
    // a standard more is another input of every job
    let one = std::path::Path::new(REPO).join("fixtures/declared/fifteen-lines.toml");
    let o = shop.run(&out, &["--declared", one.to_str().unwrap()]);
    let name = one.file_name().unwrap().to_str().unwrap();
    assert!(
        words(&o).contains(&format!("car-002/job.toml: reduced again, for {name} changed")),
        "{}",
        words(&o)
    );
    // the page in another language: no figure and no row of the table moves
    let o = shop.run(&out, &["--language", "de"]);
    assert!(
        words(&o).contains("car-000/job.toml: reduced again, for fifteen-lines.toml, the language changed"),
        "{}",
        words(&o)
    );
    assert!(tree(&out)["table.parquet"] == before["table.parquet"]);
    // all again
    let o = shop.run(&out, &["--force"]);
    assert!(words(&o).contains("3 of 4 jobs finished; 1 refused."), "{}", words(&o));
    same(&tree(&out), &before);
    // a job whose inputs went bad is refused, and its earlier results stay
    fs::remove_file(shop.dir.join("in/2025/car-002/after-1.csv")).unwrap();
    let o = shop.run(&out, &[]);
    assert!(
        words(&o).contains("2 of 4 jobs finished, 2 of them by an earlier run; 2 refused."),
        "{}",
        words(&o)
    );
    assert!(words(&o).contains("table.parquet (4 rows)"), "{}", words(&o));
    assert!(out.join("jobs/2025/car-002/job.toml/result.json").exists());
}

/// The same archive in two places: not a byte of the results tells them apart, the messages included.
#[test]
fn where_the_archive_lies_shows_nowhere() {
    let spoilt = |name: &str| {
        let shop = Shop::with(name, 4);
        let inside = |place: &str| shop.dir.join("in").join(place);
        fs::remove_file(inside("2025/car-000/after-1.csv")).unwrap();
        fs::write(inside("2026/car-001/before-1.csv"), "").unwrap();
        fs::write(inside("2025/car-002/job.toml"), b"title = \"\xFF\"").unwrap();
        let out = shop.dir.join("out");
        let o = shop.run(&out, &[]);
        assert!(words(&o).contains("1 of 5 jobs finished; 4 refused."), "{}", words(&o));
        let at = shop.dir.to_string_lossy().into_owned();
        let listing = fs::read_to_string(out.join("failures.jsonl")).unwrap();
        assert!(!listing.contains(&at), "{listing}");
        assert!(listing.contains("2025/car-002/job.toml:1:10: this is not UTF-8 text"), "{listing}");
        assert!(listing.contains(" 2025/car-000/job.toml:"), "{listing}");
        tree(&out)
    };
    same(&spoilt("here"), &spoilt("somewhere-else"));
}

#[test]
fn what_is_found_and_what_is_refused() {
    let shop = Shop::with("find", 1);
    let archive = shop.archive();
    let job = archive.join("2025/car-000/job.toml");
    let run = |args: &[&str]| {
        let o = Command::new(env!("CARGO_BIN_EXE_fairpull"))
            .current_dir(&shop.dir)
            .arg("reduce")
            .args(args)
            .output()
            .unwrap();
        (o.status.code(), words(&o))
    };
    // passed over: hidden folders, other names; taken: *.job.toml beside job.toml
    fs::create_dir(archive.join(".old")).unwrap();
    fs::copy(&job, archive.join(".old/job.toml")).unwrap();
    fs::copy(&job, archive.join("2025/car-000/notes.toml")).unwrap();
    fs::copy(&job, archive.join("2025/car-000/again.job.toml")).unwrap();
    fs::remove_file(archive.join("2025/refused.job.toml")).unwrap();
    let (status, said) = run(&["in", "--dry-run", "--json"]);
    assert_eq!(status, Some(0), "{said}");
    let jobs: Vec<String> = said
        .lines()
        .map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap()["job"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(jobs, ["2025/car-000/again.job.toml", "2025/car-000/job.toml"]);
    // files that are named keep their path; the same file twice is one job
    let file = "in/2025/car-000/job.toml";
    let (_, said) = run(&[file, "./in/2025/car-000/job.toml", "in/2025/car-000/notes.toml", "--out", "out"]);
    assert!(said.contains("2 of 2 jobs finished."), "{said}");
    assert!(shop.dir.join("out/jobs/in/2025/car-000/notes.toml/result.json").exists());
    // two jobs of one name
    fs::create_dir_all(shop.dir.join("other/2025/car-000")).unwrap();
    fs::copy(&job, shop.dir.join("other/2025/car-000/job.toml")).unwrap();
    let (_, said) = run(&["in", "other", "--out", "out"]);
    assert_eq!(
        said.trim_end(),
        "error: in/2025/car-000/job.toml and other/2025/car-000/job.toml would both put their results into \
         2025/car-000/job.toml; name a folder above both, or use two --out folders"
    );
    fs::create_dir(shop.dir.join("empty")).unwrap();
    let (_, said) = run(&["empty", "--out", "out"]);
    assert_eq!(
        said.trim_end(),
        "error: empty: no job lies in this folder or below it; looked for job.toml and *.job.toml"
    );
    let (_, said) = run(&["in", "nowhere", "--out", "out"]);
    assert_eq!(said.trim_end(), "error: nowhere: there is no such file");
    let (status, said) = run(&["in", "other"]);
    assert_eq!(status, Some(2));
    assert_eq!(said.trim_end(), "error: 2 jobs or folders of them; say where the results go with --out DIR");
    assert_eq!(run(&["in", "--out", "out", "--threads", "0"]).0, Some(2));
}

/// The table against the JSON lines of the same run, read by the reader of the library that wrote it.
#[cfg(feature = "parquet")]
#[test]
fn the_table_reads_back() {
    use parquet::file::reader::{FileReader, SerializedFileReader};
    use parquet::record::Field;

    let shop = Shop::with("table", 3);
    let out = shop.dir.join("out");
    let o = shop.run(&out, &["--json"]);
    let lines: Vec<serde_json::Value> =
        String::from_utf8(o.stdout).unwrap().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    let told: Vec<&serde_json::Value> =
        lines.iter().filter_map(|l| l["states"].as_array()).flatten().collect();
    assert_eq!(told.len(), 6);
    let file = fs::File::open(out.join("table.parquet")).unwrap();
    let reader = SerializedFileReader::new(file).unwrap();
    let notes: std::collections::BTreeMap<String, String> = reader
        .metadata()
        .file_metadata()
        .key_value_metadata()
        .unwrap()
        .iter()
        .map(|k| (k.key.clone(), k.value.clone().unwrap()))
        .collect();
    assert_eq!(notes["column:peak_power_kw"], "[kW] corrected peak power");
    let rows: Vec<_> = reader.get_row_iter(None).unwrap().map(Result::unwrap).collect();
    assert_eq!(rows.len(), told.len());
    for (row, told) in rows.iter().zip(told) {
        let mut columns = 0;
        for (name, field) in row.get_column_iter() {
            let json = &told[name.as_str()];
            let same = match field {
                Field::Null => json.is_null(),
                Field::Str(s) => json == s.as_str(),
                Field::Double(x) => json.as_f64().unwrap().to_bits() == x.to_bits(),
                Field::Int(n) => json == *n,
                Field::Bool(b) => json == *b,
                Field::TimestampMillis(t) | Field::Long(t) => json == *t,
                _ => false,
            };
            assert!(same, "{name}: {field:?} {json}");
            columns += 1;
        }
        assert_eq!(columns, fairpull_archive::COLUMNS.len());
    }
    // the figures are those of the result
    let result: serde_json::Value =
        serde_json::from_slice(&fs::read(out.join("jobs/2025/car-000/job.toml/result.json")).unwrap())
            .unwrap();
    let (state, row) = (&result["states"][1], &lines[0]["states"][1]);
    assert_eq!(row["peak_power_kw"], state["peak_power"]["value"]);
    assert_eq!(row["mean_gain_lo95_percent"], result["comparisons"][0]["mean_gain_percent"]["lo95"]);
    assert_eq!(row["pulls"], 2);
    // 11 May 2026, 10:02, of the first state; the other is on the 13th
    assert_eq!(lines[0]["states"][0]["started"], 1_778_493_720_000_i64);
    // half the interval over the standard uncertainty is a coverage factor: 1.96 at many degrees of freedom, more at few
    let of = |name: &str| row[name].as_f64().unwrap();
    let k = (of("peak_power_hi95_kw") - of("peak_power_lo95_kw")) / 2.0 / of("peak_power_u_kw");
    assert!((1.95..4.5).contains(&k), "{k}");
}
