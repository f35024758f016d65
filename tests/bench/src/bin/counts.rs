//! Calls a function many times, for an instruction counter: `counts NAME CALLS`. The count of a run with calls less
//! that of a run without, over the calls, is the cost of one call.
#![forbid(unsafe_code)]

use std::hint::black_box as see;
use std::process::ExitCode;

use fairpull_bench::{bare, keep, typed};
use fairpull_core::{Charging, Engine, Factor, Ignition, Room};
use fairpull_units::{Dimension, Unit};

const SLICE: usize = 1000;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [name, calls] = words.as_slice() else { return ExitCode::from(2) };
    let Ok(calls) = calls.parse::<u32>() else { return ExitCode::from(2) };
    let factor = Factor::plain(1.037);
    let find = |word| Unit::find_in(word, Dimension::Power);
    let (Some(from), Some(to)) = (find("PS"), find("kW")) else { return ExitCode::FAILURE };
    let (f, t) = ([735.498_75, 1.0, 0.0], [1000.0, 1.0, 0.0]);
    let catalogue = fairpull::builtin();
    let engine = Engine::new(Ignition::Spark, Charging::None);
    let (Some(asked), Ok(air)) = (catalogue.standard("din-70020"), typed::air(98.0, 20.0, 1.2)) else {
        return ExitCode::FAILURE;
    };
    let samples = vec![81_000.0; SLICE];
    let (mut plain, mut room) = (vec![0.0; SLICE], vec![Room::EMPTY; SLICE]);
    // chosen before the loop, so that only the calls are counted
    let mut call: Box<dyn FnMut()> = match name.as_str() {
        "factor" => Box::new(|| keep(&typed::factor(see(98.0), see(20.0), see(1.2)))),
        "factor-bare" => Box::new(|| keep(bare::checked_factor(see(98.0), see(20.0), see(1.2)))),
        "factor-unchecked" => Box::new(|| keep(bare::factor(see(96.8), see(20.0)))),
        "catalogue" => Box::new(|| keep(&see(asked).factor(see(&air), see(&engine)))),
        "moist-air" => Box::new(|| keep(&typed::moist_air(see(98.5), see(20.0), see(0.55)))),
        "moist-air-bare" => Box::new(|| keep(&bare::moist_air(see(98.5), see(20.0), see(0.55)))),
        "conversion" => Box::new(|| keep(typed::converted(see(530.0), see(from), see(to)))),
        "conversion-bare" => Box::new(|| keep(bare::converted(see(530.0), see(&f), see(&t)))),
        "corrected" => Box::new(|| keep(typed::corrected(see(81_000.0), see(&factor)))),
        "corrected-bare" => Box::new(|| keep(bare::corrected(see(81_000.0), see(1.037)))),
        "power" => Box::new(|| keep(typed::power(see(300.0), see(500.0)))),
        "power-bare" => Box::new(|| keep(bare::power(see(300.0), see(500.0)))),
        "slice" => Box::new(|| keep(typed::scale(see(&samples), see(&mut room), see(&factor)))),
        "slice-bare" => Box::new(|| bare::scale(see(&samples), see(&mut plain), see(1.037))),
        _ => return ExitCode::from(2),
    };
    for _ in 0..calls {
        call();
    }
    ExitCode::SUCCESS
}
