//! Logs whose first rows mislead about separator, decimal sign, header or width.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{Column, Decimal, Layout, Recording, Role, Separator, read};

/// A log of three columns, two of them mapped.
fn layout() -> Layout {
    Layout::of(vec![Column::new(Role::Time, "t").unit("s"), Column::new(Role::RollerSpeed, "v").unit("km/h")])
}

fn told(log: &str) -> Recording {
    match read(log.as_bytes(), "log.csv", &layout()) {
        Ok(recording) => recording,
        Err(e) => panic!("{e}"),
    }
}

fn rows(from: usize, to: usize, row: impl Fn(usize) -> String) -> String {
    (from..to).map(|i| row(i) + "\n").collect()
}

/// Speed in km/h as it was read.
fn speed(r: &Recording, row: usize) -> f64 {
    r.channel(Role::RollerSpeed).expect("mapped").values[row] * 3.6
}

#[test]
fn a_smaller_table_before_the_table() {
    let before = rows(0, 120, |i| format!("{i}.5,{i}.25"));
    let log =
        format!("gear,ratio\n{before}t,v,n\n{}", rows(0, 600, |i| format!("{i}.0,{}.5,2000", 40 + i % 90)));
    let r = told(&log);
    assert_eq!((r.rows, r.format.header_line, r.format.data_line), (600, Some(122), 123));
    assert!((speed(&r, 3) - 43.5).abs() < 1e-9);
}

#[test]
fn decimals_that_come_late() {
    let whole = rows(0, 300, |i| format!("{i};{};7", 40 + i % 90));
    let log = |v: &str| format!("t;v;n\n{whole}{}", rows(300, 900, |i| format!("{i};{v};7")));
    assert_eq!(told(&log("61,5")).format.decimal, Decimal::Comma);
    assert_eq!(told(&log("61.5")).format.decimal, Decimal::Point);
    assert!((speed(&told(&log("61,5")), 700) - 61.5).abs() < 1e-9);
}

#[test]
fn rows_of_one_form_may_differ_in_what_they_tell() {
    // only the zero shows that no thousands are grouped
    let log = |last: &str| format!("t;v;n\n{}{last}", rows(0, 90, |i| format!("1{i:02};61,234;7000")));
    assert_eq!(told(&log("191;01,234;7000\n192;61,234;7000\n")).format.decimal, Decimal::Comma);
    assert!(read(log("191;91,234;7000\n192;61,234;7000\n").as_bytes(), "log.csv", &layout()).is_err());
}

#[test]
fn rows_written_in_turn_by_two_forms() {
    let log = format!(
        "t,v,n\n{}",
        rows(0, 900, |i| {
            let v = 40.0 + f64::from(i as u32) / 16.0;
            if i % 3 == 0 { format!("{i},{v:.1},-1") } else { format!("{i}.25,{v:.4},{i}") }
        })
    );
    let r = told(&log);
    assert_eq!((r.rows, r.time[300], r.time[301]), (900, 300.0, 301.25));
    assert!(
        (0..900)
            .all(|i| (speed(&r, i) - 40.0 - i as f64 / 16.0).abs() < if i % 3 == 0 { 0.06 } else { 1e-9 })
    );
}

#[test]
fn columns_that_are_empty_at_first() {
    let log = format!(
        "t;v;n\n{}{}",
        rows(0, 200, |i| format!("{i}.0;;")),
        rows(200, 900, |i| format!("{i}.0;{};2000", 40 + i % 90))
    );
    let r = told(&log);
    assert_eq!((r.rows, r.format.separator, r.format.decimal), (900, Separator::Semicolon, Decimal::Point));
    assert!(speed(&r, 100).is_nan() && (speed(&r, 210) - 70.0).abs() < 1e-9);
}

#[test]
fn most_numbers_decide_between_two_decimal_signs() {
    let first = rows(0, 100, |i| format!("{i};45;1.5"));
    let log = format!("t;v;n\n{first}{}", rows(100, 900, |i| format!("{i};45,5;1,5")));
    let r = told(&log);
    assert_eq!(r.format.decimal, Decimal::Comma);
    assert!((speed(&r, 800) - 45.5).abs() < 1e-9);
}

#[test]
fn thousands_that_become_clear_late() {
    let log = format!(
        "t;n;v\n{}{}",
        rows(0, 300, |i| format!("{i};1,500;45")),
        rows(300, 900, |i| format!("{i};1,500.5;45"))
    );
    assert_eq!(told(&log).format.decimal, Decimal::Point);
}

#[test]
fn cells_in_quotation_marks_that_begin_late() {
    let log = format!(
        "t,v,n\n{}{}",
        rows(0, 200, |i| format!("{i}.0,45.5,7")),
        rows(200, 900, |i| format!("{i}.0,\"45.5\",\"7,8\""))
    );
    let r = told(&log);
    assert_eq!((r.rows, r.format.separator), (900, Separator::Comma));
    assert!((speed(&r, 800) - 45.5).abs() < 1e-9);
}

#[test]
fn headers_and_units_written_again_change_nothing() {
    let again = "t;v;n\ns;km/h;rpm\n";
    let part = |from, to| rows(from, to, |i| format!("{i},0;{},5;2000", 40 + i % 90));
    let whole = format!("{again}{}", part(0, 900));
    let broken = format!("{again}{}{again}{}{again}{}", part(0, 100), part(100, 400), part(400, 900));
    let (a, b) = (told(&whole), told(&broken));
    assert_eq!((&a.time, &a.channels, &a.format), (&b.time, &b.channels, &b.format));
}
