//! The reduction against the known truth of the simulator, many seeds, as the tables of `docs/truth.md`.
//! `truth [--jobs N] [--seed N] [--rig WORD] [PART ...]` with parts `curves`, `soak`, `hard`, `faults`; all of them when
//! none is named. N randomised jobs a rig kind with hidden errors, and as many with exact calibration; a third of it for
//! each line of heat soak, a seventh for each hard case, a fourteenth with every fault. `--rig hub` does that rig alone.

use fairpull_simulator::{Gain, Order, RigKind, Soak, hard_cases, usual_job};
use fairpull_tests::campaign::{GAINS, JobScore, KINDS, Pair, first_seed, pair, randomised, spread};
use fairpull_tests::faults::{Fate, Verdict, fates};
use fairpull_tests::tables::{CURVE_HEAD, GAIN_HEAD, curve_line, gain_line, hard_line, profile_lines};
use fairpull_tests::tally;

type Pick = for<'a> fn(&'a Pair) -> &'a JobScore;
type Kind = (RigKind, &'static str);
const WHO: [(&str, Pick); 2] = [("fairpull", |p| &p.ours), ("textbook", |p| &p.textbook)];

fn main() {
    let mut jobs = 210_usize;
    let mut seed = 1_u64;
    let mut rig = String::new();
    let mut parts: Vec<String> = Vec::new();
    let mut args = std::env::args().skip(1);
    while let Some(a) = args.next() {
        match a.as_str() {
            "--jobs" => jobs = args.next().and_then(|n| n.parse().ok()).unwrap_or(jobs),
            "--seed" => seed = args.next().and_then(|n| n.parse().ok()).unwrap_or(seed),
            "--rig" => rig = args.next().unwrap_or(rig),
            _ => parts.push(a),
        }
    }
    let kinds: Vec<Kind> = KINDS.into_iter().filter(|k| k.1.contains(&rig)).collect();
    let wanted = |part: &str| parts.is_empty() || parts.iter().any(|p| p == part);
    if wanted("curves") {
        curves(&kinds, jobs, seed);
    }
    if wanted("soak") {
        soak(&kinds, jobs.div_ceil(3), seed + 10_000);
    }
    if wanted("hard") {
        hard(jobs.div_ceil(7), seed + 20_000);
    }
    if wanted("faults") {
        faults(&kinds, jobs.div_ceil(14), seed + 30_000);
    }
}

/// Curves, error along the engine speed, and gains.
fn curves(kinds: &[Kind], jobs: usize, seed: u64) {
    let each = jobs.div_ceil(GAINS.len());
    println!("## Curves, 2500 1/min and up\n");
    println!(
        "{} randomised jobs a rig kind with hidden errors, as many with exact calibration.\n\n{CURVE_HEAD}",
        each * GAINS.len()
    );
    let mut hidden = Vec::new();
    let mut exact = Vec::new();
    for &(kind, name) in kinds {
        for (how, hide) in [("exact", false), ("hidden errors", true)] {
            let done = randomised(kind, each, seed, !hide, Order::TwoDays);
            for (who, pick) in WHO {
                println!("{}", curve_line(name, how, who, tally::curves(done.iter().map(|(_, p)| pick(p)))));
            }
            if hide {
                hidden.push(done);
            } else {
                exact.push((name, done));
            }
        }
    }
    println!("\n## Error along the engine speed\n");
    println!(
        "The same jobs: errors with exact calibration, against what the pulls did; intervals with hidden errors.\n"
    );
    println!(
        "| rig | 1/min | points | mean % | RMS % | half width % | points covered % |\n|---|---|---|---|---|---|---|"
    );
    for ((name, exact), hidden) in exact.iter().zip(&hidden) {
        let ours = |done: &[(usize, Pair)]| done.iter().map(|(_, p)| p.ours.clone()).collect::<Vec<_>>();
        let (exact, hidden) = (ours(exact), ours(hidden));
        let (exact, hidden): (Vec<&JobScore>, Vec<&JobScore>) =
            (exact.iter().collect(), hidden.iter().collect());
        profile_lines(name, &exact, &hidden).iter().for_each(|l| println!("{l}"));
    }
    let gains: Vec<&(usize, Pair)> = hidden.iter().flatten().collect();
    println!("\n## Gains, hidden errors, 4 + 4 pulls at 0.7 %, on two days\n");
    println!("The same jobs, all rigs together.\n\n{GAIN_HEAD}");
    for (g, (word, _)) in GAINS.iter().enumerate() {
        for (who, pick) in WHO {
            let own = gains.iter().filter(|(k, _)| *k == g).map(|(_, p)| pick(p));
            println!("{}", gain_line(word, who, tally::changes(own)));
        }
    }
    for (who, pick) in WHO {
        let small = |g: usize| (1..=4).contains(&g);
        let own = gains.iter().filter(|(k, _)| small(*k)).map(|(_, p)| pick(p));
        println!("{}", gain_line("0.7 to 2 % together", who, tally::changes(own)));
    }
    for (who, pick) in WHO {
        println!("{}", gain_line("all", who, tally::changes(gains.iter().map(|(_, p)| pick(p)))));
    }
    println!();
}

fn soak(kinds: &[Kind], jobs: usize, seed: u64) {
    println!("## Heat soak that goes on into the second state\n");
    println!(
        "One day, first all pulls of the one, then all of the other; {jobs} jobs a line.\n\n{GAIN_HEAD}"
    );
    for &(kind, name) in kinds {
        for (word, gain, strong) in
            [("0, mild soak", 0.0, false), ("0, strong soak", 0.0, true), ("2 %, strong soak", 0.02, true)]
        {
            let done = spread(jobs, |i| {
                let seed = first_seed(kind, seed) + i as u64;
                let mut job = usual_job(kind, Gain::flat(gain), 4, Order::OneDayBlocks).randomised(seed);
                if strong {
                    job.soak = Soak { charge_k: 18.0, driveline_k: 15.0, pulls: 4.0, continues: true };
                }
                pair(&job, seed)
            });
            for (who, pick) in WHO {
                let line = format!("{name}, {word}");
                println!("{}", gain_line(&line, who, tally::changes(done.iter().map(pick))));
            }
        }
    }
    println!();
}

fn hard(jobs: usize, seed: u64) {
    println!("## Hard cases\n");
    println!("{jobs} randomised jobs each, gain 2 % unless said.\n");
    println!(
        "| case | answered | bias % | RMS % | points covered % | curves in band % | half width % | gain RMS % | gains covered % | called a change % | remarks |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|");
    for (k, case) in hard_cases(&|s| s).iter().enumerate() {
        let done = spread(jobs, |i| {
            let seed = seed + (1000 * k + i) as u64;
            let drawn = hard_cases(&|s| s.randomised(seed));
            drawn.get(k).map(|c| pair(&c.scenario, seed).ours).unwrap_or_default()
        });
        println!("{}", hard_line(case.name, &done));
    }
    println!();
}

fn faults(kinds: &[Kind], jobs: usize, seed: u64) {
    println!("## Faulty recordings\n");
    println!(
        "Each fault in the first log alone and in every log of {jobs} jobs a rig kind, against the same recordings without it.\n"
    );
    println!("| fault | jobs | refused | said, unmoved | said, moved | silent, unmoved | silent, moved |");
    println!("|---|---|---|---|---|---|---|");
    let mut all: Vec<Verdict> = Vec::new();
    for &(kind, _) in kinds {
        all.extend(spread(jobs, |i| fates(kind, first_seed(kind, seed) + i as u64)).into_iter().flatten());
    }
    let mut words: Vec<&str> = Vec::new();
    for v in &all {
        if !words.contains(&v.fault) {
            words.push(v.fault);
        }
    }
    let count = |fault: Option<&str>, fate: Fate| {
        all.iter().filter(|v| fault.is_none_or(|f| f == v.fault) && v.fate == fate).count()
    };
    for word in words {
        println!(
            "| {word} | {} | {} | {} | {} | {} | {} |",
            all.iter().filter(|v| v.fault == word).count(),
            count(Some(word), Fate::Refused),
            count(Some(word), Fate::Said),
            count(Some(word), Fate::SaidAndMoved),
            count(Some(word), Fate::Unmoved),
            count(Some(word), Fate::SilentlyMoved),
        );
    }
    println!(
        "\n{} faulty jobs, {} moved a figure by more than its interval without a word.",
        all.len(),
        count(None, Fate::SilentlyMoved)
    );
}
