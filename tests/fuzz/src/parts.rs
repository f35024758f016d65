//! Bytes to numbers and pieces.

use std::fmt::Debug;

use fairpull::road::{Conditions, LogSetup, RoadLoad, SpeedLog};

/// The bytes as text; others are a matter of the reader of files.
#[must_use]
pub fn text(data: &[u8]) -> Option<&str> {
    std::str::from_utf8(data).ok()
}

/// Pieces between markers.
pub fn split<'a>(data: &'a [u8], marker: &'a [u8]) -> impl Iterator<Item = &'a [u8]> {
    let mut rest = Some(data);
    std::iter::from_fn(move || {
        let all = rest?;
        let at = all.windows(marker.len()).position(|w| w == marker);
        rest = at.and_then(|n| all.get(n + marker.len()..));
        Some(at.and_then(|n| all.get(..n)).unwrap_or(all))
    })
}

/// Refuses an answer with a NaN or an infinity in it: JSON would write `null`, which passes for an absent value.
pub fn finite<T: Debug>(answer: &T) {
    let shown = format!("{answer:?}");
    let mut bare = String::new();
    let (mut quoted, mut escaped) = (false, false);
    for c in shown.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            _ if quoted => {}
            _ => bare.push(c),
        }
    }
    let bad = bare.split(|c: char| !c.is_alphanumeric()).find(|w| matches!(*w, "NaN" | "inf"));
    assert!(bad.is_none(), "an answer holds {}: {}", bad.unwrap_or(""), around(&bare));
}

fn around(bare: &str) -> &str {
    let at = bare.find("NaN").or_else(|| bare.find("inf")).unwrap_or(0);
    let from = (0..=at.saturating_sub(200)).rev().find(|n| bare.is_char_boundary(*n)).unwrap_or(0);
    bare.get(from..at + 3).unwrap_or(bare)
}

/// A number of any size from two bytes: mostly ordinary ones, some that are none.
fn number(pair: [u8; 2], scale: f64) -> f64 {
    let n = u16::from_le_bytes(pair);
    match n {
        0xffff => f64::NAN,
        0xfffe => f64::INFINITY,
        0xfffd => f64::NEG_INFINITY,
        0xfffc => 1e308,
        0xfffb => -1.0,
        0xfffa => 5e-324,
        _ => f64::from(n) * scale,
    }
}

fn pairs(bytes: &[u8]) -> impl Iterator<Item = [u8; 2]> {
    bytes.chunks_exact(2).map(|p| [p[0], p[1]])
}

/// A log of speed: three numbers a row.
#[must_use]
pub fn speed_log(bytes: &[u8]) -> SpeedLog {
    let mut log = SpeedLog::default();
    let mut clock = 0.0;
    let with_height = bytes.len() % 2 == 1;
    for row in bytes.chunks_exact(6) {
        let mut p = pairs(row);
        clock += number(p.next().unwrap_or_default(), 1e-4);
        log.time_s.push(clock);
        log.speed_kmh.push(number(p.next().unwrap_or_default(), 5e-3));
        if with_height {
            log.height_m.push(number(p.next().unwrap_or_default(), 1e-2));
        }
    }
    log
}

/// A set-up: an ordinary car where the bytes end.
#[must_use]
pub fn setup(bytes: &[u8]) -> LogSetup {
    let mut p = pairs(bytes);
    let mut next = |scale: f64, ordinary: f64| p.next().map_or(ordinary, |x| number(x, scale));
    LogSetup {
        mass_kg: next(0.1, 1500.0),
        mass_u_kg: 10.0,
        mass_factors: vec![next(1e-4, 1.05)],
        mass_factor_u: 0.01,
        load: RoadLoad {
            f0_n: next(0.01, 150.0),
            f1_n_per_mps: next(1e-3, 0.0),
            f2_n_per_mps2: next(1e-4, 0.4),
            density_kg_per_m3: 1.2,
        },
        f0_u_n: 10.0,
        drag_u_relative: 0.03,
        conditions: Conditions { density_kg_per_m3: 1.2, slope_percent: next(1e-3, 0.0), headwind_mps: 0.0 },
        slope_u_percent: 0.1,
        headwind_u_mps: 0.5,
        speed_scale_u_relative: 0.002,
        curve_step_kmh: next(1e-3, 5.0),
    }
}
