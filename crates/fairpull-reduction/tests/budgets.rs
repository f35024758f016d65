//! Every line of a budget against the job reduced again with that input moved by its standard uncertainty.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)]

mod made;

use fairpull_reduction::{Outcome, Part, StateOutcome};
use made::{Kind, Log};

/// A recording with the numbers of one column multiplied.
fn scaled(text: &str, column: &str, by: f64) -> String {
    let mut lines = text.lines();
    let head = lines.next().unwrap_or_default();
    let at = head.split(',').position(|c| c == column).unwrap();
    let mut out = format!("{head}\n");
    for line in lines {
        let cells: Vec<String> = line
            .split(',')
            .enumerate()
            .map(|(i, c)| if i == at { format!("{:.6}", c.parse::<f64>().unwrap() * by) } else { c.into() })
            .collect();
        out.push_str(&cells.join(","));
        out.push('\n');
    }
    out
}

struct Moved {
    kind: Kind,
    logs: Vec<String>,
    job: String,
    nominal: Outcome,
}

impl Moved {
    fn new(kind: Kind, slip: f64) -> Self {
        let logs: Vec<String> = [1.0, 1.004]
            .iter()
            .map(|by| {
                let mut log = Log::new(kind);
                log.acceleration *= by;
                log.slip = slip;
                log.text()
            })
            .collect();
        let job = made::job(kind, &[2], "");
        let nominal = run(&job, &logs);
        Self { kind, logs, job, nominal }
    }

    fn budget(&self, source: &str) -> f64 {
        let state = &self.nominal.states[0];
        let found = state.budget.iter().find(|b| b.source == source);
        found.map_or_else(|| panic!("{:?}: no {source}", self.kind), |b| b.relative)
    }

    /// Checks a line against what the reduction gives for another job and other logs.
    fn check(&self, source: &str, job: &str, logs: &[String], within: f64) {
        let moved = run(job, logs);
        let (a, b) = (top(&self.nominal.states[0]), top(&moved.states[0]));
        let effect = libm::log(b.1 / a.1).abs();
        let said = self.budget(source);
        assert!((said - effect).abs() < within * effect + 2e-6, "{:?} {source}: {said} {effect}", self.kind);
    }

    fn replaced(&self, source: &str, old: &str, new: &str, within: f64) {
        assert!(self.job.contains(old), "{old}");
        self.check(source, &self.job.replace(old, new), &self.logs, within);
    }
}

fn run(job: &str, logs: &[String]) -> Outcome {
    made::reduced(job, &|name| logs[usize::from(name.starts_with("0-1"))].clone())
        .unwrap_or_else(|e| panic!("{e}"))
}

/// The grid point nearest to the peak of a state, which the budget is of: 1/min, W.
fn top(state: &StateOutcome) -> (f64, f64) {
    let at = state.peak_power.rpm;
    let best = state.curve.iter().min_by(|a, b| (a.rpm - at).abs().total_cmp(&(b.rpm - at).abs())).unwrap();
    (best.rpm, best.power.value)
}

/// What every kind of rig shares: engine, gearbox, air.
fn common(m: &Moved) {
    m.replaced("engine inertia", "engine_inertia = \"0.16kg.m2\"", "engine_inertia = \"0.1648kg.m2\"", 0.01);
    m.replaced("load share of the gearbox", "load_share = \"2%\"", "load_share = \"2.3%\"", 0.02);
    m.replaced("barometer", "pressure = \"985hPa\"", "pressure = \"985.5hPa\"", 0.01);
    m.replaced("intake thermometer", "temperature = \"24C\"", "temperature = \"24.5C\"", 0.01);
    m.replaced("humidity", "humidity = \"40%\"", "humidity = \"42%\"", 0.01);
    // a hub turns as it turns, whatever the tyre
    if m.kind != Kind::Hub {
        m.replaced("tyre radius", "tyre_radius = \"316mm\"", "tyre_radius = \"317.58mm\"", 0.05);
    }
}

