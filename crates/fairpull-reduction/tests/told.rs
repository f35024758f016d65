//! What is said of a job and its states, from both sides of where it begins to be said; columns that stand in for another.
#![allow(clippy::unwrap_used, clippy::panic)]

mod made;

use fairpull_reduction::Outcome;
use made::{Kind, Log};

fn outcome(job: &str, logs: &dyn Fn(&str) -> String) -> Outcome {
    made::reduced(job, logs).unwrap_or_else(|e| panic!("{e}"))
}

fn plain(_: &str) -> String {
    Log::new(Kind::Inertia).text()
}

/// States one after the other, whichever was first, and not where they alternate or share a moment.
#[test]
fn order_of_the_states() {
    let job = made::job(Kind::Inertia, &[2, 2], "");
    let starts = ["2026-05-11T10:00", "2026-05-11T10:20", "2026-05-12T10:00", "2026-05-12T10:20"];
    let said = |minutes: [u32; 4]| {
        let mut text = job.clone();
        for (old, m) in starts.iter().zip(minutes) {
            assert!(text.contains(old), "{old}");
            text = text.replace(old, &format!("2026-07-01T{:02}:{:02}", 9 + m / 60, m % 60));
        }
        let out = outcome(&text, &plain);
        out.comparisons[0].remarks.iter().any(|r| r.contains("driven one after the other"))
    };
    assert!(said([0, 10, 20, 30]) && said([20, 30, 0, 10]) && said([30, 20, 10, 0]));
    assert!(!said([0, 20, 10, 30]) && !said([0, 30, 10, 20]) && !said([10, 20, 0, 30]));
    // two logs never begin together: such a job is refused
}

/// Pulls that lack a coast-down for one reason are named together; on a hub rig the mean torque goes with the mean drag.
#[test]
fn pulls_without_their_own_coast_down() {
    for kind in [Kind::Inertia, Kind::Hub] {
        let text = |name: &str| {
            let mut log = Log::new(kind);
            log.coast = match name {
                "0-1.csv" | "0-3.csv" => 0.0,
                "0-2.csv" => {
                    if kind == Kind::Hub {
                        0.9
                    } else {
                        2.2
                    }
                }
                _ => 40.0,
            };
            log.text()
        };
        let out = outcome(&made::job(kind, &[5], ""), &text);
        let told: Vec<&String> =
            out.notices.iter().filter(|n| n.contains("no coast-down of its own")).collect();
        let of = "no coast-down of its own";
        let rest = "the mean drag of the other pulls is used";
        assert_eq!(
            told,
            [
                &format!("0-1.csv, 0-3.csv: {of} (the recording ends with the pull); {rest}"),
                &format!("0-2.csv: {of} (it is shorter than a second); {rest}"),
            ]
        );
        // the same pull with and without: the mean of two others is what it would have found itself
        let sum =
            |k: usize| out.states[0].pulls[k].curve.iter().copied().filter(|x| x.is_finite()).sum::<f64>();
        for k in [1, 3] {
            assert!((sum(k) / sum(0) - 1.0).abs() < 2e-3, "{kind:?} {k}: {} {}", sum(k), sum(0));
        }
    }
}

