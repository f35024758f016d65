//! Ready jobs for campaigns: one ordinary job a rig kind, randomised jobs, and the hard cases.

use crate::{
    Declared, Dialect, Drag, Fault, Gain, LogPlan, Program, Random, Resolution, Response, Rig, RigKind, Role,
    Scenario, Soak, Stress, Weather, demo_instrument, demo_rig, demo_scenario, demo_vehicle,
};

/// Order in which the pulls of two states are driven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// All of the first state on one day, all of the second on another; heat soak starts anew.
    TwoDays,
    /// First state, then second, on one day without a pause: heat soak goes on.
    OneDayBlocks,
    /// ABBA on one day: heat soak goes on, and the order balances it.
    Alternating,
}

/// An ordinary rig of a kind.
#[must_use]
pub fn usual_rig(kind: RigKind) -> Rig {
    match kind {
        RigKind::InertiaRoller => demo_rig(),
        RigKind::BrakedRoller => Rig { kind, inertia: 14.0, ramp: 3.0, ..demo_rig() },
        RigKind::Hub => Rig {
            kind,
            inertia: 30.0,
            radius_m: demo_vehicle().tyre_radius_m,
            parasitic: [6.0, 0.2, 0.004],
            ramp: 3.0,
            brake_lag_s: 0.08,
        },
    }
}

/// Two states of `pulls` pulls each on a rig of a kind: the demo car, calibration errors drawn from the usual
/// certificates, 0.7 % repeatability, mild heat soak, plain files, no faults.
#[must_use]
pub fn usual_job(kind: RigKind, gain: Gain, pulls: usize, order: Order) -> Scenario {
    let mut job = demo_scenario();
    job.title = format!("Invented {} job", kind.id());
    job.rig = usual_rig(kind);
    if kind == RigKind::Hub {
        // Wheels off: only hubs and discs turn, and no tyre drags.
        job.vehicle.wheel_inertia = 0.15;
        job.vehicle.drag = Drag { a: 55.0, b: 2.2, c: 0.02, per_kelvin: -0.004 };
        job.vehicle.slip_per_newton = 0.0;
    }
    job.declared = Declared::USUAL;
    job.repeatability = 0.007;
    job.instrument.stress = vec![Role::ChargeTemperature];
    job.instrument.gauge.clear();
    // Twice the demo's step: still below twice the smallest time constant, and no figure sees it.
    job.step = 0.002;
    if let [_, after] = job.states.as_mut_slice() {
        after.gain = gain;
    }
    let sequence: Vec<usize> = match order {
        Order::TwoDays | Order::OneDayBlocks => (0..2).flat_map(|s| core::iter::repeat_n(s, pulls)).collect(),
        Order::Alternating => (0..2 * pulls).map(|k| usize::from(matches!(k % 4, 1 | 2))).collect(),
    };
    job.soak.continues = order != Order::TwoDays;
    if let ([before, after], true) = (job.states.as_mut_slice(), job.soak.continues) {
        after.air = before.air;
        after.date.clone_from(&before.date);
        after.first_minute = before.first_minute;
    }
    let program = Program {
        lead_s: 1.5,
        open_s: 0.3,
        end_rpm: job.vehicle.end_rpm,
        coast_to: 12.5,
        coast_s: 60.0,
        brake_after: false,
    };
    job.logs = sequence.iter().map(|s| plain_log(*s, program)).collect();
    job
}

/// A log without faults in the plain dialect.
#[must_use]
pub fn plain_log(state: usize, program: Program) -> LogPlan {
    LogPlan { state, programs: vec![program], faults: Vec::new(), dialect: Dialect::default(), extra: None }
}

