//! Whole answers.

use std::hint::black_box as see;
use std::path::Path;

use fairpull::reduction::{Job, reduce};
use fairpull_bench::table::Line;
use fairpull_bench::{by_turns, keep};
use fairpull_core::KnockModel;
use fairpull_fuels::{Choices, EndGas, requirement_map};
use fairpull_uncertainty::{Random, probabilistically_symmetric};

fn alone(what: &'static str, units: f64, unit: &'static str, rounds: usize, work: &mut dyn FnMut()) {
    let [ours] = by_turns(rounds, [work]);
    Line { what, units, unit, ours, limit: None }.print();
}

pub fn run() {
    reductions();
    let (_, point) = EndGas::REFERENCE.card().example;
    if let Some(cycle) = point.cycle {
        let starts: Vec<f64> = (0..50).map(|i| -20.0 + 0.6 * f64::from(i)).collect();
        let pressures: Vec<f64> = (0..50).map(|i| 1.2e5 + 3.0e3 * f64::from(i)).collect();
        let mut out = vec![0.0; 2500];
        alone("knock map, 50 × 50", 2500.0, "point", 3, &mut || {
            keep(requirement_map(&cycle, &Choices::REFERENCE, &starts, &pressures, &mut out));
        });
    }
    let catalogue = fairpull::builtin();
    let mut question = fairpull::PredictQuestion::default();
    question.car.mass = Some("1575kg".into());
    question.car.power = Some("200kW".into());
    question.measures = vec!["100-200km/h".into()];
    alone("road prediction, 100 to 200 km/h with interval", 1.0, "run", 9, &mut || {
        keep(fairpull::road_predict(&question, &catalogue));
    });
    let mut draws = vec![0.0; 100_000];
    let sum = |draws: &mut [f64]| {
        let mut random = Random::new(7);
        for draw in draws {
            *draw = 0.01 * random.normal() + 0.004 * random.normal() + 0.002 * random.uniform();
        }
    };
    let mut bare = draws.clone();
    let [ours, limit] = by_turns(
        9,
        [
            &mut || {
                sum(see(&mut draws));
                keep(probabilistically_symmetric(&mut draws, 0.95));
            },
            &mut || sum(see(&mut bare)),
        ],
    );
    let limit = Some(("the draws alone", limit));
    Line { what: "Monte Carlo interval of 100 000 draws", units: 1e5, unit: "draw", ours, limit }.print();
}

fn reductions() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/demo");
    let text = std::fs::read_to_string(folder.join("job.toml")).unwrap_or_default();
    let Ok(mut job) = Job::parse(&text, "job.toml") else {
        println!("| demo job | not measured: {} | | |", folder.display());
        return;
    };
    let catalogue = fairpull::builtin();
    let mut open = |name: &str| std::fs::File::open(folder.join(name)).map_err(|e| e.to_string());
    alone("demo job, 8 logs with 9 pulls, to figures (no report)", 1.0, "job", 7, &mut || {
        keep(reduce(&job, &catalogue, &mut open, &mut |_, _| true));
    });
    job.states.truncate(1);
    if let Some(state) = job.states.first_mut() {
        state.logs.truncate(1);
    }
    alone("one pull to figures", 1.0, "pull", 7, &mut || {
        keep(reduce(&job, &catalogue, &mut open, &mut |_, _| true));
    });
}
