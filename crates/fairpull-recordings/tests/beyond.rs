//! Logs that a program would choke on, made as they are read: a refusal, and little of them is read or held.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use std::io::{Read, Seek, SeekFrom};

use fairpull_recordings::{Column, Layout, Recording, RecordingError, Role, read, read_from};

/// A log that begins so, goes on with one byte for ever, and counts what is read of it.
struct Endless {
    begins: Vec<u8>,
    byte: u8,
    at: u64,
    read: u64,
}

impl Read for Endless {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        into.fill(self.byte);
        let begins = usize::try_from(self.at).ok().and_then(|at| self.begins.get(at..)).unwrap_or(&[]);
        for (b, first) in into.iter_mut().zip(begins) {
            *b = *first;
        }
        self.at += into.len() as u64;
        self.read += into.len() as u64;
        assert!(self.read < 200_000_000, "read on and on");
        Ok(into.len())
    }
}

impl Seek for Endless {
    fn seek(&mut self, to: SeekFrom) -> std::io::Result<u64> {
        if let SeekFrom::Start(n) = to {
            self.at = n;
        }
        Ok(self.at)
    }
}

fn layout() -> Layout {
    Layout::of(vec![
        Column::new(Role::Time, "Time").unit("s"),
        Column::new(Role::EngineSpeed, "Engine").unit("rpm"),
    ])
}

fn endless(begins: impl AsRef<[u8]>, byte: u8) -> String {
    let mut log = Endless { begins: begins.as_ref().to_vec(), byte, at: 0, read: 0 };
    read_from(&mut log, "log.csv", &layout()).map_or_else(|e| e.to_string(), |_| "was read".into())
}

fn rows(n: u32) -> String {
    let rows: String = (0..n).map(|i| format!("{:.2},{}\n", f64::from(i) / 50.0, 2500 + i % 100)).collect();
    format!("Time,Engine\n{rows}")
}

#[test]
fn a_line_without_an_end() {
    insta::assert_snapshot!(endless("", b','), @r#"log.csv:1: the line has no end within 16 MB (it begins ",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,…"); expected lines of at most 16 MB (a row of 100,000 columns takes some 2). Export the log again with one row of numbers a line"#);
    insta::assert_snapshot!(endless("Time,Engine\n0.0,2500\n0.1,2600\n0.2,", b'7'), @r#"log.csv:4: the line has no end within 16 MB (it begins "0.2,77777777777777777777777777777777777777777777777777777777…"); expected lines of at most 16 MB (a row of 100,000 columns takes some 2). Export the log again with one row of numbers a line"#);
    insta::assert_snapshot!(endless(rows(60_000), b'x'), @r#"log.csv:60002: the line has no end within 16 MB (it begins "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…"); expected lines of at most 16 MB (a row of 100,000 columns takes some 2). Export the log again with one row of numbers a line"#);
    // in two bytes a character, of which no zero byte says that this is no text
    let mut wide = vec![0xFF, 0xFE];
    wide.extend("Time,Engine\n0.0,2500\n".bytes().flat_map(|b| [b, 0]));
    insta::assert_snapshot!(endless(&wide, b'0'), @r#"log.csv:3: the line has no end within 16 MB (it begins "〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰〰…"); expected lines of at most 16 MB (a row of 100,000 columns takes some 2). Export the log again with one row of numbers a line"#);
}

#[test]
fn zeros_without_an_end() {
    insta::assert_snapshot!(endless("", 0), @"log.csv: byte 0 is 0x00, so this is not a text file; expected comma, semicolon, tab or bar separated text. Export the log as text (CSV)");
    let head = rows(3);
    assert!(endless(&head, 0).contains(&format!("byte {} is 0x00", head.len())));
    let long = rows(60_000);
    assert!(long.len() > 600_000);
    assert!(endless(&long, 0).contains(&format!("byte {} is 0x00", long.len())), "{}", endless(&long, 0));
}

#[test]
fn more_than_a_million_cells_are_refused() {
    let line = |begins: &str, cells: usize, cell: &str| format!("{begins}{}\n", cell.repeat(cells - 2));
    let log = |cells| {
        let rows: String = (0..2).map(|i| line(&format!("0.{i},2500"), cells, ",1")).collect();
        line("Time,Engine", cells, ",x") + &rows
    };
    let read =
        |cells| -> Result<Recording, RecordingError> { read(log(cells).as_bytes(), "log.csv", &layout()) };
    assert_eq!(read(100_000).expect("a hundred thousand columns").rows, 2);
    insta::assert_snapshot!(read(1_000_001).expect_err("more").to_string(), @"log.csv:1: 1000001 cells in the line, separator comma; expected at most 1000000. Export only the columns that are needed");
}

/// Lines up to the limit are read, in the head and behind it.
#[test]
fn a_long_line_is_read_and_a_longer_one_is_not() {
    let log = |length: usize| {
        let begins = "0.10,2600,";
        let note = "y".repeat(length - begins.len());
        format!("Time,Engine,Note\n0.00,2500,\n{begins}{note}\n0.20,2700,\n")
    };
    let behind = |length: usize| {
        let blanks = " ".repeat(length - "1000.00,2500".len());
        rows(60_000).replace("\n1000.00,2500\n", &format!("\n1000.00,{blanks}2500\n"))
    };
    for log in [&log as &dyn Fn(usize) -> String, &behind] {
        let read = |length| read(log(length).as_bytes(), "log.csv", &layout());
        let r = read(16_000_000).expect("16 MB");
        assert!(r.rows == 3 || r.rows == 60_000, "{}", r.rows);
        let e = read(16_000_001).expect_err("more").to_string();
        assert!(e.contains("no end within 16 MB"), "{e}");
    }
}