/// Slip as of a tyre, where it stays; none where the recordings would give another one to the moved rig.
const SLIP: f64 = 5e-6;

fn larger_radius(m: &Moved) {
    // a rig that believes a larger radius shows a higher speed
    let faster: Vec<String> = m.logs.iter().map(|l| scaled(l, "Roller", 1.002)).collect();
    m.check("roller radius", &m.job.replace("\"159mm\"", "\"159.318mm\""), &faster, 0.2);
}

fn stronger_force(m: &Moved) {
    let stronger: Vec<String> = m.logs.iter().map(|l| scaled(l, "Force", 1.005)).collect();
    m.check("force calibration", &m.job, &stronger, 0.01);
}

#[test]
fn an_inertia_roller() {
    common(&Moved::new(Kind::Inertia, SLIP));
    let m = Moved::new(Kind::Inertia, 0.0);
    m.replaced("roller inertia", "roller_inertia = \"21.5kg.m2\"", "roller_inertia = \"21.586kg.m2\"", 0.01);
    larger_radius(&m);
    let none: Vec<&str> = m.nominal.states[0].budget.iter().map(|b| b.source).collect();
    assert!(
        !none.contains(&"force calibration") && !none.contains(&"delay of the force channel"),
        "{none:?}"
    );
}

#[test]
fn a_braked_roller() {
    common(&Moved::new(Kind::Braked, SLIP));
    let m = Moved::new(Kind::Braked, 0.0);
    m.replaced("roller inertia", "roller_inertia = \"9kg.m2\"", "roller_inertia = \"9.036kg.m2\"", 0.01);
    stronger_force(&m);
    larger_radius(&m);
}

#[test]
fn a_hub_rig() {
    let m = Moved::new(Kind::Hub, 0.0);
    common(&m);
    stronger_force(&m);
    let sources: Vec<&str> = m.nominal.states[0].budget.iter().map(|b| b.source).collect();
    assert!(!sources.iter().any(|s| s.starts_with("roller")), "{sources:?}");
    assert!(!sources.contains(&"tyre radius"), "{sources:?}");
}

/// A hub rig that logs the speed of the car: what a turn travels is then the tyre's.
#[test]
fn a_hub_rig_that_logs_a_speed() {
    let columns = "[columns.hub_rotation]\nname = \"Roller\"\nunit = \"rpm\"\n";
    let mut m = Moved::new(Kind::Hub, 0.0);
    assert!(m.job.contains(columns));
    m.job = m.job.replace(columns, "[columns.roller_speed]\nname = \"Roller\"\nunit = \"m/s\"\n");
    let speed = made::RADIUS * core::f64::consts::PI / 30.0;
    m.logs = m.logs.iter().map(|l| scaled(l, "Roller", speed)).collect();
    m.nominal = run(&m.job, &m.logs);
    m.replaced("tyre radius", "tyre_radius = \"316mm\"", "tyre_radius = \"317.58mm\"", 0.02);
}

/// A delay of 120 ms is known to 15 % at best: that much of the rate of the torque, at the peak.
#[test]
fn a_late_force_channel() {
    let mut log = Log::new(Kind::Hub);
    log.late = 0.12;
    let logs = [log.text(), log.text()];
    let out = run(&made::job(Kind::Hub, &[2], ""), &logs);
    let state = &out.states[0];
    let said = state.budget.iter().find(|b| b.source == "delay of the force channel").unwrap().relative;
    let s = log.when(top(state).0);
    let rate = (log.brake(s + 0.01) - log.brake(s - 0.01)) / 0.02;
    let effect = (0.15 * 0.12 * rate * log.rim(s) / (1.0 - made::SHARE) / log.crank(s)).abs();
    assert!((0.95..1.1).contains(&(said / effect)), "{said} {effect}");
}

