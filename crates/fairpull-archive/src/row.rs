//! A result to its rows of the table.

use fairpull_core::{Charging, Ignition};
use fairpull_reduction::{Job, RigKind};
use fairpull_report::ResultModel;
use fairpull_report::model::{Comparison, Pull, State};

use crate::Row;
use crate::columns::Time;

impl Row {
    /// One row a state, in the order of the job.
    #[must_use]
    pub fn of(job: &Job, model: &ResultModel, fingerprint: &str) -> Vec<Self> {
        let about = About { job, model, fingerprint };
        model.states.iter().enumerate().map(|(i, s)| about.row(i, s)).collect()
    }
}

struct About<'a> {
    job: &'a Job,
    model: &'a ResultModel,
    fingerprint: &'a str,
}

impl About<'_> {
    fn row(&self, index: usize, s: &State) -> Row {
        let Self { job, model, .. } = *self;
        let c = model.comparisons.iter().find(|c| c.to == s.name);
        let of = |f: &dyn Fn(&Comparison) -> f64| c.map(f);
        let relative = libm::sqrt(s.budget.iter().map(|b| b.percent * b.percent).sum()) / 100.0;
        let (repairs, repair_text) = repairs(s);
        let flags = flags(s);
        let factors = || s.pulls.iter().map(|p| p.factor);
        Row {
            job: model.job.clone(),
            title: model.title.clone(),
            car: job.vehicle.name.clone(),
            ignition: match job.vehicle.engine.ignition {
                Ignition::Spark => "spark",
                Ignition::Compression => "compression",
            }
            .into(),
            charging: match job.vehicle.engine.charging {
                Charging::None => "none",
                Charging::Supercharged => "supercharged",
                Charging::Turbocharged => "turbocharged",
            }
            .into(),
            displacement_cm3: job.vehicle.displacement.map(|v| v * 1e6),
            rig_kind: match job.rig.kind {
                RigKind::InertiaRoller => "inertia-roller",
                RigKind::BrakedRoller => "braked-roller",
                RigKind::Hub => "hub",
            }
            .into(),
            rig: job.rig.name.clone(),
            state: s.name.clone(),
            state_number: count(index + 1),
            fuel: s.fuel.clone(),
            started: self.started(index),
            site: model.basis.site.clone(),
            standard: model.basis.standard.clone(),
            rating: model.basis.rating.clone(),
            loss_model: model.basis.loss_model.clone(),
            pulls: count(s.pulls.len()),
            peak_power_kw: s.peak_power.value.value,
            peak_power_u_kw: s.peak_power.value.value * relative,
            peak_power_lo95_kw: s.peak_power.value.lo95,
            peak_power_hi95_kw: s.peak_power.value.hi95,
            peak_power_rpm: s.peak_power.engine_speed_rpm,
            peak_power_at_edge: s.peak_power.at_edge,
            peak_torque_nm: s.peak_torque.value.value,
            peak_torque_lo95_nm: s.peak_torque.value.lo95,
            peak_torque_hi95_nm: s.peak_torque.value.hi95,
            peak_torque_rpm: s.peak_torque.engine_speed_rpm,
            peak_torque_at_edge: s.peak_torque.at_edge,
            repeatability_percent: s.repeatability_percent,
            factor: mean(s, |p| p.factor),
            factor_min: factors().fold(f64::INFINITY, f64::min),
            factor_max: factors().fold(f64::NEG_INFINITY, f64::max),
            station_pressure_kpa: mean(s, |p| p.station_pressure_kpa),
            temperature_c: mean(s, |p| p.temperature_c),
            humidity_percent: mean(s, |p| p.humidity_percent),
            vapour_pressure_kpa: mean(s, |p| p.vapour_pressure_kpa),
            loss_at_peak_kw: mean(s, |p| p.loss_kw),
            repairs,
            repair_text,
            flags: count(flags.len()),
            flag_text: joined(&flags),
            notices: count(model.notices.len()),
            notice_text: joined(&model.notices),
            compared_with: c.map(|c| c.from.clone()),
            gain_from_rpm: of(&|c| c.band_rpm[0]),
            gain_to_rpm: of(&|c| c.band_rpm[1]),
            mean_gain_percent: of(&|c| c.mean_gain_percent.value),
            mean_gain_lo95_percent: of(&|c| c.mean_gain_percent.lo95),
            mean_gain_hi95_percent: of(&|c| c.mean_gain_percent.hi95),
            mean_gain_kw: of(&|c| c.mean_gain_kw.value),
            mean_gain_lo95_kw: of(&|c| c.mean_gain_kw.lo95),
            mean_gain_hi95_kw: of(&|c| c.mean_gain_kw.hi95),
            peak_gain_percent: of(&|c| c.peak_gain_percent.value),
            peak_gain_lo95_percent: of(&|c| c.peak_gain_percent.lo95),
            peak_gain_hi95_percent: of(&|c| c.peak_gain_percent.hi95),
            smallest_detectable_percent: of(&|c| c.smallest_detectable_percent),
            verdict: c.map(|c| c.verdict.clone()),
            program: model.program.clone(),
            fingerprint: self.fingerprint.into(),
        }
    }

    fn started(&self, state: usize) -> Option<Time> {
        let used = self.job.states.get(state)?.logs.iter().find(|l| l.skip.is_none())?;
        used.start_minute.map(|m| Time((m * 60_000.0) as i64))
    }
}

fn mean(s: &State, of: impl Fn(&Pull) -> f64) -> f64 {
    s.pulls.iter().map(of).sum::<f64>() / s.pulls.len() as f64
}

fn repairs(s: &State) -> (i32, Option<String>) {
    let all = || s.pulls.iter().flat_map(|p| p.repairs.iter().map(move |r| (p, r)));
    let words: Vec<String> = all().map(|(p, r)| format!("{}: {} × {}", p.file, r.count, r.what)).collect();
    (count(all().map(|(_, r)| r.count).sum()), joined(&words))
}

fn flags(s: &State) -> Vec<String> {
    let of = |p: &Pull| p.flags.iter().map(|f| format!("{}: {f}", p.name)).collect::<Vec<_>>();
    s.pulls.iter().flat_map(of).collect()
}

fn joined(words: &[String]) -> Option<String> {
    (!words.is_empty()).then(|| words.join("; "))
}

fn count(n: usize) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX)
}
