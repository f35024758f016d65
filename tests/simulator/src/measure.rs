//! From the truth to what the sensors say.

use crate::{Column, Instant, Random, Rig, RigKind, Role, Stress, Table, Vehicle};

/// Resolution of the speed channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resolution {
    /// As computed.
    Exact,
    /// Rounded to steps of this many km/h.
    Step(f64),
    /// Whole pulses counted between two samples, this many a revolution.
    Pulses(f64),
}

/// Speed sensor of roller or hub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedSensor {
    /// Resolution.
    pub resolution: Resolution,
    /// Pitch error once a revolution, share of the speed.
    pub pitch_error: f64,
    /// Noise, km/h.
    pub noise_kmh: f64,
    /// First-order lag, s.
    pub lag_s: f64,
    /// Pure delay, s.
    pub delay_s: f64,
}

/// Engine speed from an ignition pick-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngineSensor {
    /// Recorded at all.
    pub present: bool,
    /// Noise, 1/min.
    pub noise_rpm: f64,
    /// Chance that a sample is lost and reads 0.
    pub dropout: f64,
    /// Pure delay, s.
    pub delay_s: f64,
}

/// Force of a brake, or torque of a hub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceSensor {
    /// Noise, N at the contact.
    pub noise_n: f64,
    /// Drift of the zero, N a minute at the contact.
    pub drift_n_per_min: f64,
    /// First-order lag, s.
    pub lag_s: f64,
    /// Pure delay, s.
    pub delay_s: f64,
}

/// The measuring system.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    /// Samples a second.
    pub rate_hz: f64,
    /// Standard deviation of the sampling instants, share of the interval. The stamps say the true instants.
    pub jitter: f64,
    /// Speed of roller or hub.
    pub speed: SpeedSensor,
    /// Engine speed.
    pub engine: EngineSensor,
    /// Brake force or hub torque.
    pub force: ForceSensor,
    /// Stress channels recorded.
    pub stress: Vec<Role>,
    /// Noise of the stress channels, share of a sensible step of each.
    pub stress_noise: f64,
    /// Pressures are written as gauge, by role; absolute otherwise.
    pub gauge: Vec<Role>,
}

/// Hidden errors of one rig, constant over a job: true or read value over the declared one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Read force over true force.
    pub force: f64,
    /// Declared roller radius over the true one: a speed is read with the declared.
    pub radius: f64,
}

/// First-order lag along the path, then read at given instants less the delay.
fn sense(path: &[Instant], value: &dyn Fn(&Instant) -> f64, lag: f64, delay: f64, at: &[f64]) -> Vec<f64> {
    // The step is fixed, so what a lag keeps over a step is, too.
    let kept = match path {
        [a, b, ..] if lag > 0.0 => libm::exp(-(b.time - a.time) / lag),
        _ => 0.0,
    };
    if kept == 0.0 {
        // Without memory only the instants around a sample matter.
        return at.iter().map(|t| between(path, &|i| value(&path[i]), t - delay)).collect();
    }
    let mut lagged = Vec::with_capacity(path.len());
    let mut held: Option<f64> = None;
    for now in path {
        let x = value(now);
        let next = held.map_or(x, |old| follow(old, x, kept));
        held = Some(next);
        lagged.push(next);
    }
    at.iter().map(|t| between(path, &|i| lagged[i], t - delay)).collect()
}

/// What a first-order lag makes of a step, with the share of the old that it keeps.
fn follow(old: f64, new: f64, kept: f64) -> f64 {
    new + (old - new) * kept
}

/// Linear interpolation on the fixed step of a path; held at the ends.
fn between(path: &[Instant], value: &dyn Fn(usize) -> f64, time: f64) -> f64 {
    let (Some(first), Some(last)) = (path.first(), path.last()) else { return f64::NAN };
    let end = path.len() - 1;
    if end == 0 || time <= first.time {
        return value(0);
    }
    let x = (time - first.time) / (last.time - first.time) * end as f64;
    let i = (x as usize).min(end - 1);
    let share = libm::fmin(x - i as f64, 1.0);
    let here = value(i);
    here + share * (value(i + 1) - here)
}

fn round_to(x: f64, step: f64) -> f64 {
    libm::round(x / step) * step
}

impl Instrument {
    /// Sampling instants over a path.
    fn instants(&self, path: &[Instant], random: &mut Random) -> Vec<f64> {
        let end = path.last().map_or(0.0, |i| i.time);
        let interval = 1.0 / self.rate_hz;
        let mut out = Vec::new();
        let mut k = 0_u32;
        loop {
            let shift = random.scatter(self.jitter).clamp(-0.45, 0.45);
            let t = libm::fmax(0.0, (f64::from(k) + shift) * interval);
            if t > end {
                return out;
            }
            out.push(round_to(t, 0.001));
            k += 1;
        }
    }

