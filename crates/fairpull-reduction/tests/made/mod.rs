//! Recordings made from a chosen motion, so that every force and power behind them is known in closed form: no engine
//! is simulated, the speed is given and what it asks of the engine follows. Shares no code with the crate.
#![allow(dead_code, clippy::unwrap_used, clippy::panic, clippy::missing_panics_doc)]

use std::fmt::Write;

use fairpull_core::Catalogue;
use fairpull_reduction::{Job, Outcome, ReduceError, reduce};

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    Inertia,
    Braked,
    Hub,
}

pub const RADIUS: f64 = 0.316;
pub const RATIO: f64 = 5.62;
pub const ENGINE: f64 = 0.16;
pub const GEARBOX: f64 = 0.02;
pub const WHEEL: f64 = 1.1;
pub const ROLLER: f64 = 0.159;
pub const PARASITIC: [f64; 3] = [12.0, 0.3, 0.01];
pub const DRAG: [f64; 3] = [110.0, 1.5, 0.05];
pub const SHARE: f64 = 0.02;

/// Roller inertia, kg·m²: light where a brake holds the car.
pub fn inertia(kind: Kind) -> f64 {
    match kind {
        Kind::Inertia => 21.5,
        Kind::Braked => 9.0,
        Kind::Hub => 0.0,
    }
}

fn poly(k: [f64; 3], v: f64) -> f64 {
    k[0] + v * (k[1] + v * k[2])
}

/// One recording: steady, a pull with v = v0 + A s − B s², a coast-down.
#[derive(Clone, Debug)]
pub struct Log {
    pub kind: Kind,
    pub rate: f64,
    pub acceleration: f64,
    pub fade: f64,
    pub seconds: f64,
    /// Slip per newton.
    pub slip: f64,
    /// How late the force is, s.
    pub late: f64,
    /// Zero error of the force, N.
    pub zero: f64,
    pub coast: f64,
    /// Seconds before the pull from which the brake holds full load.
    pub hold: f64,
    pub engine: bool,
    /// Other columns: name, value.
    pub more: Vec<(&'static str, f64)>,
}

impl Log {
    pub fn new(kind: Kind) -> Self {
        Self {
            kind,
            rate: 50.0,
            acceleration: if kind == Kind::Inertia { 3.4 } else { 2.6 },
            fade: 0.06,
            seconds: 8.0,
            slip: if kind == Kind::Hub { 0.0 } else { 5e-6 },
            late: 0.0,
            zero: 0.0,
            coast: 40.0,
            hold: 1.4,
            engine: true,
            more: Vec::new(),
        }
    }

    /// Equivalent mass of the rig, kg.
    pub fn mass(&self) -> f64 {
        inertia(self.kind) / (ROLLER * ROLLER)
    }

    /// Rotating mass of the car, kg.
    pub fn rotating(engaged: bool) -> f64 {
        let engine = if engaged { ENGINE } else { 0.0 };
        (2.0 * WHEEL + (GEARBOX + engine) * RATIO * RATIO) / (RADIUS * RADIUS)
    }

    /// Speed of the pull `s` seconds after its beginning, taken up within some tenths of a second.
    pub fn speed(&self, s: f64) -> f64 {
        let soft = 0.08 * libm::log1p(libm::exp(s / 0.08));
        12.0 + self.acceleration * soft - self.fade * soft * soft
    }

    fn derivative(f: impl Fn(f64) -> f64, s: f64) -> f64 {
        let h = 1e-4;
        (f(s - 2.0 * h) - 8.0 * f(s - h) + 8.0 * f(s + h) - f(s + 2.0 * h)) / (12.0 * h)
    }

    /// Reading of the brake (or hub torque over radius), N: takes what full load leaves over, holds the car there before
    /// the pull, and is next to nothing before that.
    pub fn brake(&self, s: f64) -> f64 {
        let on = 1.0 / (1.0 + libm::exp(-(s + self.hold) / 0.03));
        on * match self.kind {
            Kind::Inertia => 0.0,
            // full load of 4200 N at the contact, falling with speed, less what accelerates the rig (or the car)
            Kind::Braked => {
                4200.0
                    - 20.0 * (self.speed(s) - 12.0)
                    - self.mass() * Self::derivative(|x| self.speed(x), s)
                    - poly(PARASITIC, self.speed(s))
            }
            Kind::Hub => {
                4200.0
                    - 20.0 * (self.speed(s) - 12.0)
                    - Self::rotating(true) * Self::derivative(|x| self.speed(x), s)
            }
        }
    }

