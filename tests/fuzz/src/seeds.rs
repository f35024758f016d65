//! Inputs to begin with, made from the fixtures: (target, name, bytes).

use std::path::{Path, PathBuf};

/// An input that the fuzzer may start from.
pub type Seed = (&'static str, String, Vec<u8>);

/// Every seed; `fixtures` is the folder of that name.
#[must_use]
pub fn all(fixtures: &Path) -> Vec<Seed> {
    let mut out = Vec::new();
    let mut take = |target: &'static str, folder: &str, ends: &str| {
        for path in files(&fixtures.join(folder), ends) {
            out.push((target, name(&path), bytes(&path)));
        }
    };
    take("log", "recordings", ".csv");
    take("log", "recordings", ".txt");
    take("claim", "claims", ".toml");
    take("declared", "declared", ".toml");
    take("job", "demo", "job.toml");
    let job = String::from_utf8_lossy(&bytes(&fixtures.join("demo/job.toml"))).into_owned();
    let whole = bytes(&fixtures.join("demo/before-1.csv"));
    let log = thinned(&whole, 5);
    out.push(("log", "demo".into(), thinned(&whole, 40)));
    out.push(("reduction", "demo".into(), [short(&job).as_bytes(), b"\n%%\n", &log].concat()));
    for (n, choices) in RECIPES.iter().enumerate() {
        out.push(("reduction", format!("recipe-{n}"), [&[super::recipe::MARK], *choices].concat()));
    }
    for (n, t) in QUANTITIES.iter().enumerate() {
        out.push(("quantity", n.to_string(), t.as_bytes().to_vec()));
    }
    for (n, t) in FIGURES.iter().enumerate() {
        out.push(("figure", n.to_string(), t.as_bytes().to_vec()));
    }
    for (n, t) in QUESTIONS.iter().enumerate() {
        out.push(("question", n.to_string(), t.as_bytes().to_vec()));
    }
    for (n, t) in TRACKS.iter().enumerate() {
        out.push(("track", n.to_string(), t.as_bytes().to_vec()));
    }
    out.push(("road", "pull".into(), pull()));
    out
}

/// Files of a folder whose names end so, in order.
#[must_use]
pub fn files(folder: &Path, ends: &str) -> Vec<PathBuf> {
    let listed = std::fs::read_dir(folder).map(|d| d.flatten().map(|e| e.path()).collect());
    let mut paths: Vec<PathBuf> = listed.unwrap_or_default();
    paths.retain(|p| p.is_file() && p.to_string_lossy().ends_with(ends));
    paths.sort();
    paths
}

fn bytes(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap_or_default()
}

fn name(path: &Path) -> String {
    path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default()
}

/// One row in so many of a log, so that a fuzzer gets round often.
fn thinned(log: &[u8], every: usize) -> Vec<u8> {
    let text = String::from_utf8_lossy(log);
    let rows = text.lines().enumerate().filter(|(n, _)| n % every == 0);
    rows.flat_map(|(_, l)| format!("{l}\n").into_bytes()).collect()
}

/// A job with one log a state and a coarse grid.
fn short(job: &str) -> String {
    let head = job.split("[[state]]").next().unwrap_or(job);
    let state = |n: &str| {
        let air = "air = { pressure = \"985.6hPa\", temperature = \"23.9C\", humidity = \"57.9%\" }";
        format!(
            "[[state]]\nname = \"{n}\"\n{air}\n[[state.log]]\nfile = \"a.csv\"\n[[state.log]]\nfile = \"b.csv\"\n\n"
        )
    };
    format!("{head}{}{}[grid]\nstep = \"250rpm\"\n", state("before"), state("after"))
}

/// A pull from 60 to 210 km/h as the target `road` reads it.
fn pull() -> Vec<u8> {
    let mut out: Vec<u8> = Vec::new();
    for n in [15_000u16, 10_500, 15_000, 0, 4_000, 0, 5_000, 0] {
        out.extend(n.to_le_bytes());
    }
    for row in 0u16..300 {
        for n in [500, 12_000 + 100 * row, 10_000 + row] {
            out.extend(n.to_le_bytes());
        }
    }
    out
}