/// Engine speed not recorded: it follows from the job, so that tyre and roller radius move the axis of the curve too.
#[test]
fn engine_speed_from_the_job() {
    let mut m = Moved::new(Kind::Inertia, 6.7e-6);
    let columns = "[columns.engine_speed]\nname = \"Engine\"\nunit = \"rpm\"\n";
    assert!(m.job.contains(columns));
    m.job = m.job.replace(columns, "");
    m.nominal = run(&m.job, &m.logs);
    assert!(!m.nominal.drive.measured);
    // the peak is the last point of the grid, which the moved pulls do not pass
    assert!(m.nominal.states[0].peak_power.at_edge);
    assert!(m.budget("tyre radius") > 1e-3, "{}", m.budget("tyre radius"));
    m.job = m.job.replace("step = \"100rpm\"", "step = \"100rpm\"\nto = \"5500rpm\"");
    m.nominal = run(&m.job, &m.logs);
    m.replaced("tyre radius", "tyre_radius = \"316mm\"", "tyre_radius = \"317.58mm\"", 0.05);
    m.replaced("roller inertia", "roller_inertia = \"21.5kg.m2\"", "roller_inertia = \"21.586kg.m2\"", 0.02);
    m.replaced("engine inertia", "engine_inertia = \"0.16kg.m2\"", "engine_inertia = \"0.1648kg.m2\"", 0.01);
    let faster: Vec<String> = m.logs.iter().map(|l| scaled(l, "Roller", 1.002)).collect();
    m.check("roller radius", &m.job.replace("\"159mm\"", "\"159.318mm\""), &faster, 0.1);
}

/// Lines of one pull, of the rig and of the method; the half width of the peak is theirs together.
#[test]
fn a_budget_adds_up() {
    for kind in [Kind::Inertia, Kind::Braked, Kind::Hub] {
        let m = Moved::new(kind, if kind == Kind::Hub { 0.0 } else { SLIP });
        let state = &m.nominal.states[0];
        let square = |part: Part| -> f64 {
            state.budget.iter().filter(|b| b.part == part).map(|b| b.relative * b.relative).sum()
        };
        let p = state.curve.iter().find(|p| p.rpm == top(state).0).unwrap();
        let run = libm::sqrt(square(Part::Run));
        let common = libm::sqrt(square(Part::Rig) + square(Part::Method));
        assert!((p.run / run - 1.0).abs() < 1e-9, "{} {run}", p.run);
        assert!((p.rig / common - 1.0).abs() < 1e-9, "{} {common}", p.rig);
        let level = m.budget("pull-to-pull level");
        let shape = m.budget("noise of the curve's shape");
        let dof = state.repeatability.1;
        assert!((level - state.repeatability.0 / libm::sqrt(2.0)).abs() < 1e-12);
        let nu =
            fairpull_uncertainty::effective_dof(&[(level, dof), (shape, 4.0 * dof), (common, f64::INFINITY)]);
        let half = fairpull_uncertainty::coverage_factor(nu) * libm::hypot(run, common);
        assert!(((p.power.high - p.power.low) / (2.0 * p.power.value) / half - 1.0).abs() < 1e-9);
        // the band is nowhere narrower than the points, and the same factor wider everywhere
        let by = (p.band.high - p.band.value) / (p.power.high - p.power.value);
        assert!((1.0..1.6).contains(&by), "{by}");
        for q in &state.curve {
            let here = (q.band.high - q.band.value) / (q.power.high - q.power.value);
            assert!((here / by - 1.0).abs() < 1e-9 && q.band.low < q.power.low + 1e-9);
            assert!(
                q.wheel.high - q.wheel.value
                    < (q.power.high - q.power.value) / q.power.value * q.wheel.value * 1.3
            );
        }
        // drawn and propagated intervals of the point agree (JCGM 101:2008, clause 8)
        let (low, high) = state.monte_carlo;
        let drawn = (high - low) / 2.0;
        assert!((drawn / (half * p.power.value) - 1.0).abs() < 0.12, "{drawn} {}", half * p.power.value);
        assert!(((low + high) / 2.0 / p.power.value - 1.0).abs() < 0.1 * half);
    }
}
