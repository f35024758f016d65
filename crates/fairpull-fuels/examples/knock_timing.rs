//! Times one margin and a map of 50 x 50 points on one core: `cargo run --release --example knock_timing`.

use std::hint::black_box;
use std::time::Instant;

use fairpull_core::KnockModel;
use fairpull_fuels::{Choices, EndGas, knock_limited_starts, requirement_map};

/// Median time of one call, ms.
fn median(repeats: usize, mut call: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..repeats)
        .map(|_| {
            let start = Instant::now();
            call();
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times.get(repeats / 2).copied().unwrap_or(f64::NAN)
}

fn main() {
    let (fuel, mut point) = EndGas::REFERENCE.card().example;
    let at_anchor = median(200, || {
        let _ = black_box(EndGas::REFERENCE.margin(black_box(&fuel), black_box(&point)));
    });
    println!("one margin at its anchor: {at_anchor:.3} ms");
    if let Some(cycle) = point.cycle.as_mut() {
        cycle.ivc_pressure += 2.0e4;
        cycle.burn_start -= 3.0;
    }
    let away = median(200, || {
        let _ = black_box(EndGas::REFERENCE.margin(black_box(&fuel), black_box(&point)));
    });
    println!("one margin away from its anchor, with degrees of spark: {away:.3} ms");
    let Some(cycle) = point.cycle else { return };
    let starts: Vec<f64> = (0..50).map(|i| -20.0 + 0.6 * f64::from(i)).collect();
    let pressures: Vec<f64> = (0..50).map(|i| 1.2e5 + 3.0e3 * f64::from(i)).collect();
    let mut out = vec![0.0; 2500];
    let map = median(5, || {
        let _ = black_box(requirement_map(&cycle, &Choices::REFERENCE, &starts, &pressures, &mut out));
    });
    println!("map of 50 x 50: {:.3} s", map / 1e3);
    let mut limits = [None; 50];
    let full = median(5, || {
        let _ = black_box(requirement_map(&cycle, &Choices::REFERENCE, &starts, &pressures, &mut out));
        let _ = black_box(knock_limited_starts(&cycle, &Choices::REFERENCE, 97.0, &pressures, &mut limits));
    });
    println!("map of 50 x 50 with the knock-limited start of every row: {:.3} s", full / 1e3);
}