impl Scenario {
    /// Draws car, rig and sensors anew around the present ones; the same seed gives the same job. Gain, order,
    /// number of pulls, repeatability and declared uncertainties stay as they are.
    #[must_use]
    pub fn randomised(mut self, seed: u64) -> Self {
        let mut random = Random::new(seed, 7);
        let mut around = |x: f64, share: f64| x * random.between(1.0 - share, 1.0 + share);
        let car = &mut self.vehicle;
        let t = &mut car.torque;
        t.plateau_nm = around(t.plateau_nm, 0.35);
        t.rise_at = around(t.rise_at, 0.1);
        t.rise_width = around(t.rise_width, 0.2);
        t.fall_at = around(t.fall_at, 0.06);
        t.fall_width = around(t.fall_width, 0.2);
        t.ripple = around(0.006, 1.0);
        t.ripple_period = around(t.ripple_period, 0.3);
        car.ratio = libm::round(around(car.ratio, 0.1) * 1000.0) / 1000.0;
        car.engine_inertia = libm::round(around(car.engine_inertia, 0.2) * 1000.0) / 1000.0;
        car.drag.a = around(car.drag.a, 0.3);
        car.drag.b = around(car.drag.b, 0.3);
        car.drag.c = around(car.drag.c, 0.3);
        car.slip_per_newton = around(car.slip_per_newton, 0.25);
        self.rig.inertia = libm::round(around(self.rig.inertia, 0.3) * 100.0) / 100.0;
        self.rig.ramp = around(self.rig.ramp, 0.25);
        let s = &mut self.instrument;
        s.speed.noise_kmh = around(s.speed.noise_kmh, 0.8);
        s.speed.pitch_error = around(s.speed.pitch_error, 0.8);
        s.engine.noise_rpm = around(s.engine.noise_rpm, 0.5);
        s.engine.delay_s = around(s.engine.delay_s, 1.0);
        s.force.lag_s = around(s.force.lag_s, 0.6);
        s.rate_hz = [20.0, 25.0, 50.0, 100.0, 200.0][random.below(5)];
        if random.unit() < 0.4 {
            self = self.naturally_aspirated();
        }
        // One day has one air (a little later, a little warmer); two days have two.
        let mut day = || Weather {
            pressure_kpa: random.between(97.0, 102.5),
            temperature_c: random.between(12.0, 32.0),
            humidity: random.between(0.3, 0.75),
        };
        let first = day();
        for (k, state) in self.states.iter_mut().enumerate() {
            state.air = if k == 0 || self.soak.continues { first } else { day() };
        }
        self
    }

    /// The same job with a naturally aspirated engine: full torque from low speed, resonances, no boost.
    #[must_use]
    pub fn naturally_aspirated(mut self) -> Self {
        let t = &mut self.vehicle.torque;
        t.rise_at = 900.0;
        t.rise_width = 700.0;
        t.ripple = 0.015;
        t.ripple_period = 2300.0;
        t.plateau_nm *= 0.75;
        self.vehicle.turbocharged = false;
        self.vehicle.response = Response::Density;
        for s in &mut self.states {
            s.stress = Stress { boost_kpa: 0.0, back_pressure_kpa: 12.0, charge_rise_k: 3.0, ..s.stress };
        }
        self
    }

    /// The same job with a control that holds charge against the ambient (true factor 1).
    #[must_use]
    pub fn held(mut self) -> Self {
        self.vehicle.turbocharged = true;
        self.vehicle.response = Response::Held;
        self
    }

    /// Calibration exact: no hidden error is drawn.
    #[must_use]
    pub fn calibrated(mut self) -> Self {
        self.hide = false;
        self
    }

    /// Every log carries these faults.
    #[must_use]
    pub fn faulty(mut self, faults: &[Fault]) -> Self {
        for log in &mut self.logs {
            log.faults.extend_from_slice(faults);
        }
        self
    }

    /// Every coast-down ends after `seconds`; 0 for none.
    #[must_use]
    pub fn coasting(mut self, seconds: f64) -> Self {
        for log in &mut self.logs {
            log.programs.iter_mut().for_each(|p| p.coast_s = seconds);
        }
        self
    }
}

/// A hard case: its name and its job.
#[derive(Clone, Debug)]
pub struct HardCase {
    /// Name.
    pub name: &'static str,
    /// Job.
    pub scenario: Scenario,
}

