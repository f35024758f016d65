//! What a job file must say about a simulated job, and the job file itself.

use core::fmt::Write;

use crate::{Rig, RigKind, Table, Vehicle, Weather};

/// Standard uncertainties as declared; hidden errors are drawn from them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Declared {
    /// Roller (or hub brake) inertia, relative.
    pub roller_inertia: f64,
    /// Roller radius, relative.
    pub roller_radius: f64,
    /// Force or hub torque, relative.
    pub force: f64,
    /// Engine inertia, relative.
    pub engine_inertia: f64,
    /// Load share, absolute.
    pub load_share: f64,
    /// Barometer, kPa.
    pub pressure_kpa: f64,
    /// Thermometer, K.
    pub temperature_k: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
}

impl Declared {
    /// A rig with ordinary certificates.
    pub const USUAL: Self = Self {
        roller_inertia: 0.005,
        roller_radius: 0.0005,
        force: 0.005,
        engine_inertia: 0.05,
        load_share: 0.005,
        pressure_kpa: 0.05,
        temperature_k: 0.5,
        humidity: 0.03,
    };
}

/// A log of a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobLog {
    /// File name.
    pub file: String,
    /// Local date and time.
    pub start: String,
}

/// A state of the car.
#[derive(Clone, Debug, PartialEq)]
pub struct JobState {
    /// Name.
    pub name: String,
    /// Air as the weather station said.
    pub air: Weather,
    /// Logs in the order driven.
    pub logs: Vec<JobLog>,
}

/// A column as the job names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobColumn {
    /// Key of the role.
    pub key: &'static str,
    /// Name in the header.
    pub name: String,
    /// Unit, if any.
    pub unit: String,
    /// `gauge` or `absolute` for a pressure.
    pub reference: Option<&'static str>,
}

/// A whole job as declared by the workshop.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Title.
    pub title: String,
    /// Car with the declared inertias and load share.
    pub vehicle: Vehicle,
    /// Rig with the declared inertia and radius.
    pub rig: Rig,
    /// Standard uncertainties.
    pub declared: Declared,
    /// Standard that the figures are put on.
    pub standard: String,
    /// Standards shown beside it.
    pub also: Vec<String>,
    /// Columns.
    pub columns: Vec<JobColumn>,
    /// States in the order of the job.
    pub states: Vec<JobState>,
}

/// Columns of a table as a job names them.
#[must_use]
pub fn job_columns(table: &Table) -> Vec<JobColumn> {
    let of = |c: &crate::Column| {
        c.role.map(|role| JobColumn {
            key: role.key(),
            name: c.name.clone(),
            // A job file writes units without signs that a keyboard lacks.
            unit: role.written().1.trim_start_matches('°').into(),
            reference: c.gauge.map(|g| if g { "gauge" } else { "absolute" }),
        })
    };
    table.columns.iter().filter_map(of).collect()
}

