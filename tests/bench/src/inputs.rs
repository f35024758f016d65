//! Invented input.

use std::fmt::Write as _;

use fairpull_recordings::{Column, Layout, Role};

/// A log of 12 columns with this many rows.
#[must_use]
pub fn log(rows: usize) -> String {
    let mut text = String::from(
        "t [s];n [rpm];v [km/h];F [N];thr [%];lambda;p [mbar];iat [°C];clt [°C];oil [°C];egt [°C];ubat [V]\n",
    );
    for i in 0..rows {
        let n = 1500 + i % 5000;
        let f = |step: usize| (i % step) as f64;
        let done = writeln!(
            text,
            "{:.3};{n};{:.2};{:.1};99.5;{:.3};{:.1};34.25;{:.2};95.25;{:.1};13.80",
            i as f64 / 100.0,
            n as f64 * 0.031,
            1500.5 + 0.7 * f(97),
            0.85 + 0.001 * f(11),
            1013.2 + f(700),
            88.5 + 0.01 * f(13),
            650.5 + 0.5 * f(300),
        );
        debug_assert!(done.is_ok());
    }
    text
}

/// Five of its columns.
#[must_use]
pub fn layout() -> Layout {
    let of = |role, name| Column::new(role, name);
    Layout::of(vec![
        of(Role::Time, "t"),
        of(Role::EngineSpeed, "n"),
        of(Role::RollerSpeed, "v"),
        of(Role::BrakeForce, "F"),
        of(Role::Throttle, "thr"),
    ])
}

/// The same five columns by a general-purpose reader: split and converted, nothing checked.
#[must_use]
pub fn plain_read(log: &[u8]) -> Option<Vec<Vec<f64>>> {
    let mut reader = csv::ReaderBuilder::new().delimiter(b';').buffer_capacity(1 << 18).from_reader(log);
    let mut record = csv::ByteRecord::new();
    let mut columns = vec![Vec::new(); 5];
    while reader.read_byte_record(&mut record).ok()? {
        for (i, column) in columns.iter_mut().enumerate() {
            column.push(fast_float2::parse::<f64, _>(record.get(i)?).ok()?);
        }
    }
    Some(columns)
}
