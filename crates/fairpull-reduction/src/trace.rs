//! A recording as the reduction reads it: time, roller speed, engine speed, force, and the channels beside them.

use fairpull_recordings::{Recording, Role};

use crate::job::{Job, RigKind};

/// Rows that have a speed, in order.
pub(crate) struct Trace {
    pub time: Vec<f64>,
    /// Roller surface speed (wheel speed times tyre radius on a hub rig), m/s.
    pub speed: Vec<f64>,
    /// Engine speed, rad/s; NaN where missing.
    pub engine: Vec<f64>,
    /// Brake force or hub torque over tyre radius, N; NaN where missing; empty on an inertia rig.
    pub force: Vec<f64>,
    /// Throttle or pedal, 0 to 1; NaN where missing; empty when not recorded.
    pub throttle: Vec<f64>,
    /// First row after each clock restart.
    pub breaks: Vec<usize>,
    /// Row of the recording behind each row here; none where every row is here.
    pub row: Option<Vec<usize>>,
}

impl Trace {
    /// Moves the channels of the power out of a recording. `None` when it holds no speed at all (the reader refuses
    /// that before).
    pub(crate) fn new(rec: &mut Recording, job: &Job) -> Option<Self> {
        let radius = job.rig.radius.value;
        let rows = rec.time.len();
        let mut take = |role: Role| {
            let channel = rec.channels.iter_mut().find(|c| c.role == role)?;
            Some(core::mem::take(&mut channel.values))
        };
        let times = |mut values: Vec<f64>, by: f64| {
            values.iter_mut().for_each(|v| *v *= by);
            values
        };
        let turns = match job.rig.kind {
            RigKind::Hub => take(Role::HubRotation),
            _ => take(Role::RollerRotation),
        };
        let speed = match (turns.map(|v| times(v, radius)), take(Role::RollerSpeed)) {
            (Some(mut turns), Some(speeds)) => {
                for (t, s) in turns.iter_mut().zip(&speeds).filter(|(t, _)| !t.is_finite()) {
                    *t = *s;
                }
                turns
            }
            (one, other) => one.or(other).unwrap_or_default(),
        };
        let force = match job.rig.kind {
            RigKind::InertiaRoller => None,
            RigKind::BrakedRoller => take(Role::BrakeForce),
            RigKind::Hub => take(Role::HubTorque).map(|v| times(v, 1.0 / radius)),
        };
        // a pick-up that lost its signal reads 0
        let mut engine = take(Role::EngineSpeed).unwrap_or_else(|| vec![f64::NAN; rows]);
        engine.iter_mut().filter(|n| !(**n > 5.0)).for_each(|n| *n = f64::NAN);
        let throttle = take(Role::Throttle).or_else(|| take(Role::Pedal));
        let mut out = Self {
            time: core::mem::take(&mut rec.time),
            speed,
            engine,
            force: force.unwrap_or_default(),
            throttle: throttle.unwrap_or_default(),
            breaks: rec.segments.clone(),
            row: None,
        };
        if out.speed.len() < rows || !out.speed.iter().all(|v| v.is_finite()) {
            let known: Vec<bool> =
                (0..rows).map(|i| out.speed.get(i).is_some_and(|v| v.is_finite())).collect();
            out.keep(|i| known[i]);
        }
        (!out.time.is_empty()).then_some(out)
    }

    /// Row of the recording behind a row here.
    pub(crate) fn row(&self, k: usize) -> Option<usize> {
        match &self.row {
            Some(rows) => rows.get(k).copied(),
            None => (k < self.time.len()).then_some(k),
        }
    }

    /// Keeps the rows that `keep` wants.
    pub(crate) fn keep(&mut self, keep: impl Fn(usize) -> bool) {
        let rows: Vec<usize> = (0..self.time.len()).filter(|k| keep(*k)).collect();
        self.row = Some(rows.iter().filter_map(|k| self.row(*k)).collect());
        self.breaks = self.breaks.iter().map(|b| rows.partition_point(|k| k < b)).collect();
        for series in [&mut self.time, &mut self.speed, &mut self.engine, &mut self.force, &mut self.throttle]
        {
            if !series.is_empty() {
                *series = rows.iter().map(|k| series[*k]).collect();
            }
        }
    }
}