/// A number without needless zeros.
fn short(x: f64) -> String {
    let text = format!("{x:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// Air in the form of a job file.
fn air(w: &Weather) -> String {
    format!(
        "{{ pressure = \"{:.1}hPa\", temperature = \"{:.1}C\", humidity = \"{:.1}%\" }}",
        w.pressure_kpa * 10.0,
        w.temperature_c,
        w.humidity * 100.0
    )
}

impl Job {
    /// The text of `job.toml`.
    #[must_use]
    pub fn to_toml(&self) -> String {
        let mut out = String::new();
        let mut put = |line: String| {
            out.push_str(&line);
            out.push('\n');
        };
        let percent = |x: f64| format!("{}%", short(x * 100.0));
        let (car, rig, u) = (&self.vehicle, &self.rig, &self.declared);
        put("schema = \"fairpull-job-1\"".into());
        put(format!("title = \"{}\"", self.title));
        put("note = \"Invented data: no real car, shop or person.\"".into());
        // Three grades from the pump, and the octane index at which the invented engine is just borderline.
        put("fuels = [\"en-228-95\", \"RON 98 MON 88\", \"premium-102\"]".into());
        put("\n[knock]\nrequirement = 96\nrequirement_u = 1".into());
        put("\n[vehicle]".into());
        put(format!("name = \"{}\"", car.name));
        put("ignition = \"spark\"".into());
        put(format!("charging = \"{}\"", if car.turbocharged { "turbocharged" } else { "none" }));
        put(format!("charge_cooling = \"{}\"", if car.turbocharged { "air" } else { "none" }));
        put(format!("ambient_compensated = {}", car.response == crate::Response::Held));
        put(format!("displacement = \"{}cm3\"", short(car.displacement_cm3)));
        put(format!("cylinders = {}", car.cylinders));
        put(format!("stroke = \"{}mm\"", short(car.stroke_mm)));
        put(format!("driven_wheels = {}", car.driven_wheels));
        put(format!("tyre_radius = \"{}mm\"", short(car.tyre_radius_m * 1000.0)));
        put(format!("ratio = {:?}", car.ratio));
        put(format!("engine_inertia = \"{}kg.m2\"", short(car.engine_inertia)));
        put(format!("engine_inertia_u = \"{}\"", percent(u.engine_inertia)));
        put(format!("gearbox_inertia = \"{}kg.m2\"", short(car.gearbox_inertia)));
        put(format!("wheel_inertia = \"{}kg.m2\"", short(car.wheel_inertia)));
        put("\n[rig]".into());
        put(format!("kind = \"{}\"", rig.kind.id()));
        if rig.kind != RigKind::Hub {
            put(format!("roller_inertia = \"{}kg.m2\"", short(rig.inertia)));
            put(format!("roller_inertia_u = \"{}\"", percent(u.roller_inertia)));
            put(format!("roller_radius = \"{}mm\"", short(rig.radius_m * 1000.0)));
            put(format!("roller_radius_u = \"{}\"", percent(u.roller_radius)));
            let [a, b, c] = rig.parasitic;
            put(format!("parasitic_a = \"{}N\"", short(a)));
            put(format!("parasitic_b = {b:?}"));
            put(format!("parasitic_c = {c:?}"));
        }
        if rig.braked() {
            put(format!("force_u = \"{}\"", percent(u.force)));
        }
        put("\n[loss]\nmodel = \"coast-down\"".into());
        put(format!("load_share = \"{}\"", percent(car.load_share)));
        put(format!("load_share_u = \"{}\"", percent(u.load_share)));
        put("\n[basis]".into());
        put(format!("standard = \"{}\"", self.standard));
        let also: Vec<String> = self.also.iter().map(|s| format!("\"{s}\"")).collect();
        put(format!("also = [{}]", also.join(", ")));
        put("\n[units]\npower = [\"kW\", \"PS\"]\ntorque = [\"Nm\", \"lbf.ft\"]".into());
        put("\n[air]".into());
        put(format!("pressure_u = \"{}hPa\"", short(u.pressure_kpa * 10.0)));
        put(format!("temperature_u = \"{}K\"", short(u.temperature_k)));
        put(format!("humidity_u = \"{}\"", percent(u.humidity)));
        for c in &self.columns {
            put(format!("\n[columns.{}]\nname = \"{}\"", c.key, c.name));
            if !c.unit.is_empty() {
                put(format!("unit = \"{}\"", c.unit));
            }
            if let Some(reference) = c.reference {
                put(format!("reference = \"{reference}\""));
            }
        }
        for s in &self.states {
            put(format!(
                "\n[[state]]\nname = \"{}\"\nfuel = \"{}\"\nair = {}",
                s.name,
                car.fuel,
                air(&s.air)
            ));
            for log in &s.logs {
                put(format!("\n[[state.log]]\nfile = \"{}\"\nstart = \"{}\"", log.file, log.start));
            }
        }
        out
    }
}

/// Adds minutes to a clock on one day and writes it with the date.
#[must_use]
pub fn clock(date: &str, minute_of_day: u32) -> String {
    let mut out = String::new();
    let _ = write!(out, "{date}T{:02}:{:02}:00", (minute_of_day / 60) % 24, minute_of_day % 60);
    out
}