    /// Force at the contact, N.
    pub fn contact(&self, s: f64) -> f64 {
        let own = self.mass() * Self::derivative(|x| self.speed(x), s) + poly(PARASITIC, self.speed(s));
        match self.kind {
            Kind::Inertia => own,
            Kind::Braked => own + self.brake(s),
            Kind::Hub => self.brake(s),
        }
    }

    pub fn rim(&self, s: f64) -> f64 {
        self.speed(s) / (1.0 - self.slip * self.contact(s))
    }

    /// Engine speed, 1/min.
    pub fn rpm(&self, s: f64) -> f64 {
        self.rim(s) * RATIO / RADIUS * 30.0 / core::f64::consts::PI
    }

    /// When the engine passes a speed.
    pub fn when(&self, rpm: f64) -> f64 {
        let (mut low, mut high) = (0.2, self.seconds);
        for _ in 0..60 {
            let mid = 0.5 * (low + high);
            if self.rpm(mid) < rpm {
                low = mid;
            } else {
                high = mid;
            }
        }
        low
    }

    pub fn wheel(&self, s: f64) -> f64 {
        self.contact(s) * self.speed(s)
    }

    /// Power at the crankshaft, W.
    pub fn crank(&self, s: f64) -> f64 {
        let v = self.rim(s);
        let accelerating = Self::rotating(true) * Self::derivative(|x| self.rim(x), s) * v;
        (self.contact(s) * v + accelerating + poly(DRAG, v) * v) / (1.0 - SHARE)
    }

    /// The recording as text.
    pub fn text(&self) -> String {
        let h = 1.0 / self.rate;
        let braked = self.kind != Kind::Inertia;
        let mut out = String::from("Time,Roller");
        out.push_str(if self.engine { ",Engine" } else { "" });
        out.push_str(if braked { ",Force" } else { "" });
        self.more.iter().for_each(|(name, _)| write!(out, ",{name}").unwrap());
        out.push('\n');
        let mut seed = 1_u64;
        let mut noise = move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / 2_147_483_648.0 - 0.5
        };
        let lead = 2.5;
        let mass = self.mass() + Self::rotating(false);
        let released = if self.kind == Kind::Hub { 15.0 } else { 0.0 };
        let against =
            |v: f64| poly(DRAG, v) + if self.kind == Kind::Hub { released } else { poly(PARASITIC, v) };
        let mut v = self.speed(self.seconds);
        for i in 0..((lead + self.seconds + self.coast) * self.rate) as usize {
            let s = i as f64 * h - lead;
            let coasting = s > self.seconds;
            if coasting {
                for _ in 0..10 {
                    let k1 = -against(v) / mass;
                    let k2 = -against(v + 0.05 * h * k1) / mass;
                    v += 0.1 * h * k2;
                }
            }
            let speed = if coasting { v } else { self.speed(s) };
            if speed < 3.0 {
                break;
            }
            // a hub turns at v/r, read in 1/min
            let shown = match self.kind {
                Kind::Hub => speed / RADIUS * 30.0 / core::f64::consts::PI,
                _ => speed * 3.6,
            };
            write!(out, "{:.3},{:.5}", i as f64 * h, shown + 2e-3 * noise()).unwrap();
            if self.engine {
                let n = if coasting { 850.0 } else { self.rpm(s) };
                write!(out, ",{:.3}", n + 0.02 * noise()).unwrap();
            }
            if braked {
                let at = s - self.late;
                let force = if at > self.seconds { released } else { self.brake(at) };
                let unit = if self.kind == Kind::Hub { RADIUS } else { 1.0 };
                write!(out, ",{:.4}", (force + self.zero) * unit + 0.05 * noise()).unwrap();
            }
            self.more.iter().for_each(|(_, value)| write!(out, ",{:.4}", value + 0.002 * noise()).unwrap());
            out.push('\n');
        }
        out
    }
}

