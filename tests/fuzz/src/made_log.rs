//! A log as a rig would write it, and damage done to it.

use core::fmt::Write as _;

use super::recipe::Choices;

/// Kinds of rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Roller of known inertia.
    Inertia,
    /// Roller with a brake.
    Braked,
    /// At the hubs.
    Hub,
}

impl Kind {
    /// As the job writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inertia => "inertia-roller",
            Self::Braked => "braked-roller",
            Self::Hub => "hub",
        }
    }
}

/// Channels beside the ones a rig needs: role, unit, what else the job says, value at the start and at the end.
const BESIDE: [(&str, &str, &str, f64, f64); 7] = [
    ("throttle", "%", "", 100.0, 100.0),
    ("intake_temperature", "C", "", 24.0, 26.0),
    ("charge_temperature", "C", "", 30.0, 55.0),
    ("manifold_pressure", "kPa", "reference = \"absolute\"\n", 90.0, 180.0),
    ("pre_turbine_pressure", "kPa", "reference = \"gauge\"\n", 20.0, 160.0),
    ("lambda", "", "", 1.0, 0.82),
    ("exhaust_temperature", "C", "", 430.0, 880.0),
];

/// What all logs of a job have in common.
pub struct Shape {
    kind: Kind,
    engine: bool,
    beside: u8,
    separator: char,
    comma: bool,
    speed: (&'static str, f64),
    clock: (&'static str, f64),
    rate_hz: f64,
    timeless: bool,
}

impl Shape {
    /// Shape from the next bytes.
    pub fn choose(kind: Kind, c: &mut Choices<'_>) -> Self {
        let engine = c.byte() % 4 != 1;
        let beside = c.byte();
        let separator = [';', ',', '\t', '|'][usize::from(c.byte()) % 4];
        let comma = c.byte() % 2 == 1 && separator != ',';
        let speed = [("km/h", 3.6), ("m/s", 1.0), ("mph", 2.236_936)][usize::from(c.byte()) % 3];
        let clock = [("s", 1.0), ("ms", 1e3), ("min", 1.0 / 60.0)][usize::from(c.byte()) % 3];
        let rate_hz = [10.0, 20.0, 5.0, 50.0][usize::from(c.byte()) % 4];
        let timeless = c.byte() % 8 == 1;
        Self { kind, engine, beside, separator, comma, speed, clock, rate_hz, timeless }
    }

    fn has(&self, n: usize) -> bool {
        self.beside >> n & 1 == 1
    }

    /// The tables of the job that say what is what.
    #[must_use]
    pub fn columns(&self) -> String {
        let mut out = String::new();
        if self.timeless {
            out += &format!("[format]\nsample_rate_hz = {:?}\n", self.rate_hz);
        }
        for (role, unit, more) in self.listed() {
            let unit = if unit.is_empty() { String::new() } else { format!("unit = \"{unit}\"\n") };
            out += &format!("[columns.{role}]\nname = \"{role}\"\n{unit}{more}");
        }
        out
    }

    fn listed(&self) -> Vec<(&'static str, &'static str, &'static str)> {
        let mut all = Vec::new();
        if !self.timeless {
            all.push(("time", self.clock.0, ""));
        }
        match self.kind {
            Kind::Inertia => all.push(("roller_speed", self.speed.0, "")),
            Kind::Braked => all.extend([("roller_speed", self.speed.0, ""), ("brake_force", "N", "")]),
            Kind::Hub => all.extend([("hub_rotation", "rpm", ""), ("hub_torque", "Nm", "")]),
        }
        if self.engine {
            all.push(("engine_speed", "rpm", ""));
        }
        let beside = BESIDE.iter().enumerate().filter(|(n, _)| self.has(*n));
        all.extend(beside.map(|(_, b)| (b.0, b.1, b.2)));
        all
    }

    /// A pull with the coast-down after it; then what the bytes break in it.
    pub fn log(&self, c: &mut Choices<'_>) -> Vec<u8> {
        let acceleration = c.number(5.0, 0.3, 20.0);
        let falling = c.number(0.2, 0.0, 1.2);
        let pull_s = c.number(6.0, 0.5, 12.0);
        let coast_s = c.number(5.0, 0.0, 10.0);
        let slowing = c.number(0.6, 0.01, 5.0);
        let noise = c.number(0.0, 0.0, 0.05);
        let open = c.byte() % 4 != 1;
        let mut seed = 0x9E37_79B9_7F4A_7C15 ^ u64::from(c.byte());
        let mut rows = vec![self.row(&self.listed().iter().map(|l| l.0.to_owned()).collect::<Vec<_>>())];
        let (lead, dt) = (1.0, 1.0 / self.rate_hz);
        let (mut t, mut v) = (0.0, 12.0);
        while t < lead + pull_s + coast_s && rows.len() < 240 {
            let part = ((t - lead) / pull_s).clamp(0.0, 1.0);
            let pulling = t >= lead && t < lead + pull_s;
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            let scatter = 1.0 + noise * ((seed >> 40) as f64 / f64::from(1u32 << 24) - 0.5);
            let engine = if t >= lead + pull_s && open { 900.0 } else { 170.0 * v * scatter };
            let force = if pulling { 2500.0 * (1.0 - falling * part) } else { 20.0 };
            let cells = self.cells(t, v * scatter, engine, force, part);
            rows.push(self.row(&cells));
            if pulling {
                v += acceleration * (1.0 - falling * part) * dt;
            } else if t >= lead {
                v = (v - slowing * dt).max(0.0);
            }
            t += dt;
        }
        self.damaged(rows, c).join("\n").into_bytes()
    }

    fn cells(&self, t: f64, v: f64, engine: f64, force: f64, part: f64) -> Vec<String> {
        let mut cells = Vec::new();
        let mut put = |x: f64| {
            let mut cell = String::new();
            let _ = write!(cell, "{x:.4}");
            cells.push(if self.comma { cell.replace('.', ",") } else { cell });
        };
        if !self.timeless {
            put(t * self.clock.1);
        }
        match self.kind {
            Kind::Inertia => put(v * self.speed.1),
            Kind::Braked => {
                put(v * self.speed.1);
                put(force);
            }
            Kind::Hub => {
                put(v / 0.316 * 9.549_297);
                put(force * 0.316);
            }
        }
        if self.engine {
            put(engine);
        }
        for (n, (.., first, last)) in BESIDE.iter().enumerate() {
            if self.has(n) {
                put(first + (last - first) * part);
            }
        }
        cells
    }

    fn row(&self, cells: &[String]) -> String {
        cells.join(&self.separator.to_string())
    }

    /// Up to seven places broken: cells overwritten, rows lost, doubled, exchanged or set back.
    fn damaged(&self, mut rows: Vec<String>, c: &mut Choices<'_>) -> Vec<String> {
        const WORDS: [&str; 14] = [
            "", "0", "-", "NaN", "inf", "1e308", "-1e308", "9999999", "-5", "1,5", "1.234,5", "\"",
            "12:34:56", "5e-324",
        ];
        for _ in 0..c.byte() % 8 {
            let (what, at, how) = (c.byte(), c.byte(), c.byte());
            let at = (usize::from(at) * rows.len() / 256).max(usize::from(what < 250));
            let run = (at + 1 + usize::from(how)).min(rows.len());
            if at >= rows.len() {
                continue;
            }
            match what % 6 {
                0 => {
                    let (column, word) = (usize::from(how) % 16, WORDS[usize::from(how / 16) % WORDS.len()]);
                    let mut cells: Vec<&str> = rows[at].split(self.separator).collect();
                    let column = column % cells.len().max(1);
                    if let Some(cell) = cells.get_mut(column) {
                        *cell = word;
                    }
                    rows[at] = cells.join(&self.separator.to_string());
                }
                1 => drop(rows.drain(at..run)),
                2 => drop(rows.splice(at..at, rows[at..run].to_vec())),
                3 => {
                    let last = rows.len() - 1;
                    rows.swap(at, (at + usize::from(how)).min(last));
                }
                4 => {
                    // a column that stands still from here on
                    let from: Vec<String> = rows[at].split(self.separator).map(str::to_owned).collect();
                    let column = usize::from(how) % from.len().max(1);
                    for row in &mut rows[at..] {
                        let mut cells: Vec<&str> = row.split(self.separator).collect();
                        if let (Some(cell), Some(held)) = (cells.get_mut(column), from.get(column)) {
                            *cell = held;
                        }
                        *row = cells.join(&self.separator.to_string());
                    }
                }
                _ => rows[at] = rows[at].chars().take(usize::from(how)).collect(),
            }
        }
        rows
    }
}