/// The hard cases, each made from a usual job that `draw` may change first. Gain 2 % where the case is not about the
/// gain.
#[must_use]
pub fn hard_cases(draw: &dyn Fn(Scenario) -> Scenario) -> Vec<HardCase> {
    use RigKind::{BrakedRoller, Hub, InertiaRoller};
    let usual = |kind| draw(usual_job(kind, Gain::flat(0.02), 4, Order::TwoDays));
    let air = |mut s: Scenario, first: Weather, second: Weather| {
        if let [a, b] = s.states.as_mut_slice() {
            a.air = first;
            b.air = second;
        }
        s
    };
    let mut coarse = usual(InertiaRoller);
    coarse.rig.inertia = 9.8;
    coarse.instrument.speed.resolution = Resolution::Step(0.1);
    coarse.instrument.rate_hz = 20.0;
    let mut pulses = usual(InertiaRoller);
    pulses.instrument.speed.resolution = Resolution::Pulses(60.0);
    let mut pitch = usual(InertiaRoller);
    pitch.instrument.speed.pitch_error = 0.002;
    let mut drift = usual(BrakedRoller);
    drift.instrument.force.drift_n_per_min = 40.0;
    let mut lag = usual(BrakedRoller);
    lag.instrument.force.lag_s = 0.15;
    lag.instrument.engine.delay_s = 0.12;
    let mut hub_drift = usual(Hub);
    hub_drift.instrument.force.drift_n_per_min = 20.0;
    let mut ratio = usual(InertiaRoller);
    ratio.ratio_error = 0.015;
    let mut pickup = usual(InertiaRoller);
    pickup.instrument.engine.noise_rpm = 60.0;
    pickup.instrument.engine.dropout = 0.03;
    let mut deaf = usual(InertiaRoller);
    deaf.instrument.engine.present = false;
    let mut soak = draw(usual_job(InertiaRoller, Gain::NONE, 4, Order::OneDayBlocks));
    soak.soak = Soak { charge_k: 18.0, driveline_k: 15.0, pulls: 4.0, continues: true };
    let cold = Weather::new(1025.0, 2.0, 70.0);
    let hot = Weather::new(985.0, 33.0, 45.0);
    let high = Weather::new(835.0, 20.0, 40.0);
    let case = |name, scenario| HardCase { name, scenario };
    vec![
        case("short pull in 0.1 km/h steps", coarse),
        case("speed from counted pulses", pulses),
        case("pitch error once a revolution", pitch),
        case("coast-down cut off after 1.5 s", usual(InertiaRoller).coasting(1.5)),
        case("no coast-down", usual(InertiaRoller).coasting(0.0)),
        case("heat soak into the second state, gain 0", soak),
        case("load-cell drift", drift),
        case("late channels", lag),
        case("torque drift at the hubs", hub_drift),
        case("gear ratio 1.5 % off", ratio),
        case("noisy ignition pick-up", pickup),
        case("1600 m elevation", air(usual(InertiaRoller).naturally_aspirated(), high, high)),
        case("held charge, cold and hot day", air(usual(InertiaRoller).held(), cold, hot)),
        case(
            "gain at the top end only",
            draw(usual_job(InertiaRoller, Gain::top_end(0.05, 5000.0), 4, Order::TwoDays)),
        ),
        case("engine speed never recorded", deaf),
        case("a single pull a state", draw(usual_job(InertiaRoller, Gain::flat(0.02), 1, Order::TwoDays))),
    ]
}

/// Faulty recordings for a rig kind, place and size drawn: a word and the faults of a log.
#[must_use]
pub fn usual_faults(kind: RigKind, random: &mut Random) -> Vec<(&'static str, Vec<Fault>)> {
    let hub = kind == RigKind::Hub;
    let speed = if hub { Role::HubRotation } else { Role::RollerSpeed };
    let force = if hub { Role::HubTorque } else { Role::BrakeForce };
    let in_pull = random.between(3.2, 5.5);
    let sign = if random.unit() < 0.5 { -1.0 } else { 1.0 };
    let far = random.between(8.0, 40.0);
    let length_s = random.between(0.3, 0.7);
    let coasting = random.between(12.0, 18.0);
    let mut all = vec![
        ("spike in the speed", vec![Fault::Spike { role: speed, at_s: in_pull, by: sign * far }]),
        ("gap in the pull", vec![Fault::Gap { from_s: in_pull, length_s }]),
        ("gap in the coast-down", vec![Fault::Gap { from_s: coasting, length_s: 3.0 * length_s }]),
        ("repeated stamp", vec![Fault::RepeatedStamp { at_s: in_pull }]),
        ("backward stamp", vec![Fault::BackwardStamp { at_s: in_pull }]),
        ("stuck speed", vec![Fault::Stuck { role: speed, from_s: in_pull, length_s }]),
        ("speed drops to 0", vec![Fault::Dropout { role: speed, from_s: in_pull, length_s: 0.3 * length_s }]),
        ("stuck engine speed", vec![Fault::Stuck { role: Role::EngineSpeed, from_s: 2.5, length_s: 60.0 }]),
        ("engine speed lost", vec![Fault::Dropout { role: Role::EngineSpeed, from_s: in_pull, length_s }]),
        ("mph under a km/h header", vec![Fault::WrongUnit { role: speed, factor: 1.0 / 1.609_344 }]),
        ("cut off in the pull", vec![Fault::CutOff { at_s: in_pull + 0.8 }]),
    ];
    if kind != RigKind::InertiaRoller {
        let by = sign * 40.0 * far;
        all.push(("spike in the force", vec![Fault::Spike { role: force, at_s: in_pull, by }]));
        all.push(("stuck force", vec![Fault::Stuck { role: force, from_s: in_pull, length_s }]));
    }
    all
}

/// The demo's measuring system at another rate without noise, quantisation or pitch error.
#[must_use]
pub fn perfect_instrument(rate_hz: f64) -> crate::Instrument {
    let mut i = demo_instrument();
    i.rate_hz = rate_hz;
    i.jitter = 0.0;
    i.speed.resolution = Resolution::Exact;
    i.speed.noise_kmh = 0.0;
    i.speed.pitch_error = 0.0;
    i.engine.noise_rpm = 0.0;
    i.engine.delay_s = 0.0;
    i.force.noise_n = 0.0;
    i.force.lag_s = 0.0;
    i.stress_noise = 0.0;
    i
}
