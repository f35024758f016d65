//! A whole job from a few bytes: each byte chooses one thing, 0 or none at all being the ordinary choice, so that
//! small changes of the input stay jobs that reach the reduction. The car, the rig and the numbers are invented.

use super::made_log::{self, Kind};

/// The first byte of an input that is a recipe; no text begins with it.
pub const MARK: u8 = 0;

/// Bytes as choices.
pub struct Choices<'a> {
    bytes: core::slice::Iter<'a, u8>,
}

impl<'a> Choices<'a> {
    /// Choices in the order of the bytes.
    #[must_use]
    pub fn new(bytes: &'a [u8]) -> Self {
        Self { bytes: bytes.iter() }
    }

    /// The next byte.
    pub fn byte(&mut self) -> u8 {
        self.bytes.next().copied().unwrap_or(0)
    }

    /// One of these; the first is the ordinary one.
    pub fn one<'b>(&mut self, of: &[&'b str]) -> &'b str {
        of.get(usize::from(self.byte()) % of.len().max(1)).copied().unwrap_or("")
    }

    /// The ordinary value, or one between the two.
    pub fn number(&mut self, ordinary: f64, low: f64, high: f64) -> f64 {
        match self.byte() {
            0 => ordinary,
            n => low + (high - low) * f64::from(n) / 255.0,
        }
    }
}

/// What a job asks for, as text; and its logs in the order in which it names them.
#[must_use]
pub fn made(bytes: &[u8]) -> (String, Vec<Vec<u8>>) {
    let mut c = Choices::new(bytes);
    let kind = [Kind::Inertia, Kind::Braked, Kind::Hub][usize::from(c.byte()) % 3];
    let mut job = String::from("schema = \"fairpull-job-1\"\n");
    fuels(&mut job, &mut c);
    vehicle(&mut job, &mut c);
    rig(&mut job, kind, &mut c);
    basis(&mut job, &mut c);
    let shape = made_log::Shape::choose(kind, &mut c);
    job += &shape.columns();
    let mut logs = Vec::new();
    let states = 1 + usize::from(c.byte()) % 3;
    for s in 0..states {
        job += &format!("[[state]]\nname = \"state {s}\"\n{}", air(&mut c));
        job += c.one(&["", "fuel = \"RON 98\"\n", "fuel = \"en-228-95\"\n", "fuel = \"E85\"\n"]);
        let pulls = 1 + usize::from(c.byte()) % 3;
        for p in 0..pulls {
            job += &format!("[[state.log]]\nfile = \"{s}-{p}.csv\"\n");
            match c.byte() % 8 {
                0 => job += &format!("start = \"2026-05-{:02}T10:{:02}:00\"\n", 11 + s, 7 * p),
                1 => job += &air(&mut c),
                2 => job += "start = \"2026-05-11T10:00:00\"\n",
                3 => job += "skip = \"wheelspin\"\n",
                _ => {}
            }
            logs.push(shape.log(&mut c));
        }
    }
    (job, logs)
}

fn fuels(job: &mut String, c: &mut Choices<'_>) {
    *job += c.one(&["", "fuels = [\"en-228-95\", \"RON 98 MON 88\"]\n", "fuels = [\"RON 40\"]\n"]);
    let knock = c.byte();
    if knock > 0 {
        let requirement = 80.0 + f64::from(knock) / 8.0;
        *job += &format!("[knock]\nrequirement = {requirement}\n");
        *job += c.one(&["", "k = -0.3\n", "k = 3.0\nk_u = 0.0\n", "requirement_u = 0.0\n"]);
    }
}

fn vehicle(job: &mut String, c: &mut Choices<'_>) {
    let ignition = c.one(&["spark", "compression"]);
    let charging = c.one(&["turbocharged", "none", "supercharged"]);
    let cooling = c.one(&["air", "none", "liquid"]);
    *job += &format!(
        "[vehicle]\nname = \"Invented\"\nignition = \"{ignition}\"\ncharging = \"{charging}\"\ncharge_cooling = \"{cooling}\"\n"
    );
    *job += c.one(&["", "ambient_compensated = true\n"]);
    *job += c.one(&["", "displacement = \"1950cm3\"\n", "displacement = \"50cm3\"\n"]);
    *job += c.one(&["", "cylinders = 4\nbore = \"82mm\"\nstroke = \"90mm\"\ncompression_ratio = 9.5\n"]);
    *job += c.one(&["", "fuel_per_cycle = 60.0\ncharge_pressure_ratio = 2.0\n", "fuel_per_cycle = 1.0\n"]);
    *job += c.one(&["", "gearbox = \"manual\"\n", "gearbox = \"planetary\"\n", "gearbox = \"converter\"\n"]);
    *job += c.one(&["driven_wheels = 2\n", "driven_wheels = 4\n", "driven_wheels = 1\n"]);
    let tyre = c.number(0.316, 0.1, 1.0);
    let ratio = c.number(5.62, 0.5, 60.0);
    let inertia = c.number(0.16, 0.001, 10.0);
    *job += &format!("tyre_radius = \"{tyre}m\"\nratio = {ratio:?}\nengine_inertia = \"{inertia}kg.m2\"\n");
    *job += c.one(&["", "gearbox_inertia = \"5kg.m2\"\nwheel_inertia = \"50kg.m2\"\n"]);
    *job += c.one(&["", "tyre_radius_u = \"0%\"\nengine_inertia_u = \"0%\"\n", "tyre_radius_u = \"50%\"\n"]);
}

