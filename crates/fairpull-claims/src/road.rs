//! Acceleration times against the power claimed.

use crate::check::{Check, NotRun, Outcome};
use crate::claim::{Claim, Section, Value};
use crate::flow::{K95, compare};
use fairpull_core::{
    Catalogue, Cite, DrivePoint, Driveline, Gearbox, LossModel, PowerAtCrank, Reading, RoadSpeed,
};
use fairpull_road::{
    Car, CarUncertainty, Conditions, Drive, EnginePower, Geared, Measure, RoadError, RoadLoad, Rotating,
    Traction, power_factor_for, predict,
};

/// Standard deviation of the logarithm of power implied by one published weight and time from rest: measured on 392
/// cars of 1970 to 1982 (the checks against open data repeat it). Its 95 % range is a factor of 0.77 to 1.30.
pub const LONE_TIME_LOG_SPREAD: f64 = 0.134;

const MOTION: Cite = Cite::new("equation of motion with road load", "fairpull-road", Reading::Derived);
const SPREAD: Cite = Cite::new(
    "392 published times of the cars table (Ramos and Donoho 1982)",
    "spread of power implied by one time",
    Reading::Read,
);

fn number(s: &Section, k: &str) -> Option<f64> {
    s.get(k).and_then(Value::number)
}

struct Built {
    car: Car,
    u: CarUncertainty,
    on: Conditions,
    /// Curve and gears are known, so that the prediction is two-sided.
    full: bool,
    inputs: Vec<(String, f64, &'static str, bool)>,
}

pub(crate) fn checks(claim: &Claim, catalogue: &Catalogue<'_>, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    if claim.times.is_empty() {
        not.push(NotRun {
            id: "road-time",
            needs: "a [[time]] with from, to (or distance) and time".to_owned(),
        });
        return;
    }
    for (i, time) in claim.times.iter().enumerate() {
        let standing = number(time, "from").unwrap_or(0.0) == 0.0;
        match build(claim, standing, catalogue)
            .and_then(|b| check(&b, time, standing, i).map_err(|e| e.to_string()))
        {
            Ok(c) => out.push(c),
            Err(needs) => not.push(NotRun { id: "road-time", needs }),
        }
    }
}

/// Wheel over crank power with its standard uncertainty: stated, or from the loss model of the catalogue that needs
/// no evidence.
fn efficiency(claim: &Claim, catalogue: &Catalogue<'_>, power: f64) -> Result<(f64, f64, bool), String> {
    if claim.word("engine", "site").is_some_and(|s| s == "wheel") {
        return Ok((1.0, 0.0, false));
    }
    if let Some(e) = claim.si("car", "driveline_efficiency") {
        let u = claim.si("car", "driveline_efficiency_percent").map_or(0.01, |p| p / 100.0);
        return Ok((e, u, false));
    }
    let mut driveline = Driveline::unknown();
    driveline.gearbox = match claim.word("car", "gearbox") {
        Some("automatic") => Some(Gearbox::Converter),
        Some(_) => Some(Gearbox::ToothClutch),
        None => None,
    };
    driveline.driven_wheels = claim.word("car", "driven").map(|d| if d == "all" { 4 } else { 2 });
    let free = |l: &&&dyn LossModel| l.card().needs.is_empty() && !l.card().habit;
    let model = catalogue
        .losses()
        .iter()
        .find(free)
        .ok_or("car.driveline_efficiency, or a loss model that needs no evidence in the catalogue")?;
    let mut point = DrivePoint::unknown();
    point.road_speed = Some(RoadSpeed::from_metres_per_second(40.0));
    let (wheel, at) = model
        .to_wheels(PowerAtCrank::from_watts(power), &point, &driveline)
        .map_err(|e| format!("car.driveline_efficiency: {e}"))?;
    Ok((wheel.watts() / power, at.uncertainty / power, true))
}

