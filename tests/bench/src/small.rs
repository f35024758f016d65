//! Single calls, each beside the same arithmetic and the same checks on bare numbers.

use std::hint::black_box as see;

use fairpull_bench::table::Line;
use fairpull_bench::{bare, by_turns, keep, typed};
use fairpull_core::Factor;
use fairpull_units::{Dimension, Unit};

const CALLS: usize = 20_000;
const ROUNDS: usize = 60;

fn pair(what: &'static str, limit: &'static str, ours: &mut dyn FnMut(f64), bare: &mut dyn FnMut(f64)) {
    let work = |call: &mut dyn FnMut(f64)| (0..CALLS).for_each(|i| call((i % 64) as f64));
    let [ours, limited] = by_turns(ROUNDS, [&mut || work(ours), &mut || work(bare)]);
    let limit = Some((limit, limited));
    Line { what, units: CALLS as f64, unit: "call", ours, limit }.print();
}

pub fn run() {
    pair(
        "correction factor (air checked, ISO 1585)",
        "bare numbers, same checks",
        &mut |x| keep(&typed::factor(see(98.0 + 0.1 * x), see(20.0), see(1.2))),
        &mut |x| keep(bare::checked_factor(see(98.0 + 0.1 * x), see(20.0), see(1.2))),
    );
    pair(
        "correction factor (air checked, ISO 1585)",
        "bare numbers, unchecked",
        &mut |x| keep(&typed::factor(see(98.0 + 0.1 * x), see(20.0), see(1.2))),
        &mut |x| keep(bare::factor(see(96.8 + 0.1 * x), see(20.0))),
    );
    pair(
        "moist air from relative humidity",
        "bare numbers, same checks",
        &mut |x| keep(&typed::moist_air(see(98.5), see(10.0 + 0.3 * x), see(0.55))),
        &mut |x| keep(bare::moist_air(see(98.5), see(10.0 + 0.3 * x), see(0.55))),
    );
    let find = |word| Unit::find_in(word, Dimension::Power);
    let (Some(from), Some(to)) = (find("PS"), find("kW")) else { return };
    let (f, t) = ([735.498_75, 1.0, 0.0], [1000.0, 1.0, 0.0]);
    pair(
        "unit conversion, PS to kW",
        "bare numbers",
        &mut |x| keep(typed::converted(see(x), see(from), see(to))),
        &mut |x| keep(bare::converted(see(x), see(&f), see(&t))),
    );
    let factor = Factor::plain(1.037);
    pair(
        "one corrected figure",
        "bare numbers",
        &mut |x| keep(typed::corrected(see(x), see(&factor))),
        &mut |x| keep(bare::corrected(see(x), see(1.037))),
    );
    pair(
        "power from torque and speed",
        "bare numbers",
        &mut |x| keep(typed::power(see(x), see(500.0))),
        &mut |x| keep(bare::power(see(x), see(500.0))),
    );
}