fn rig(job: &mut String, kind: Kind, c: &mut Choices<'_>) {
    let inertia = c.number(21.5, 0.1, 500.0);
    let radius = c.number(0.159, 0.05, 1.0);
    *job += &format!("[rig]\nkind = \"{}\"\n", kind.word());
    if kind != Kind::Hub || c.byte() > 0 {
        *job += &format!("roller_inertia = \"{inertia}kg.m2\"\n");
    }
    *job += c.one(&["", "roller_inertia_u = \"0%\"\n", "roller_inertia_u = \"50%\"\n"]);
    // a hub rig that states a roller's radius is refused at once
    if kind != Kind::Hub {
        *job += &format!("roller_radius = \"{radius}m\"\n");
        *job += c.one(&["", "roller_radius_u = \"0%\"\n"]);
    }
    *job += c.one(&[
        "parasitic_a = \"12N\"\nparasitic_b = 0.3\nparasitic_c = 0.01\n",
        "",
        "parasitic_a = \"2000N\"\nparasitic_b = -50.0\nparasitic_c = -2.0\n",
    ]);
    let model = c.one(&[
        "coast-down",
        "constant-plus-share",
        "element-efficiencies",
        "fixed-percentage",
        "ec-light-duty-gearbox",
        "prior-band",
        "eu-2017-2400",
        "no-such-model",
    ]);
    *job += &format!("[loss]\nmodel = \"{model}\"\n");
    *job += c.one(&["load_share = \"2%\"\n", "", "load_share = \"30%\"\nload_share_u = \"20%\"\n"]);
    *job +=
        c.one(&["constant_drag = \"3kW\"\n", "", "constant_drag = \"200kW\"\nconstant_drag_u = \"-1kW\"\n"]);
    *job += c.one(&["max_input_torque = \"400Nm\"\ndirect_gear = true\n", ""]);
    *job += c.one(&[
        "elements = [\"helical-gear\"]\n",
        "",
        "elements = [\"hydraulic-converter\", \"vee-belt\"]\n",
    ]);
}

fn basis(job: &mut String, c: &mut Choices<'_>) {
    let catalogue = fairpull::builtin();
    let ids: Vec<&str> = catalogue.standards().iter().map(|s| s.card().id).collect();
    let ordinary = ids.iter().position(|id| *id == "iso-1585").unwrap_or(0);
    let pick = |at: usize| ids.get((ordinary + at) % ids.len().max(1)).copied().unwrap_or("");
    let standard = pick(usize::from(c.byte()));
    *job += &format!("[basis]\nstandard = \"{standard}\"\n");
    *job += c.one(&["", "rating = \"gross\"\n", "rating = \"net\"\n"]);
    let also = usize::from(c.byte());
    if also > 0 {
        *job += &format!("also = [\"{}\", \"{}\"]\n", pick(also), pick(also / 16));
    }
    *job += c.one(&["", "[units]\npower = [\"hp\"]\ntorque = [\"lbf.ft\"]\n"]);
    *job += c.one(&[
        "",
        "[air]\npressure_u = \"0Pa\"\ntemperature_u = \"0K\"\nhumidity_u = \"0%\"\n",
        "[air]\npressure_u = \"100hPa\"\ntemperature_u = \"100K\"\nhumidity_u = \"100%\"\n",
    ]);
    let step = [500.0, 1000.0, 100.0, 333.3][usize::from(c.byte()) % 4];
    *job += &format!("[grid]\nstep = \"{step}rpm\"\n");
    *job +=
        c.one(&["", "from = \"2000rpm\"\n", "from = \"200rpm\"\nto = \"25000rpm\"\n", "to = \"3000rpm\"\n"]);
    *job += c.one(&["", "smoothing = \"20rpm\"\n", "smoothing = \"3000rpm\"\n"]);
}

fn air(c: &mut Choices<'_>) -> String {
    let hpa = c.number(985.0, 500.0, 1100.0);
    let celsius = c.number(24.0, -40.0, 60.0);
    let moisture = match c.byte() % 4 {
        0 => "humidity = \"55%\"".to_owned(),
        1 => format!("dew_point = \"{}C\"", celsius - f64::from(c.byte()) / 8.0),
        2 => format!("wet_bulb = \"{}C\"", celsius - f64::from(c.byte()) / 16.0),
        _ => format!("humidity = \"{}%\"", f64::from(c.byte()) / 2.0),
    };
    let pressure = match c.byte() % 3 {
        0 => format!("pressure = \"{hpa}hPa\""),
        1 => format!("qnh = \"{hpa}hPa\", elevation = \"430m\""),
        _ => format!("qnh = \"{hpa}hPa\", elevation = \"-400m\""),
    };
    format!("air = {{ {pressure}, temperature = \"{celsius}C\", {moisture} }}\n")
}