    fn speeds(&self, path: &[Instant], rig: &Rig, hidden: f64, at: &[f64], random: &mut Random) -> Vec<f64> {
        let s = &self.speed;
        let wheel = rig.kind == RigKind::Hub;
        // Surface speed as computed from the declared radius; on a hub rig at the nominal tyre radius.
        let seen = |i: &Instant| {
            let v = if wheel { i.wheel * rig.radius_m } else { i.speed };
            v * hidden * 3.6 * (1.0 + s.pitch_error * libm::cos(i.angle))
        };
        let plain = sense(path, &seen, s.lag_s, s.delay_s, at);
        let noisy: Vec<f64> = plain.iter().map(|v| v + random.scatter(s.noise_kmh)).collect();
        match s.resolution {
            Resolution::Exact => noisy,
            Resolution::Step(step) => noisy.iter().map(|v| round_to(*v, step)).collect(),
            Resolution::Pulses(per_rev) => {
                let angle = |i: &Instant| i.angle + s.pitch_error * libm::sin(i.angle);
                let counts: Vec<f64> = sense(path, &angle, 0.0, s.delay_s, at)
                    .iter()
                    .map(|a| libm::floor(a * per_rev / core::f64::consts::TAU))
                    .collect();
                let per_pulse = core::f64::consts::TAU * rig.radius_m * hidden / per_rev * 3.6;
                (0..at.len())
                    .map(|k| {
                        let (a, b) = if k == 0 { (0, 1.min(at.len() - 1)) } else { (k - 1, k) };
                        let interval = at[b] - at[a];
                        let counted = if interval > 0.0 {
                            (counts[b] - counts[a]) * per_pulse / interval
                        } else {
                            noisy[k]
                        };
                        counted + noisy[k] - plain[k]
                    })
                    .collect()
            }
        }
    }

    /// The recording of a path; `stress` gives the settled value of a stress channel at an instant.
    #[must_use]
    pub fn record(
        &self,
        path: &[Instant],
        stress: &dyn Fn(Role, &Instant) -> f64,
        vehicle: &Vehicle,
        rig: &Rig,
        hidden: Reading,
        ambient_kpa: f64,
        random: &mut Random,
    ) -> Table {
        let at = self.instants(path, random);
        let mut table = Table { columns: Vec::new() };
        let mut add = |role: Role, gauge: Option<bool>, values: Vec<f64>| {
            let (name, unit, decimals) = role.written();
            table.columns.push(Column {
                role: Some(role),
                name: name.into(),
                unit: unit.into(),
                decimals,
                gauge,
                values,
            });
        };
        add(Role::Time, None, at.clone());
        let speeds = self.speeds(path, rig, hidden.radius, &at, random);
        if rig.kind == RigKind::Hub {
            let per_kmh = 60.0 / (core::f64::consts::TAU * rig.radius_m * 3.6);
            add(Role::HubRotation, None, speeds.iter().map(|v| v * per_kmh).collect());
        } else {
            add(Role::RollerSpeed, None, speeds);
        }
        if self.engine.present {
            let e = &self.engine;
            let read = sense(path, &|i| i.rpm, 0.0, e.delay_s, &at);
            let values = read
                .iter()
                .map(|n| {
                    let noisy = n + random.scatter(e.noise_rpm);
                    if random.unit() < e.dropout { 0.0 } else { noisy }
                })
                .collect();
            add(Role::EngineSpeed, None, values);
        }
        if rig.braked() {
            let f = &self.force;
            let hub = rig.kind == RigKind::Hub;
            let true_force = |i: &Instant| if hub { i.contact } else { i.brake };
            let lever = if hub { vehicle.tyre_radius_m } else { 1.0 };
            let read = sense(path, &true_force, f.lag_s, f.delay_s, &at);
            let values = read
                .iter()
                .zip(&at)
                .map(|(x, t)| {
                    let seen = x * hidden.force + f.drift_n_per_min * t / 60.0 + random.scatter(f.noise_n);
                    seen * lever
                })
                .collect();
            add(if hub { Role::HubTorque } else { Role::BrakeForce }, None, values);
        }
        for role in &self.stress {
            let noise = match role {
                Role::IntakeTemperature => 0.1,
                Role::ChargeTemperature | Role::SparkAdvance => 0.2,
                Role::ManifoldPressure => 0.8,
                Role::PreTurbinePressure | Role::ExhaustTemperature => 2.0,
                Role::Lambda => 0.004,
                Role::FuelFlow => 0.05,
                _ => continue,
            };
            let pressure = matches!(role, Role::ManifoldPressure | Role::PreTurbinePressure);
            let gauge = pressure.then(|| self.gauge.contains(role));
            let less = if gauge == Some(true) { ambient_kpa } else { 0.0 };
            let values = sense(path, &|i| stress(*role, i), Stress::lag(*role), 0.0, &at)
                .iter()
                .map(|x| x - less + random.scatter(noise * self.stress_noise))
                .collect();
            add(*role, gauge, values);
        }
        table
    }
}