fn build(claim: &Claim, standing: bool, catalogue: &Catalogue<'_>) -> Result<Built, String> {
    let car = |k| claim.si("car", k);
    let power = claim.si("engine", "power").ok_or("engine.power")?;
    let mass = car("mass").ok_or("car.mass, as driven")?;
    let (eta, eta_u, eta_assumed) = efficiency(claim, catalogue, power)?;
    let mut inputs = vec![
        ("power".to_owned(), power / 1000.0, "kW", false),
        ("mass".to_owned(), mass, "kg", false),
        ("wheel over crank power".to_owned(), eta, "1", eta_assumed),
    ];
    let mut take = |name: &str, given: Option<f64>, assumed: f64, unit: &'static str| {
        inputs.push((name.to_owned(), given.unwrap_or(assumed), unit, given.is_none()));
        given.unwrap_or(assumed)
    };
    let drag = take("drag area", car("drag_area"), 0.65, "m²");
    let rolling = take("rolling coefficient", car("rolling"), 0.011, "1");
    let factor = take("mass factor", car("mass_factor"), 1.05, "1");
    let density = take("air density", car("air_density"), 1.2, "kg/m³");
    let gears = match claim.get("car", "gears") {
        Some(Value::Numbers(g)) => Some(g.clone()),
        _ => None,
    };
    let points: Vec<EnginePower> = claim
        .curve
        .iter()
        .filter_map(|p| {
            let speed = number(p, "speed")?;
            let watts = number(p, "power").or_else(|| Some(number(p, "torque")? * speed))?;
            Some(EnginePower {
                engine_speed_rpm: speed * 9.549_296_585_513_72,
                crank_power_kw: watts / 1000.0,
            })
        })
        .collect();
    let top = points.iter().map(|p| p.crank_power_kw).fold(0.0, f64::max);
    let (drive, full) = match (gears, car("final_drive"), car("tyre_radius")) {
        (Some(gear_ratios), Some(final_drive), Some(tyre_radius_m)) if points.len() >= 3 => {
            let scale = power / 1000.0 / top;
            let curve = points
                .iter()
                .map(|p| EnginePower { crank_power_kw: p.crank_power_kw * scale, ..*p })
                .collect();
            let shift_s = take("shift time", car("shift_time"), 0.35, "s");
            let geared = Geared {
                curve,
                driveline_efficiency: eta,
                gear_ratios,
                final_drive,
                tyre_radius_m,
                slip: 0.0,
                shift_rpm: None,
                shift_s,
                launch_rpm: None,
            };
            (Drive::Geared(geared), true)
        }
        _ => (Drive::Constant { wheel_power_kw: eta * power / 1000.0 }, false),
    };
    let traction = (standing && full).then(|| {
        let driven_share = match claim.word("car", "driven") {
            Some("all") => 1.0,
            Some("rear") => 0.6,
            _ => 0.55,
        };
        Traction { friction: take("tyre friction", None, 0.95, "1"), driven_share }
    });
    let relative = |key: &str, given: bool, stated: f64, assumed: f64| {
        claim.si("car", key).map_or(if given { stated } else { assumed }, |p| p / 100.0)
    };
    let load = RoadLoad::from_drag_area(mass, drag, rolling, density).map_err(|e| e.to_string())?;
    let u = CarUncertainty {
        mass_kg: mass * relative("mass_percent", true, 0.02, 0.02),
        power_relative: eta_u / eta,
        mass_factor: if car("mass_factor").is_some() { 0.01 } else { 0.02 },
        f0_n: load.f0_n * if car("rolling").is_some() { 0.1 } else { 0.2 },
        drag_relative: relative("drag_percent", car("drag_area").is_some(), 0.05, 0.15),
        density_relative: if car("air_density").is_some() { 0.005 } else { 0.03 },
        friction: if traction.is_some() { 0.1 } else { 0.0 },
        slope_percent: 0.05,
        headwind_mps: 0.5,
        shift_s: if !full {
            0.0
        } else if car("shift_time").is_some() {
            0.05
        } else {
            0.15
        },
        model_relative: 0.005,
    };
    let car = Car { mass_kg: mass, rotating: Rotating::MassFactor(factor), load, traction, drive };
    Ok(Built { car, u, on: Conditions::still(density), full, inputs })
}

fn check(b: &Built, time: &Section, standing: bool, index: usize) -> Result<Check, RoadError> {
    let from_kmh = number(time, "from").unwrap_or(0.0) * 3.6;
    let rollout = standing && matches!(time.get("rollout"), Some(Value::Flag(true)));
    let measure = match (number(time, "to"), number(time, "distance")) {
        (Some(to), _) => Measure::Speeds { from_kmh, to_kmh: to * 3.6, rollout },
        (None, Some(distance_m)) => Measure::Distance { distance_m, from_kmh, rollout },
        (None, None) => Measure::kmh(0.0, 100.0),
    };
    let given = number(time, "time").unwrap_or(0.0);
    let half = match time.get("time") {
        Some(Value::Quantity { half_digit, .. }) => *half_digit,
        _ => 0.0,
    };
    let u_time = number(time, "uncertainty").unwrap_or(0.005 * given);
    let u_time = libm::hypot(u_time, half / libm::sqrt(3.0));
    let predicted = predict(&b.car, b.on, &b.u, &[measure])?
        .into_iter()
        .next()
        .ok_or(RoadError::NoAnswer { what: "no prediction".to_owned(), mend: "check the claim's times" })?;
    let implied = power_factor_for(&b.car, b.on, measure, given).ok();
    let off = libm::log(given / predicted.time_s.value);
    // ln t per ln P, from the power that the time implies; a value that holds for all road cars where there is none.
    let lever = implied.filter(|k| libm::fabs(libm::log(*k)) > 1e-6).map_or(-0.8, |k| off / libm::log(k));
    let mut u = libm::hypot(predicted.time_s.standard_uncertainty() / predicted.time_s.value, u_time / given);
    if standing || !b.full {
        // One time, with launch or curve unknown, speaks no louder than such times have been seen to.
        u = libm::hypot(u, LONE_TIME_LOG_SPREAD * libm::fabs(lever));
    }
    let two_sided = compare(off, u);
    let outcome = match (b.full, off > 0.0) {
        // Peak power at every speed is the best any car can do: a slower time refutes nothing.
        (false, true) if two_sided != Outcome::Consistent => Outcome::CannotTell,
        _ => two_sided,
    };
    let cite = if standing || !b.full { SPREAD } else { MOTION };
    let place = match implied {
        Some(k) => format!(
            "predicted {:.2} s, claimed {given:.2} s: that time needs {:+.1} % of the claimed power{}",
            predicted.time_s.value,
            100.0 * (k - 1.0),
            if b.full { "" } else { ", if it were there at every speed" }
        ),
        None => format!(
            "predicted {:.2} s, claimed {given:.2} s: no power gives that time with these tyres and shifts",
            predicted.time_s.value
        ),
    };
    let (low, high) =
        (predicted.time_s.value * libm::exp(-K95 * u), predicted.time_s.value * libm::exp(K95 * u));
    let title = format!("time {}: {}", index + 1, predicted.name);
    let mut check = Check::new("road-time", &title, given, "s", cite)
        .bounds(Some(low), if b.full { Some(high) } else { None });
    for (name, value, unit, assumed) in &b.inputs {
        check = if *assumed { check.assuming(name, *value, unit) } else { check.with(name, *value, unit) };
    }
    Ok(check.assuming("standard uncertainty of the comparison", 100.0 * u, "%").decide(outcome, cite, place))
}
