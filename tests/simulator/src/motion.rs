//! Time integration of a full-load pull and the coast-down after it (classical Runge-Kutta, fixed step).
//!
//! Two bodies, the roller (speed v) and the driveline (wheel speed w), joined by a tyre whose slip is proportional to
//! the force it carries:
//!
//! ```text
//! slip s = (w r - v)/(w r),  F = s/k
//! m dv/dt = F - F_brake - F_parasitic(v)
//! J dw/dt = i T (1 - share) - (F + drag(v)) r        J with the engine while the clutch is closed
//! ```

use crate::{Rig, RigKind, Vehicle};

/// How one run is driven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Program {
    /// Steady speed before the throttle opens, s.
    pub lead_s: f64,
    /// Throttle opening, s.
    pub open_s: f64,
    /// Engine speed at which the driver lifts off, 1/min.
    pub end_rpm: f64,
    /// The coast-down ends at this speed, m/s.
    pub coast_to: f64,
    /// The coast-down lasts no longer than this, s; 0 for none.
    pub coast_s: f64,
    /// Braked back to the start for another run in the same recording.
    pub brake_after: bool,
}

/// What the car does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Steady before the pull.
    Steady,
    /// Throttle opening.
    Opening,
    /// Full load.
    Pull,
    /// Throttle closing, clutch still closed.
    Closing,
    /// Clutch open.
    Coast,
    /// Braked by the driver.
    Braking,
}

/// One instant of the truth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instant {
    /// s.
    pub time: f64,
    /// Phase.
    pub phase: Phase,
    /// Roller surface speed, m/s.
    pub speed: f64,
    /// Roller acceleration, m/s².
    pub acceleration: f64,
    /// Roller angle, rad.
    pub angle: f64,
    /// Wheel speed, rad/s.
    pub wheel: f64,
    /// Engine speed, 1/min.
    pub rpm: f64,
    /// Crank torque as run, N·m.
    pub torque: f64,
    /// Force through the contact, N.
    pub contact: f64,
    /// Brake force at the roller surface, N.
    pub brake: f64,
    /// Throttle, 0 to 1.
    pub load: f64,
}

/// The car, the rig and the torque of this run.
pub struct Plant<'a> {
    /// The car with its true inertias and load share.
    pub vehicle: &'a Vehicle,
    /// The rig with its true inertia.
    pub rig: &'a Rig,
    /// Driveline temperature above the first pull, K.
    pub warmer: f64,
    /// Crank torque at full load of the n-th run in the recording, N·m at 1/min.
    pub torque: &'a dyn Fn(usize, f64) -> f64,
    /// Time step, s.
    pub step: f64,
}

/// v, w, roller angle, brake force, integral of the speed error.
type State = [f64; 5];

#[derive(Clone, Copy)]
struct Drive {
    torque: f64,
    clutch: bool,
    /// Rig, and car with the clutch as it is, kg at the contact.
    mass: f64,
    turning: f64,
    driver_brake: f64,
    target: Option<f64>,
}

