//! A whole job: states, order of the pulls, soak, hidden errors; run with a seed.

use crate::job::{clock, job_columns};
use crate::truth::full_load;
use crate::{
    Declared, Dialect, Fault, Gain, Hidden, Instrument, Job, JobLog, JobState, Plant, Program, Random,
    Reading, Rig, Stress, Table, TruePull, TrueState, Truth, Vehicle, Weather,
};

/// A state of the car.
#[derive(Clone, Debug)]
pub struct State {
    /// Name, also the stem of its file names.
    pub name: String,
    /// True gain over the base curve.
    pub gain: Gain,
    /// True air.
    pub air: Weather,
    /// Stress channels.
    pub stress: Stress,
    /// Date of the pulls, `2026-05-11`.
    pub date: String,
    /// Start of the first pull, minutes after midnight.
    pub first_minute: u32,
}

/// Heat soak, pull by pull: rise · (1 − exp(−k/pulls)) with k pulls before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soak {
    /// Rise of the charge in the end, K.
    pub charge_k: f64,
    /// Rise of the driveline in the end, K.
    pub driveline_k: f64,
    /// Pulls in which 63 % of it come about.
    pub pulls: f64,
    /// Goes on from state to state instead of starting anew with each.
    pub continues: bool,
}

/// How one log is recorded.
#[derive(Clone, Debug)]
pub struct LogPlan {
    /// State that the log belongs to.
    pub state: usize,
    /// Runs in the recording.
    pub programs: Vec<Program>,
    /// Faults.
    pub faults: Vec<Fault>,
    /// File format.
    pub dialect: Dialect,
    /// A column nobody asked for: name, unit.
    pub extra: Option<(String, String)>,
}

/// A job to simulate. Vehicle and rig are as declared; what is true differs by the hidden errors.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// Title of the job.
    pub title: String,
    /// Car as declared.
    pub vehicle: Vehicle,
    /// Rig as declared.
    pub rig: Rig,
    /// Measuring system.
    pub instrument: Instrument,
    /// Declared standard uncertainties.
    pub declared: Declared,
    /// Whether hidden errors are drawn from them; else calibration is exact.
    pub hide: bool,
    /// True over declared gear ratio, less 1.
    pub ratio_error: f64,
    /// Standard deviation of the level of a pull, relative.
    pub repeatability: f64,
    /// Heat soak.
    pub soak: Soak,
    /// States.
    pub states: Vec<State>,
    /// Logs in the order driven.
    pub logs: Vec<LogPlan>,
    /// Minutes between logs of a state, or between all logs when the states alternate on one day.
    pub spacing_minutes: u32,
    /// Standards of the job: the first is the basis.
    pub standards: Vec<String>,
    /// Time step of the integration, s.
    pub step: f64,
}

/// A simulated log.
#[derive(Clone, Debug)]
pub struct Log {
    /// State.
    pub state: usize,
    /// File name.
    pub file: String,
    /// Content.
    pub bytes: Vec<u8>,
    /// The samples behind it, faults planted.
    pub table: Table,
}

/// A simulated job.
#[derive(Clone, Debug)]
pub struct Run {
    /// What the job file says.
    pub job: Job,
    /// Logs in the order driven.
    pub logs: Vec<Log>,
    /// What should be found.
    pub truth: Truth,
}

impl Run {
    /// Every file of the job: `job.toml` first, then the logs in the order driven.
    #[must_use]
    pub fn files(&self) -> Vec<(String, Vec<u8>)> {
        let mut files = vec![("job.toml".to_string(), self.job.to_toml().into_bytes())];
        files.extend(self.logs.iter().map(|log| (log.file.clone(), log.bytes.clone())));
        files
    }
}

impl Scenario {
    fn hidden(&self, random: &mut Random) -> Hidden {
        let d = &self.declared;
        let size = if self.hide { 1.0 } else { 0.0 };
        let mut draw = |u: f64| random.scatter(u) * size;
        Hidden {
            roller_inertia: draw(d.roller_inertia),
            roller_radius: draw(d.roller_radius),
            force: draw(d.force),
            engine_inertia: draw(d.engine_inertia),
            load_share: draw(d.load_share),
            pressure_kpa: draw(d.pressure_kpa),
            temperature_k: draw(d.temperature_k),
            humidity: draw(d.humidity),
        }
    }

