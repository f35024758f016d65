//! Slices corrected, beside what the memory gives.

use std::hint::black_box as see;

use fairpull_bench::table::Line;
use fairpull_bench::{bare, by_turns, keep, typed};
use fairpull_core::{Factor, Room};

pub fn run() {
    million(1_000_000, ["corrected slice, 1 million samples", "copy, scale and triad, 1 million numbers"]);
    million(16_000_000, ["corrected slice, 16 million samples", "copy, scale and triad, 16 million numbers"]);
}

/// As the STREAM kernels (McCalpin, 1995): bytes read and written, the line that a write fetches not counted.
fn million(n: usize, [what, kernels]: [&'static str; 2]) {
    let from: Vec<f64> = (0..n).map(|i| 50_000.0 + (i % 1000) as f64).collect();
    let other = from.clone();
    let (mut a, mut b, mut c) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    let mut room = vec![Room::EMPTY; n];
    let factor = Factor::plain(1.037);
    let rounds = 60_000_000 / n;
    let [ours, hand, copy, triad] = by_turns(
        rounds,
        [
            &mut || keep(typed::scale(see(&from), see(&mut room), see(&factor))),
            &mut || bare::scale(see(&from), see(&mut a), see(1.037)),
            &mut || see(&mut b).copy_from_slice(see(&from)),
            &mut || {
                for ((c, a), b) in see(&mut c).iter_mut().zip(see(&from)).zip(see(&other)) {
                    *c = a + 1.037 * b;
                }
            },
        ],
    );
    let (count, sixteen) = (n as f64, 16.0 * n as f64);
    let fastest = [sixteen / copy, sixteen / hand, 1.5 * sixteen / triad].into_iter().fold(0.0, f64::max);
    let line = |limit| Line { what, units: count, unit: "sample", ours, limit: Some(limit) }.print();
    line(("loop over bare numbers", hand));
    line(("16 bytes at the best of the three rates below", sixteen / fastest));
    let rate = |bytes: f64, s: f64| bytes / s / 1e9;
    println!(
        "| {kernels} | {:.1}, {:.1}, {:.1} GB/s | | |",
        rate(sixteen, copy),
        rate(sixteen, hand),
        rate(1.5 * sixteen, triad)
    );
}