/// Choices away from the ordinary job: a braked rig, a hub rig, repeats, a log in another hand, one with damage.
const RECIPES: [&[u8]; 4] = [&[], &[1], &[2], &[0, 0, 0, 1, 1]];

const QUANTITIES: [&str; 16] = [
    "530PS kW",
    "400kW hp",
    "1,5 bar(g)",
    "29.92inHg hPa",
    "34C",
    "-40F K",
    "55%",
    "101.6mm in",
    "300lbf.ft Nm",
    "6500rpm rad/s",
    "60mg/L",
    "1e308kW",
    "1.234,5 W",
    "97% RON 98 + 3% ethanol",
    "2.6kg.m2",
    "12°",
];

const FIGURES: [&str; 8] = [
    "150 kW @ 5500 rpm; crank; iso-1585; net; air 985hPa, 34C, 55%",
    "400 kW",
    "300 hp; wheel; observed",
    "412 Nm @ 3000 rpm; hub; sae-j1349; gross",
    "530 PS ± 8 PS; crank; din-70020; fuel RON 98",
    "200..210 kW; crank; sae-j607; air 29.92inHg, 60F, dew 50F",
    "150 kW @ 5500 rpm; crank; iso-1585 x wheel",
    "1e3 W; crank; ec-80-1269; air 900hPa..1000hPa, -10C..30C, 20%..80%",
];