    /// Simulates the job.
    #[must_use]
    pub fn run(&self, seed: u64) -> Run {
        let mut random = Random::new(seed, 1);
        let hidden = self.hidden(&mut random);
        let mut car = self.vehicle.clone();
        car.engine_inertia *= 1.0 + hidden.engine_inertia;
        car.load_share += hidden.load_share;
        car.ratio *= 1.0 + self.ratio_error;
        let mut rig = self.rig;
        rig.inertia *= 1.0 + hidden.roller_inertia;
        rig.radius_m /= 1.0 + hidden.roller_radius;
        let mut states: Vec<TrueState> = Vec::new();
        let mut declared: Vec<JobState> = Vec::new();
        for s in &self.states {
            states.push(TrueState { name: s.name.clone(), gain: s.gain, air: s.air, pulls: Vec::new() });
            let air = Weather {
                pressure_kpa: s.air.pressure_kpa + hidden.pressure_kpa,
                temperature_c: s.air.temperature_c + hidden.temperature_k,
                humidity: (s.air.humidity + hidden.humidity).clamp(0.0, 1.0),
            };
            declared.push(JobState { name: s.name.clone(), air, logs: Vec::new() });
        }
        let mut logs: Vec<Log> = Vec::new();
        let mut columns = Vec::new();
        let mut driven = 0_usize;
        for (order, plan) in self.logs.iter().enumerate() {
            let state = &self.states[plan.state];
            let mut random = Random::new(seed, 100 + order as u64);
            let before = if self.soak.continues { driven } else { states[plan.state].pulls.len() };
            let grown = |k: usize| 1.0 - libm::exp(-((before + k) as f64) / self.soak.pulls);
            let soak_k = self.soak.charge_k * grown(0);
            let warmer_k = self.soak.driveline_k * grown(0);
            let ambient = car.response.share(&state.air);
            // Level and soak of each run in the recording.
            let runs: Vec<(f64, f64, f64)> = (0..plan.programs.len())
                .map(|k| {
                    let soak = self.soak.charge_k * grown(k);
                    let level = 1.0 + random.scatter(self.repeatability);
                    (level, soak, 1.0 - car.torque_per_soak_kelvin * soak)
                })
                .collect();
            let torque = |run: usize, n: f64| {
                let (level, _, soak_share) = runs[run];
                car.torque.at(n) * state.gain.factor(n) * level * soak_share * ambient
            };
            let plant =
                Plant { vehicle: &car, rig: &rig, warmer: warmer_k, torque: &torque, step: self.step };
            let path = plant.run(&plan.programs);
            let stress =
                |role, now: &crate::Instant| state.stress.settled(role, now, &car, &state.air, soak_k);
            // The recording is made with the true rig and read with the declared radius.
            let read = Reading { force: 1.0 + hidden.force, radius: 1.0 + hidden.roller_radius };
            let mut table =
                self.instrument.record(&path, &stress, &car, &rig, read, state.air.pressure_kpa, &mut random);
            if columns.is_empty() {
                columns = job_columns(&table);
            }
            if let Some((name, unit)) = &plan.extra {
                let warm = |t: &f64| 88.0 + warmer_k + 0.05 * t;
                let values = table.columns[0].values.iter().map(warm).collect();
                table.columns.push(crate::Column {
                    role: None,
                    name: name.clone(),
                    unit: unit.clone(),
                    decimals: 1,
                    gauge: None,
                    values,
                });
            }
            for fault in &plan.faults {
                fault.plant(&mut table);
            }
            let number = declared[plan.state].logs.len() + 1;
            let stem = state.name.replace(' ', "-");
            let file = format!("{stem}-{number}.csv");
            let slot = if self.soak.continues { order as u32 } else { number as u32 - 1 };
            let minute = state.first_minute + slot * self.spacing_minutes;
            declared[plan.state].logs.push(JobLog { file: file.clone(), start: clock(&state.date, minute) });
            for (k, (level, soak_k, soak_share)) in runs.iter().copied().enumerate() {
                let (points, span_s) = full_load(&path, k);
                states[plan.state].pulls.push(TruePull {
                    file: file.clone(),
                    level,
                    soak_k,
                    soak_share,
                    warmer_k,
                    points,
                    span_s,
                });
            }
            driven += plan.programs.len();
            logs.push(Log { state: plan.state, file, bytes: plan.dialect.write(&table), table });
        }
        let (standard, also) = match self.standards.split_first() {
            Some((first, rest)) => (first.clone(), rest.to_vec()),
            None => ("iso-1585".to_string(), Vec::new()),
        };
        let job = Job {
            title: self.title.clone(),
            vehicle: self.vehicle.clone(),
            rig: self.rig,
            declared: self.declared,
            standard,
            also,
            columns,
            states: declared,
        };
        let truth = Truth { torque: self.vehicle.torque, response: self.vehicle.response, states, hidden };
        Run { job, logs, truth }
    }
}
