//! A recording as the reduction reads it: time, roller speed, engine speed, force, and the channels beside them.

use fairpull_recordings::{PressureReference, Recording, Role};

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
    /// Row of the recording behind each row here.
    pub row: Vec<usize>,
}

impl Trace {
    /// `None` when the recording holds no speed at all (the reader refuses that before).
    pub(crate) fn new(rec: &Recording, job: &Job) -> Option<Self> {
        let radius = job.rig.radius.value;
        let speed = |i: usize| -> f64 {
            let read =
                |role, by: f64| rec.channel(role).map(|c| c.values.get(i).copied().unwrap_or(f64::NAN) * by);
            let all = match job.rig.kind {
                RigKind::Hub => [read(Role::HubRotation, radius), read(Role::RollerSpeed, 1.0)],
                _ => [read(Role::RollerRotation, radius), read(Role::RollerSpeed, 1.0)],
            };
            all.into_iter().flatten().find(|v| v.is_finite()).unwrap_or(f64::NAN)
        };
        let force = match job.rig.kind {
            RigKind::InertiaRoller => None,
            RigKind::BrakedRoller => rec.channel(Role::BrakeForce).map(|c| (c, 1.0)),
            RigKind::Hub => rec.channel(Role::HubTorque).map(|c| (c, 1.0 / radius)),
        };
        let engine = rec.channel(Role::EngineSpeed);
        let throttle = rec.channel(Role::Throttle).or_else(|| rec.channel(Role::Pedal));
        let mut out = Self {
            time: Vec::new(),
            speed: Vec::new(),
            engine: Vec::new(),
            force: Vec::new(),
            throttle: Vec::new(),
            breaks: Vec::new(),
            row: Vec::new(),
        };
        for (i, t) in rec.time.iter().enumerate() {
            if rec.segments.contains(&i) {
                out.breaks.push(out.time.len());
            }
            let v = speed(i);
            if !v.is_finite() {
                continue;
            }
            out.time.push(*t);
            out.speed.push(v);
            out.row.push(i);
            let at = |c: Option<&fairpull_recordings::Channel>| {
                c.and_then(|c| c.values.get(i)).copied().unwrap_or(f64::NAN)
            };
            // a pick-up that lost its signal reads 0
            let n = at(engine);
            out.engine.push(if n > 5.0 { n } else { f64::NAN });
            if let Some((c, by)) = force {
                out.force.push(c.values.get(i).copied().unwrap_or(f64::NAN) * by);
            }
            if throttle.is_some() {
                out.throttle.push(at(throttle));
            }
        }
        (!out.time.is_empty()).then_some(out)
    }

    /// Keeps the rows that `keep` wants.
    pub(crate) fn keep(&mut self, keep: impl Fn(usize) -> bool) {
        let rows: Vec<usize> = (0..self.time.len()).filter(|k| keep(*k)).collect();
        self.breaks = self.breaks.iter().map(|b| rows.partition_point(|k| k < b)).collect();
        for series in [&mut self.time, &mut self.speed, &mut self.engine, &mut self.force, &mut self.throttle]
        {
            if !series.is_empty() {
                *series = rows.iter().map(|k| series[*k]).collect();
            }
        }
        self.row = rows.iter().map(|k| self.row[*k]).collect();
    }
}

/// Values of a channel as absolute SI, with gauge pressures put on the barometer.
pub(crate) fn absolute_values(rec: &Recording, role: Role, barometer_pa: f64) -> Option<Vec<f64>> {
    let c = rec.channel(role)?;
    let gauge = c.reference == Some(PressureReference::Gauge);
    Some(c.values.iter().map(|v| if gauge { v + barometer_pa } else { *v }).collect())
}