/// A coast-down of less than five seconds is pointed out.
#[test]
fn short_coast_downs() {
    let said = |seconds: f64| {
        let mut log = Log::new(Kind::Inertia);
        log.coast = seconds;
        let out = outcome(&made::job(Kind::Inertia, &[1], ""), &|_| log.text());
        let pull = &out.states[0].pulls[0];
        let flag = pull.flags.iter().any(|f| f.starts_with("the coast-down lasts only "));
        let lasts: f64 = pull.coast.split(" in ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
        (flag, lasts)
    };
    let (short, long) = (said(6.6), said(6.9));
    assert!(short.0 && !long.0 && short.1 < 5.0 && long.1 > 5.0 && long.1 < 5.2, "{short:?} {long:?}");
}

/// A charged engine whose control may hold its charge: the gain with factor 1, where the factors differ by 0.3 % or more.
#[test]
fn a_charge_that_may_be_held() {
    let job = made::job(Kind::Inertia, &[1, 1], "")
        .replace("charging = \"none\"", "charging = \"turbocharged\"")
        .replace("temperature = \"27C\"", "temperature = \"24C\"");
    let with = |hectopascal: f64, also: &str| {
        let text = job
            .replace("978hPa", &format!("{hectopascal}hPa"))
            .replace("ignition =", &format!("{also}ignition ="));
        outcome(&text, &|name| {
            let mut log = Log::new(Kind::Inertia);
            log.acceleration *= if name.starts_with('1') { 1.02 } else { 1.0 };
            log.text()
        })
    };
    let (mut seen, mut unseen) = (0, 0);
    for hectopascal in [985.0, 984.0, 983.2, 982.6, 982.0, 981.0, 975.0, 988.0, 987.0, 995.0] {
        let out = with(hectopascal, "");
        let c = &out.comparisons[0];
        let f = libm::log(out.states[1].pulls[0].factor / out.states[0].pulls[0].factor);
        match c.if_compensated {
            Some(gain) => {
                assert!(f.abs() > 0.003, "{hectopascal}: {f}");
                assert!((libm::log1p(gain) - (libm::log1p(c.mean.value) - f)).abs() < 1e-12);
                let said = format!(
                    "with the factor it gains {:+.1} %, with factor 1 in both states {:+.1} %",
                    100.0 * c.mean.value,
                    100.0 * gain
                );
                assert!(c.remarks.iter().any(|r| r.contains(&said)), "{:?}", c.remarks);
                seen += 1;
            }
            None => {
                assert!(f.abs() < 0.003, "{hectopascal}: {f}");
                unseen += 1;
            }
        }
    }
    assert!(seen >= 3 && unseen >= 3, "{seen} {unseen}");
    assert!(with(960.0, "ambient_compensated = true\n").comparisons[0].if_compensated.is_none());
}

/// Turns of the roller with readings missing, which the speed column has: the same power as from the speed alone.
#[test]
fn turns_and_speed_of_the_roller() {
    let job = made::job(Kind::Inertia, &[1], "");
    let log = Log::new(Kind::Inertia);
    let alone = outcome(&job, &|_| log.text());
    let both = job.replace(
        "[columns.engine_speed]",
        "[columns.roller_rotation]\nname = \"Turns\"\nunit = \"rpm\"\n[columns.engine_speed]",
    );
    let with = |missing: &dyn Fn(usize) -> bool, speed_missing: &dyn Fn(usize) -> bool| {
        let mut text = String::new();
        for (i, line) in log.text().lines().enumerate() {
            let cells: Vec<&str> = line.split(',').collect();
            let turns = match cells[1].parse::<f64>() {
                _ if i == 0 => "Turns".to_owned(),
                _ if missing(i) => String::new(),
                Ok(v) => format!("{:.5}", v / 3.6 / made::ROLLER * 30.0 / core::f64::consts::PI),
                Err(_) => String::new(),
            };
            let speed = if i > 0 && speed_missing(i) { "" } else { cells[1] };
            text.push_str(&format!("{},{speed},{},{turns}\n", cells[0], cells[2]));
        }
        outcome(&both, &|_| text.clone())
    };
    let near = |out: &Outcome| {
        assert_eq!(out.states[0].pulls[0].samples, alone.states[0].pulls[0].samples);
        for (a, b) in out.states[0].curve.iter().zip(&alone.states[0].curve) {
            assert!(
                (a.power.value / b.power.value - 1.0).abs() < 1e-4,
                "{} {}",
                a.power.value,
                b.power.value
            );
        }
    };
    near(&with(&|_| false, &|_| false));
    near(&with(&|i| i % 3 == 0, &|_| false));
    near(&with(&|i| i % 3 == 0, &|i| i % 3 == 1));
    // a row that neither has is left out
    let out = with(&|i| i % 50 == 0, &|i| i % 50 == 0);
    let (kept, all) = (out.states[0].pulls[0].samples, alone.states[0].pulls[0].samples);
    assert!((all / 50..=all / 50 + 2).contains(&(all - kept)), "{kept} {all}");
    let sum = |o: &Outcome| {
        o.states[0].curve.iter().map(|p| p.power.value).sum::<f64>() / o.states[0].curve.len() as f64
    };
    assert!((sum(&out) / sum(&alone) - 1.0).abs() < 1e-2);
}

/// Beyond 15 % of what the job gives a pull is refused with what was found, beyond 1 % in the mean it is said.
#[test]
fn how_far_the_speeds_may_disagree() {
    let log = Log::new(Kind::Inertia);
    let job = made::job(Kind::Inertia, &[1], "");
    let with = |by: f64| {
        let text = job.replace("ratio = 5.62", &format!("ratio = {}", 5.62 * by));
        made::reduced(&text, &|_| log.text())
    };
    for (mut inside, mut outside, found) in [(1.1, 1.2, "1.150"), (0.9, 0.8, "0.850")] {
        for _ in 0..11 {
            let mid = 0.5 * (inside + outside);
            if with(mid).is_ok() { inside = mid } else { outside = mid }
        }
        let said = with(outside).unwrap_err().to_string();
        assert!(said.contains(&format!("engine speed is {found} times")), "{said}");
    }
    let turn = core::f64::consts::TAU * made::RADIUS / 5.62;
    let all = with(1.0).unwrap().drive.travel_per_turn / turn;
    for (times, said) in [(1.01005, true), (1.00995, false), (0.99005, false), (0.98995, true)] {
        let out = with(times / all).unwrap();
        assert_eq!(out.notices.iter().any(|n| n.contains("the recordings are believed")), said, "{times}");
    }
}

/// An intake two kelvins from the air of the job is said.
#[test]
fn an_intake_that_is_warmer() {
    let columns = "[columns.intake_temperature]\nname = \"Intake\"\nunit = \"C\"\n[columns.time]";
    let job = made::job(Kind::Inertia, &[1], "").replace("[columns.time]", columns);
    for (celsius, said) in [(25.99, false), (26.01, true), (22.01, false), (21.99, true)] {
        let mut log = Log::new(Kind::Inertia);
        log.more = vec![("Intake", celsius)];
        let out = outcome(&job, &|_| log.text());
        assert_eq!(out.notices.iter().any(|n| n.contains("recorded intake temperature")), said, "{celsius}");
    }
}

/// A pull is called outlying where its externally studentised residual is beyond Student's t at 5 % for the largest of all
/// (Bonferroni): five pulls on five days, so that none is warm, and levels as the outcome gives them.
#[test]
fn an_outlying_pull() {
    let mut job = made::job(Kind::Inertia, &[5], "");
    for (k, start) in ["11T10:00", "11T10:20", "11T10:40", "11T11:00", "11T11:20"].iter().enumerate() {
        assert!(job.contains(start), "{start}");
        job = job.replace(start, &format!("1{k}T10:00"));
    }
    let (mut seen, mut unseen) = (0, 0);
    for step in 0..12 {
        let out = outcome(&job, &|name| {
            let pull = usize::from(name.as_bytes()[2] - b'0');
            let mut log = Log::new(Kind::Inertia);
            log.acceleration *= [1.001, 0.999, 1.0 + 0.0015 * f64::from(step), 1.0005, 0.9995][pull];
            log.text()
        });
        let state = &out.states[0];
        let e: Vec<f64> = state.pulls.iter().map(|p| p.level).collect();
        let (n, dof) = (e.len() as f64, e.len() as f64 - 1.0);
        let square: f64 = e.iter().map(|e| e * e).sum();
        assert!((state.repeatability.0 / libm::sqrt(square / dof) - 1.0).abs() < 1e-3);
        let most = fairpull_uncertainty::t_quantile(1.0 - 0.025 / n, dof - 1.0);
        for (pull, e) in state.pulls.iter().zip(&e) {
            let left = 1.0 - 1.0 / n;
            let size = e / libm::sqrt(left * (square - e * e / left) / (dof - 1.0));
            let flag = pull.flags.iter().find(|f| f.starts_with("outlying: "));
            assert!((size.abs() / most - 1.0).abs() > 1e-3, "too near to tell");
            assert_eq!(flag.is_some(), size.abs() > most, "{step}: {size} {most}");
            if let Some(flag) = flag {
                let said = format!(
                    "{:+.2} % from its state after soak, {:.1} times the scatter",
                    100.0 * e,
                    size.abs()
                );
                assert!(flag.contains(&said), "{flag} {said}");
                seen += 1;
            } else {
                unseen += 1;
            }
        }
    }
    assert!(seen >= 3 && unseen >= 3, "{seen} {unseen}");
}

/// Without start times pulls count as seven minutes apart, each state on a day of its own: heat of the last pull of each
/// state, as a share of the largest, where it decays in twenty minutes.
#[test]
fn pulls_without_a_time() {
    let job = made::job(Kind::Inertia, &[4, 3], "");
    let job: String = job.lines().filter(|l| !l.starts_with("start = ")).map(|l| format!("{l}\n")).collect();
    let out = outcome(&job, &plain);
    assert!(out.notices.iter().any(|n| n.starts_with("start times are missing")));
    let x = libm::exp(-7.0 / 20.0);
    let shares = [1.0, (x + x * x) / (x + x * x + x * x * x)];
    for (state, share) in out.states.iter().zip(shares) {
        assert!((state.soak.unwrap().heat - share).abs() < 1e-6, "{:?} {share}", state.soak);
    }
}

/// No tyre slips forward under traction, and none by more than 5 % at a kilonewton.
#[test]
fn limits_of_the_slip() {
    for (slip, shown) in [(-1e-5, 0.0), (6e-5, 0.05)] {
        let mut log = Log::new(Kind::Inertia);
        log.slip = slip;
        // so much slip is a sixth of the speed: the ratio of the job is that far off
        let ratio = format!("ratio = {}", if slip > 0.0 { 5.62 / 0.85 } else { 5.62 });
        let job = made::job(Kind::Inertia, &[1], "").replace("ratio = 5.62", &ratio);
        let out = outcome(&job, &|_| log.text());
        assert!((out.drive.slip_per_kilonewton - shown).abs() < 1e-15, "{:?}", out.drive);
    }
}

/// A standard for net power takes no engine that is dressed for gross power.
#[test]
fn a_rating_that_differs() {
    let job = made::job(Kind::Inertia, &[1], "");
    let gross = job.replace("standard = \"iso-1585\"\n", "standard = \"iso-1585\"\nrating = \"gross\"\n");
    assert_ne!(job, gross);
    let said = made::reduced(&gross, &plain).map_or_else(|e| e.to_string(), |_| "done".into());
    assert!(said.starts_with("iso-1585: ") && said.contains("gross"), "{said}");
}