/// A job over states of logs. Times are 20 minutes apart, the second state on the next day.
pub fn job(kind: Kind, states: &[usize], also: &str) -> String {
    let mut out = format!(
        r#"schema = "fairpull-job-1"
title = "Invented"
[vehicle]
name = "Invented"
ignition = "spark"
charging = "none"
driven_wheels = 2
tyre_radius = "316mm"
tyre_radius_u = "0.5%"
ratio = 5.62
engine_inertia = "0.16kg.m2"
engine_inertia_u = "3%"
gearbox_inertia = "0.02kg.m2"
wheel_inertia = "1.1kg.m2"
[loss]
load_share = "2%"
load_share_u = "0.3%"
[basis]
standard = "iso-1585"
[air]
pressure_u = "0.5hPa"
temperature_u = "0.5K"
humidity_u = "2%"
[grid]
step = "100rpm"
{also}
[columns.time]
name = "Time"
unit = "s"
[rig]
"#
    );
    let roller = "roller_radius = \"159mm\"\nroller_radius_u = \"0.2%\"\nroller_inertia_u = \"0.4%\"\nparasitic_a = \"12N\"\nparasitic_b = 0.3\nparasitic_c = 0.01\n";
    out.push_str(&match kind {
        Kind::Inertia => format!("kind = \"inertia-roller\"\nroller_inertia = \"21.5kg.m2\"\n{roller}"),
        Kind::Braked => format!("kind = \"braked-roller\"\nroller_inertia = \"9kg.m2\"\nforce_u = \"0.5%\"\n{roller}[columns.brake_force]\nname = \"Force\"\nunit = \"N\"\n"),
        Kind::Hub => "kind = \"hub\"\nforce_u = \"0.5%\"\n[columns.hub_torque]\nname = \"Force\"\nunit = \"Nm\"\n".into(),
    });
    out.push_str(match kind {
        Kind::Hub => "[columns.hub_rotation]\nname = \"Roller\"\nunit = \"rpm\"\n",
        _ => "[columns.roller_speed]\nname = \"Roller\"\nunit = \"km/h\"\n",
    });
    out.push_str("[columns.engine_speed]\nname = \"Engine\"\nunit = \"rpm\"\n");
    for (s, logs) in states.iter().enumerate() {
        write!(
            out,
            "[[state]]\nname = \"state {s}\"\nair = {{ pressure = \"{}hPa\", temperature = \"{}C\", humidity = \"40%\" }}\n",
            985 - 7 * s,
            24 + 3 * s
        )
        .unwrap();
        for k in 0..*logs {
            writeln!(
                out,
                "[[state.log]]\nfile = \"{s}-{k}.csv\"\nstart = \"2026-05-{:02}T{:02}:{:02}:00\"",
                11 + s,
                10 + k / 3,
                20 * (k % 3)
            )
            .unwrap();
        }
    }
    out
}

pub fn catalogue() -> Catalogue<'static> {
    Catalogue::new(fairpull_iso_1585::ALL, fairpull_losses::ALL, &[]).unwrap_or(Catalogue::EMPTY)
}

/// Reduces a job text over logs by name. A log whose pull was given before gets one more digit of speed, by a seed: the
/// same recording would be refused.
pub fn reduced(job: &str, logs: &dyn Fn(&str) -> String) -> Result<Outcome, ReduceError> {
    let job = Job::parse(job, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut given: Vec<String> = Vec::new();
    let mut read = |name: &str| {
        let text = logs(name);
        let pull: String = text.lines().skip(250).take(50).collect();
        let copies = given.iter().filter(|t| **t == pull).count() as u64;
        given.push(pull);
        Ok(if copies == 0 { text } else { another(&text, copies) }.into_bytes())
    };
    reduce(&job, &catalogue(), &mut read, &mut |_, _| true)
}

/// The log with one more digit in its second column.
pub fn another(text: &str, mut seed: u64) -> String {
    let mut out = String::new();
    for (i, line) in text.lines().enumerate() {
        let mut cells: Vec<String> = line.split(',').map(String::from).collect();
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        if i > 0 {
            write!(cells[1], "{}", (seed >> 33) % 10).unwrap();
        }
        out += &(cells.join(",") + "\n");
    }
    out
}

/// The factor of ISO 1585 for a spark-ignition engine (99 kPa dry, 298 K).
pub fn iso_1585(dry_kpa: f64, celsius: f64) -> f64 {
    libm::pow(99.0 / dry_kpa, 1.2) * libm::pow((celsius + 273.0) / 298.0, 0.6)
}