impl Plant<'_> {
    fn rpm(&self, wheel: f64) -> f64 {
        wheel * self.vehicle.ratio * 60.0 / core::f64::consts::TAU
    }

    fn contact(&self, v: f64, w: f64) -> f64 {
        let rim = w * self.vehicle.tyre_radius_m;
        (rim - v) / (libm::fmax(rim, 0.5) * self.vehicle.slip_per_newton)
    }

    fn rigid(&self) -> bool {
        self.rig.kind == RigKind::Hub || self.vehicle.slip_per_newton == 0.0
    }

    /// Rates of the state, and the contact force.
    fn rates(&self, y: &State, drive: &Drive) -> (State, f64) {
        let [v, w, _, brake, sum] = *y;
        let car = self.vehicle;
        let r = car.tyre_radius_m;
        let (mass, turning) = (drive.mass, drive.turning);
        let pull = car.ratio * drive.torque * (1.0 - car.load_share) / r;
        let drag = car.drag.at(v, self.warmer) + drive.driver_brake;
        let held = brake + self.rig.drag(v);
        let (dv, dw, contact) = if self.rigid() {
            let a = (pull - drag - held) / (mass + turning);
            (a, a / r, mass * a + held)
        } else {
            let force = self.contact(v, w);
            ((force - held) / mass, (pull - force - drag) / (turning * r), force)
        };
        let gain = 4.0 * (mass + turning);
        let (wanted, error) = match drive.target {
            Some(target) => (libm::fmax(0.0, gain * (v - target) + sum), v - target),
            None => (0.0, 0.0),
        };
        let frozen = drive.target.is_none() || (wanted == 0.0 && error < 0.0);
        let dsum = if frozen { 0.0 } else { gain * error };
        ([dv, dw, v / self.rig.radius_m, (wanted - brake) / self.rig.brake_lag_s, dsum], contact)
    }

    /// The state a step later; `k1` are the rates at `time`.
    fn advance(&self, y: &State, k1: &State, at: &impl Fn(f64, &State) -> Drive, time: f64) -> State {
        let h = self.step;
        let mix = |k: &State, by: f64| core::array::from_fn(|i| y[i] + by * k[i]);
        let y2: State = mix(k1, 0.5 * h);
        let (k2, _) = self.rates(&y2, &at(time + 0.5 * h, &y2));
        let y3: State = mix(&k2, 0.5 * h);
        let (k3, _) = self.rates(&y3, &at(time + 0.5 * h, &y3));
        let y4: State = mix(&k3, h);
        let (k4, _) = self.rates(&y4, &at(time + h, &y4));
        core::array::from_fn(|i| y[i] + h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]))
    }

    /// Torque that keeps a speed on the rig, N·m.
    fn steady_torque(&self, v: f64) -> f64 {
        let car = self.vehicle;
        let force = car.drag.at(v, self.warmer) + self.rig.drag(v);
        force * car.tyre_radius_m / (car.ratio * (1.0 - car.load_share))
    }

    /// Runs the programs one after the other in one recording.
    #[must_use]
    pub fn run(&self, programs: &[Program]) -> Vec<Instant> {
        let car = self.vehicle;
        let start = car.speed_at(car.start_rpm);
        let small = if self.rigid() { 0.0 } else { car.slip_per_newton * (self.rig.drag(start)) };
        let mut y: State = [start, start / car.tyre_radius_m / (1.0 - small), 0.0, 0.0, 0.0];
        let mut out = Vec::with_capacity((40.0 / self.step) as usize);
        let mut tick = 0_u32;
        for (run, program) in programs.iter().enumerate() {
            self.one(run, program, start, &mut y, &mut tick, &mut out);
        }
        out
    }

    fn one(
        &self,
        run: usize,
        program: &Program,
        start: f64,
        y: &mut State,
        tick: &mut u32,
        out: &mut Vec<Instant>,
    ) {
        let car = self.vehicle;
        let idle = self.steady_torque(start);
        let (mass, closed, open) = (self.rig.mass(), car.rotating_mass(true), car.rotating_mass(false));
        let mut phase = Phase::Steady;
        let mut since = f64::from(*tick) * self.step;
        let mut declutched_rpm = 0.0;
        // A brake holds the start speed for a moment at full load before the ramp begins.
        let ramp_from = program.open_s + 1.0;
        const CLOSING: f64 = 0.15;
        loop {
            let time = f64::from(*tick) * self.step;
            let at = |t: f64, s: &State| {
                let x = t - since;
                let rpm = self.rpm(s[1]);
                let load = match phase {
                    Phase::Steady => 0.0,
                    Phase::Opening => smooth(x / program.open_s),
                    Phase::Pull => 1.0,
                    Phase::Closing => 1.0 - smooth(x / CLOSING),
                    Phase::Coast | Phase::Braking => 0.0,
                };
                let torque = match phase {
                    Phase::Steady => idle,
                    Phase::Coast | Phase::Braking => 0.0,
                    Phase::Closing => load * (self.torque)(run, rpm),
                    Phase::Opening | Phase::Pull => idle + load * ((self.torque)(run, rpm) - idle),
                };
                let driver_brake = if phase == Phase::Braking { 2500.0 * smooth(x / 0.3) } else { 0.0 };
                let clutch = !matches!(phase, Phase::Coast | Phase::Braking);
                let target = match phase {
                    Phase::Steady => Some(start),
                    Phase::Opening => Some(start),
                    Phase::Pull => {
                        let ramped = x + program.open_s - ramp_from;
                        Some(start + self.rig.ramp * libm::fmax(0.0, ramped))
                    }
                    Phase::Closing | Phase::Coast | Phase::Braking => None,
                }
                .filter(|_| self.rig.braked());
                (
                    Drive {
                        torque,
                        clutch,
                        mass,
                        turning: if clutch { closed } else { open },
                        driver_brake,
                        target,
                    },
                    load,
                )
            };
            let (drive, load) = at(time, y);
            let (rates, contact) = self.rates(y, &drive);
            let rpm = if drive.clutch {
                self.rpm(y[1])
            } else {
                car.idle_rpm + (declutched_rpm - car.idle_rpm) * libm::exp(-(time - since) / 1.2)
            };
            out.push(Instant {
                time,
                phase,
                speed: y[0],
                acceleration: rates[0],
                angle: y[2],
                wheel: y[1],
                rpm,
                torque: drive.torque,
                contact,
                brake: y[3],
                load,
            });
            *y = self.advance(y, &rates, &|t, s| at(t, s).0, time);
            *tick += 1;
            let now = f64::from(*tick) * self.step;
            let spent = now - since;
            let next = match phase {
                Phase::Steady if spent >= program.lead_s => Phase::Opening,
                Phase::Opening if spent >= program.open_s => Phase::Pull,
                Phase::Pull if self.rpm(y[1]) >= program.end_rpm || spent > 120.0 => Phase::Closing,
                Phase::Closing if spent >= CLOSING => Phase::Coast,
                Phase::Coast if spent >= program.coast_s || y[0] <= program.coast_to => Phase::Braking,
                Phase::Braking if y[0] <= start => break,
                _ => continue,
            };
            if next == Phase::Braking && !program.brake_after {
                break;
            }
            if next == Phase::Coast {
                declutched_rpm = self.rpm(y[1]);
            }
            phase = next;
            since = now;
        }
        // The next run starts steady again, brake settled.
        y[3] = 0.0;
        y[4] = 0.0;
    }
}

/// Smooth step from 0 to 1 with zero slope and curvature at both ends.
fn smooth(x: f64) -> f64 {
    let x = x.clamp(0.0, 1.0);
    x * x * x * (10.0 + x * (6.0 * x - 15.0))
}