const QUESTIONS: [&str; 29] = [
    "air\npressure = \"985hPa\"\ntemperature = \"24C\"\nhumidity = \"55%\"\n",
    "air\nqnh = \"1013hPa\"\nelevation = \"430m\"\ntemperature = \"24C\"\nwet_bulb = \"18C\"\n",
    "factors\n{\"air\":{\"pressure\":\"985hPa\",\"temperature\":\"34C\",\"dew_point\":\"12C\"},\"engine\":{\"ignition\":\"compression\",\"charging\":\"turbocharged\",\"fuel_per_stroke\":\"60mg/L\",\"charge_pressure_ratio\":2.1}}",
    "fuel\nfuel = \"RON 98 MON 88\"\n",
    "knock\nfuels = [\"RON 95 MON 85\", \"en-228-95\"]\nrequirement = \"96 ± 1\"\nk = \"-0.3\"\n",
    "stress\n[before]\nbarometer = \"985hPa\"\ncharged = true\nswept_volume = \"1984cm3\"\nstroke = \"92.8mm\"\nengine_speed = \"6500rpm\"\npower = \"221kW ± 2kW\"\n[after]\nbarometer = \"985hPa\"\npower = \"241kW\"\nengine_speed = \"6500rpm\"\nswept_volume = \"1984cm3\"\n",
    "predict\nmeasures = [\"0-100km/h\", \"402m\"]\n[car]\nmass = \"1500kg\"\nwheel_power = \"200kW\"\ndrag_area = \"0.65m2\"\nrolling = \"0.012\"\n",
    "restate\nfigure = \"400kW\"\nfrom = \"din-70020\"\nto = \"sae-j1349\"\n[air]\npressure = \"985hPa\"\ntemperature = \"24C\"\nhumidity = \"55%\"\n",
    "coast-down\nmass = \"1500kg\"\n[[points]]\nspeed = \"100km/h\"\na_s = [5.0, 5.1, 5.2]\nb_s = [5.3, 5.2, 5.1]\n[[points]]\nspeed = \"60km/h\"\na_s = [9.0, 9.1, 9.2]\nb_s = [9.3, 9.2, 9.1]\n",
    "road-log\n[car]\nmass = \"1500kg\"\n%%\nTime [s],Speed [km/h]\n0,60\n1,70\n2,80\n3,90\n4,100\n5,110\n6,120\n7,130\n8,140\n9,150\n",
    "vet\n[set]\n\"engine.power\" = \"430PS\"\n\"engine.power_speed\" = \"6500rpm\"\n\"engine.torque\" = \"440Nm\"\n",
    "coast-down\nmass = \"1500kg\"\n%%\nTime [s],Speed [km/h]\n0,130\n1,127\n2,124\n3,121\n4,118\n5,115\n6,112\n7,109\n8,106\n9,103\n10,100\n11,97\n",
    "@version\n",
    "@units\n",
    "@catalogue\n",
    "@card\n{\"id\":\"iso-1585\"}",
    "@convert\n{\"quantity\":\"530PS\",\"unit\":\"kW\"}",
    "@air\n{\"pressure\":\"985hPa\",\"temperature\":\"24C\",\"humidity\":\"55%\"}",
    "@factors\n{\"air\":{\"pressure\":\"985hPa\",\"temperature\":\"34C\",\"dew_point\":\"12C\"},\"engine\":{\"ignition\":\"spark\"}}",
    "@figure\n{\"figure\":\"150 kW @ 5500 rpm; crank; iso-1585; net\"}",
    "@restate\n{\"figure\":\"400kW; crank; din-70020\",\"to\":\"sae-j1349\",\"air\":{\"pressure\":\"985hPa\",\"temperature\":\"24C\",\"humidity\":\"55%\"}}",
    "@restate_all\n{\"figure\":\"400kW; crank; din-70020\"}",
    "@fuel\n{\"fuel\":\"70% en-228-95 + 30% ethanol\"}",
    "@knock\n{\"fuels\":[\"RON 95 MON 85\"],\"requirement\":\"96 ± 1\",\"k\":\"-0.3\"}",
    "@stress\n{\"before\":{\"barometer\":\"985hPa\",\"swept_volume\":\"1984cm3\",\"stroke\":\"92.8mm\",\"engine_speed\":\"6500rpm\",\"power\":\"221kW\"}}",
    "@road\n{\"measures\":[\"0-100km/h\"],\"car\":{\"mass\":\"1500kg\",\"wheel_power\":\"200kW\",\"drag_area\":\"0.65m2\",\"rolling\":\"0.012\"}}",
    "@vet\n{\"set\":{\"engine.power\":\"430PS\",\"engine.power_speed\":\"6500rpm\"}}",
    "@factors-many\niso-1585\n{\"ignition\":\"spark\"}\n98.5 1.6 24\n90 0 -10\nNaN 1 30\n",
    "@cranks-many\nfixed-percentage\n{\"coast_down\":[150.0,0.5,0.4],\"load_share\":[0.02,0.005],\"gearbox\":\"manual\",\"elements\":[\"spur-gear\"]}\n150000 40 5500\n",
];

const TRACKS: [&str; 2] = [
    "<?xml version=\"1.0\"?>\n<gpx version=\"1.0\" creator=\"invented\" xmlns=\"http://www.topografix.com/GPX/1/0\"><trk><trkseg>\n<trkpt lat=\"52.5\" lon=\"13.3\"><ele>40</ele><time>2026-05-11T10:15:00Z</time><speed>20</speed></trkpt>\n<trkpt lat=\"52.501\" lon=\"13.3\"><ele>40</ele><time>2026-05-11T10:15:01Z</time><speed>25</speed></trkpt>\n<trkpt lat=\"52.502\" lon=\"13.3\"><time>2026-05-11T10:15:02Z</time></trkpt>\n</trkseg></trk></gpx>\n",
    "$GPRMC,101500.00,A,5230.0000,N,01320.0000,E,54.00,90.0,110526,,,A*63\n$GPGGA,101500.20,5230.0000,N,01320.0000,E,1,08,1.0,40.0,M,40.0,M,,*60\n$GPRMC,101501.00,A,5230.1000,N,01320.0000,E,64.00,90.0,110526,,,A*63\n",
];
