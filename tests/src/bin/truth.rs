//! The reduction against the known truth of the simulator, many seeds. `truth [--jobs N] [--seed N] [PART ...]` with
//! parts `curves`, `profile`, `soak`, `hard`, `faults`; all of them when none is named. N jobs for each gain.

use fairpull_simulator::{Gain, Order, RigKind, Soak, hard_cases, usual_faults, usual_job};
use fairpull_tests::campaign::{GAINS, JobScore, Pair, pair, randomised, spread};
use fairpull_tests::faults::{Fate, fate};
use fairpull_tests::tally::{self, ChangeTally, CurveTally};
use fairpull_tests::{pipeline, score};

const KINDS: [(RigKind, &str); 3] = [
    (RigKind::InertiaRoller, "inertia roller"),
    (RigKind::BrakedRoller, "braked roller"),
    (RigKind::Hub, "hub"),
];

fn main() {
    let mut jobs = 30_usize;
    let mut seed = 1_u64;
    let mut parts: Vec<String> = Vec::new();
    let mut args = std::env::args().skip(1);
    while let Some(a) = args.next() {
        match a.as_str() {
            "--jobs" => jobs = args.next().and_then(|n| n.parse().ok()).unwrap_or(jobs),
            "--seed" => seed = args.next().and_then(|n| n.parse().ok()).unwrap_or(seed),
            _ => parts.push(a),
        }
    }
    let wanted = |part: &str| parts.is_empty() || parts.iter().any(|p| p == part);
    println!("{jobs} jobs for each of {} true gains and each rig kind, seeds from {seed}\n", GAINS.len());
    if wanted("curves") {
        let mut lines = Vec::new();
        let mut gains = Vec::new();
        for (kind, name) in KINDS {
            for exact in [true, false] {
                let done = randomised(kind, jobs, seed, exact, Order::TwoDays);
                let how = if exact { "exact" } else { "hidden errors" };
                for (who, pick) in WHO {
                    lines.push(curve_line(name, how, who, tally::curves(done.iter().map(|(_, p)| pick(p)))));
                }
                if !exact {
                    gains.push((name, done));
                }
            }
        }
        println!("## Curves, 2500 1/min and up\n");
        println!(
            "| rig | calibration | pipeline | answered | bias % | RMS % | RMS % to the pulls | peak RMS % | peak bias % | points covered % | curves in band % | peaks covered % | half width % |"
        );
        println!("|---|---|---|---|---|---|---|---|---|---|---|---|---|");
        lines.iter().for_each(|l| println!("{l}"));
        println!("\n## Gains, hidden errors, 4 + 4 pulls at 0.7 %, on two days\n");
        gain_head();
        for (name, done) in &gains {
            for (g, (word, _)) in GAINS.iter().enumerate() {
                for (who, pick) in WHO {
                    let own = done.iter().filter(|(k, _)| *k == g).map(|(_, p)| pick(p));
                    println!("{}", gain_line(name, word, who, tally::changes(own)));
                }
            }
        }
        for (who, pick) in WHO {
            let all = gains.iter().flat_map(|(_, d)| d.iter().map(|(_, p)| pick(p)));
            println!("{}", gain_line("all", "all", who, tally::changes(all)));
        }
        println!();
    }
    if wanted("soak") {
        println!("## Heat soak that goes on into the second state, one day\n");
        gain_head();
        for (kind, name) in KINDS {
            for (word, gain, strong) in [
                ("0, mild soak", 0.0, false),
                ("0, strong soak", 0.0, true),
                ("2 %, strong soak", 0.02, true),
            ] {
                let done = spread(4 * jobs, |i| {
                    let seed = seed + 10_000 + i as u64;
                    let mut job = usual_job(kind, Gain::flat(gain), 4, Order::OneDayBlocks).randomised(seed);
                    if strong {
                        job.soak = Soak { charge_k: 18.0, driveline_k: 15.0, pulls: 4.0, continues: true };
                    }
                    pair(&job, seed)
                });
                for (who, pick) in WHO {
                    println!("{}", gain_line(name, word, who, tally::changes(done.iter().map(pick))));
                }
            }
        }
        println!();
    }
    if wanted("hard") {
        println!("## Hard cases, each with {} seeds\n", 2 * jobs);
        println!(
            "| case | answered | bias % | RMS % | points covered % | curves in band % | half width % | gain RMS % | gains covered % | called a change % | said |"
        );
        println!("|---|---|---|---|---|---|---|---|---|---|---|");
        for case in hard_cases() {
            let done = spread(2 * jobs, |i| pair(&case.scenario, seed + 20_000 + i as u64).ours);
            let (c, g) = (tally::curves(done.iter()), tally::changes(done.iter()));
            println!(
                "| {} | {}/{} | {:+.2} | {:.2} | {:.1} | {:.1} | {:.2} | {:.2} | {:.1} | {:.1} | {} |",
                case.name,
                c.answered.0,
                c.answered.1,
                100.0 * c.bias,
                100.0 * c.rms.0,
                100.0 * c.pointwise,
                100.0 * c.whole,
                100.0 * c.half,
                100.0 * g.rms.0,
                100.0 * g.covered,
                100.0 * g.called,
                said(&done)
            );
        }
        println!();
    }
    if wanted("profile") {
        profile(jobs, seed);
    }
    if wanted("faults") {
        faults(jobs, seed);
    }
}

