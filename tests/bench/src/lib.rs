//! Measuring: ours and its limit by turns in one run, so that a busy machine slows both.
#![forbid(unsafe_code)]

pub mod bare;
pub mod inputs;
pub mod table;
pub mod typed;

use std::time::Instant;

/// Takes a value as if it were used.
pub fn keep<T>(value: T) {
    let _ = std::hint::black_box(value);
}

/// Time that this thread has had a processor, s; the wall clock where the system does not say.
fn processor_time() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    text.split(' ').next()?.parse::<f64>().ok().map(|ns| ns * 1e-9)
}

/// Seconds of one call: processor time where the call is long enough for that clock, which the system moves on in
/// steps of some milliseconds; the wall clock else.
fn seconds(work: &mut dyn FnMut()) -> f64 {
    let (wall, processor) = (Instant::now(), processor_time());
    work();
    let wall = wall.elapsed().as_secs_f64();
    let processor = processor.zip(processor_time()).map(|(before, after)| after - before);
    processor.filter(|p| *p > 0.05).unwrap_or(wall)
}

/// Shortest of `rounds` calls of each of several works, by turns, after one call that warms the caches; s.
pub fn by_turns<const N: usize>(rounds: usize, mut works: [&mut dyn FnMut(); N]) -> [f64; N] {
    let mut best = [f64::INFINITY; N];
    for round in 0..=rounds {
        for (work, best) in works.iter_mut().zip(&mut best) {
            let took = seconds(*work);
            if round > 0 {
                *best = best.min(took);
            }
        }
    }
    best
}