type Pick = for<'a> fn(&'a Pair) -> &'a JobScore;
const WHO: [(&str, Pick); 2] = [("fairpull", |p| &p.ours), ("textbook", |p| &p.textbook)];

fn curve_line(rig: &str, how: &str, who: &str, t: CurveTally) -> String {
    format!(
        "| {rig} | {how} | {who} | {}/{} | {:+.3} | {:.3} | {:.3} | {:.3} | {:+.3} | {:.1} | {:.1} | {:.1} | {:.2} |",
        t.answered.0,
        t.answered.1,
        100.0 * t.bias,
        100.0 * t.rms.0,
        100.0 * t.rms.1,
        100.0 * t.peak.0,
        100.0 * t.peak.1,
        100.0 * t.pointwise,
        100.0 * t.whole,
        100.0 * t.peak.2,
        100.0 * t.half
    )
}

fn gain_head() {
    println!(
        "| rig | true gain | pipeline | jobs | called a change % | wrong way % | covered % | bias % | RMS % | RMS % to the pulls | half width % | gain points covered % | gain curves in band % | smallest detectable % |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");
}

fn gain_line(rig: &str, gain: &str, who: &str, t: ChangeTally) -> String {
    let or_dash = |x: f64| if who == "fairpull" { format!("{:.1}", 100.0 * x) } else { "-".into() };
    format!(
        "| {rig} | {gain} | {who} | {} | {:.1} | {:.1} | {:.1} | {:+.3} | {:.3} | {:.3} | {:.2} | {} | {} | {} |",
        t.count,
        100.0 * t.called,
        100.0 * t.wrong,
        100.0 * t.covered,
        100.0 * t.bias,
        100.0 * t.rms.0,
        100.0 * t.rms.1,
        100.0 * t.half,
        or_dash(t.curve.0),
        or_dash(t.curve.1),
        or_dash(t.detectable)
    )
}

/// How many different remarks came with the first job, and its first one.
fn said(done: &[JobScore]) -> String {
    let Some(first) = done.first() else { return String::new() };
    let word = |s: &str| s.chars().take(90).collect::<String>();
    match (&first.refused, first.said.first()) {
        (Some(why), _) => format!("refused: {}", word(why)),
        (None, Some(s)) => format!("{} remarks, e.g. {}", first.said.len(), word(s)),
        (None, None) => "nothing".into(),
    }
}

fn faults(jobs: usize, seed: u64) {
    println!("## Faulty recordings against the same recordings without the fault\n");
    println!(
        "| rig | fault | where | jobs | refused | said, unmoved | said, moved | silent, unmoved | silent, moved | most moved, half widths |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|");
    let count = (jobs / 5).max(2);
    let mut silent = 0;
    let mut all = 0;
    for (kind, name) in KINDS {
        for (word, list) in usual_faults(kind) {
            for every in [false, true] {
                let done = spread(count, |i| fate(kind, &list, every, seed + 30_000 + i as u64));
                let n = |f: Fate| done.iter().filter(|d| d.0 == f).count();
                let most = done.iter().map(|d| d.1).fold(0.0, f64::max);
                println!(
                    "| {name} | {word} | {} | {} | {} | {} | {} | {} | {} | {:.2} |",
                    if every { "every log" } else { "first log" },
                    done.len(),
                    n(Fate::Refused),
                    n(Fate::Said),
                    n(Fate::SaidAndMoved),
                    n(Fate::Unmoved),
                    n(Fate::SilentlyMoved),
                    most
                );
                silent += n(Fate::SilentlyMoved);
                all += done.len();
            }
        }
    }
    println!("\n{all} faulty jobs, {silent} moved a figure by more than its interval without a word.");
}

/// Error along the engine speed with exact calibration, against what the pulls did.
fn profile(jobs: usize, seed: u64) {
    println!("## Error along the engine speed, calibration exact, against what the pulls did\n");
    println!("| rig | 1/min | points | mean % | RMS % | half width % |\n|---|---|---|---|---|---|");
    for (kind, name) in KINDS {
        let done = spread(4 * jobs, |i| {
            let seed = seed + 40_000 + i as u64;
            let job = usual_job(kind, Gain::flat(0.02), 4, Order::TwoDays).randomised(seed).calibrated();
            let run = job.run(seed);
            let answer = pipeline::outcome(&run).map(|o| pipeline::answer(&o));
            answer.map_or_else(|_| Vec::new(), |a| [0, 1].map(|s| score::profile(&run, s, &a)).concat())
        });
        for bin in 3..14 {
            let low = 500.0 * f64::from(bin);
            let own: Vec<(f64, f64)> = done
                .iter()
                .flatten()
                .filter(|p| p.0 >= low && p.0 < low + 500.0)
                .map(|p| (p.1, p.2))
                .collect();
            if own.is_empty() {
                continue;
            }
            let n = own.len() as f64;
            let mean = own.iter().map(|p| p.0).sum::<f64>() / n;
            let square = own.iter().map(|p| p.0 * p.0).sum::<f64>() / n;
            let half = own.iter().map(|p| p.1).sum::<f64>() / n;
            println!(
                "| {name} | {low:.0} to {:.0} | {} | {:+.3} | {:.3} | {:.2} |",
                low + 500.0,
                own.len(),
                100.0 * mean,
                100.0 * libm::sqrt(square),
                100.0 * half
            );
        }
    }
    println!();
}
