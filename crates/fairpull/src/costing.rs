//! What the power costs the engine, from the outcome of a job: stress figures, their change, and knock margins.

use fairpull_core::{Catalogue, Charging};
use fairpull_fuels::{
    ChangesGiven, KnockInput, KnockReport, Stated as Octane, Verdict as Margin, parse_fuel,
};
use fairpull_recordings::Role;
use fairpull_reduction::{Bounded, ComparisonOutcome, Job, Outcome, StateOutcome, Verdict};
use fairpull_report::model::{FuelMargin, Interval, StressChange, StressStat};
use fairpull_stress::{Figure, PressureGiven, StressFigure, StressInput, StressReport};

const K95: f64 = 1.959_963_984_540_054;

/// A channel of a state at the speed of its peak power; uncertainty 0 where a single pull leaves no scatter.
fn at_peak(s: &StateOutcome, role: Role) -> Option<Figure> {
    let b = s.channels.iter().find(|c| c.role == role).map(|c| c.at_peak).filter(|b| b.value.is_finite())?;
    Some(figure(&b))
}

fn figure(b: &Bounded) -> Figure {
    let u = (b.high - b.low) / (2.0 * K95);
    Figure::new(b.value, if u.is_finite() { libm::fabs(u) } else { 0.0 })
}

/// Stress figures of a state at the speed of its peak power, from the recorded channels and the stated engine.
fn report(job: &Job, s: &StateOutcome) -> StressReport {
    let mut i = StressInput::default();
    let kelvin = |role| at_peak(s, role).map(|f| Figure::new(f.value - 273.15, f.uncertainty));
    let absolute =
        |role| at_peak(s, role).map(|f| PressureGiven::absolute(f.value / 1e3, f.uncertainty / 1e3));
    let stations: Vec<f64> = s.pulls.iter().map(|p| p.air.air.station().kilopascals()).collect();
    if !stations.is_empty() {
        let mean = stations.iter().sum::<f64>() / stations.len() as f64;
        i.barometer = Some(PressureGiven::absolute(mean, job.pressure_u / 1e3));
    }
    i.charged = job.vehicle.engine.charging != Charging::None;
    i.swept_volume_l = job.vehicle.displacement.map(|v| Figure::exact(v * 1e3));
    i.stroke_mm = job.vehicle.stroke.map(|v| Figure::exact(v * 1e3));
    i.engine_speed_rpm = Some(Figure::exact(s.peak_power.rpm));
    i.power_kw = Some(figure(&s.peak_power.value).scaled(1e-3));
    i.intake_temperature_c = kelvin(Role::IntakeTemperature);
    i.charge_temperature_c = kelvin(Role::ChargeTemperature);
    i.compressor_outlet_temperature_c = kelvin(Role::CompressorOutletTemperature);
    i.compressor_inlet = absolute(Role::CompressorInletPressure);
    i.compressor_outlet = absolute(Role::CompressorOutletPressure);
    i.manifold = absolute(Role::ManifoldPressure);
    i.pre_turbine = absolute(Role::PreTurbinePressure);
    i.post_turbine = absolute(Role::ExhaustBackPressure);
    i.air_flow_kg_s = at_peak(s, Role::AirFlow);
    i.fuel_flow_kg_h = at_peak(s, Role::FuelFlow).map(|f| f.scaled(3600.0));
    i.lambda = at_peak(s, Role::Lambda);
    if let Some(named) = s.fuel.as_deref().and_then(|t| parse_fuel(t).ok()) {
        let ratio = named.stock.stoichiometric_ratio;
        i.stoichiometric_ratio = Some(Figure::new(ratio.value, ratio.uncertainty));
    }
    fairpull_stress::stress(&i)
}

/// A ratio has no unit for readers.
fn unit(u: &str) -> String {
    if u == "1" { String::new() } else { u.into() }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |c| core::iter::once(c.to_ascii_uppercase()).chain(letters).collect())
}

fn interval(f: &Figure) -> Interval {
    let [lo95, hi95] = f.interval();
    Interval { value: f.value, lo95, hi95 }
}

fn stat(f: &StressFigure) -> StressStat {
    StressStat {
        id: f.id.into(),
        name: capital(f.title),
        unit: unit(f.unit),
        value: interval(&f.figure),
        remark: f.remark.map(Into::into),
    }
}

/// Stress figures of a state, for the report.
pub(crate) fn stress(job: &Job, s: &StateOutcome) -> Vec<StressStat> {
    let mut out: Vec<StressStat> = report(job, s).figures.iter().map(stat).collect();
    let mut i = StressInput::default();
    i.charged = job.vehicle.engine.charging != Charging::None;
    i.swept_volume_l = job.vehicle.displacement.map(|v| Figure::exact(v * 1e3));
    i.torque_nm = Some(figure(&s.peak_torque.value));
    if let Some(bmep) = fairpull_stress::stress(&i).get("bmep") {
        let mut at_torque = stat(bmep);
        at_torque.id = "bmep-peak-torque".into();
        at_torque.name += " at peak torque";
        out.push(at_torque);
    }
    out
}

/// Figures that hold nothing but the power: what the rig adds to both states leaves their change.
const OF_POWER: [&str; 2] = ["bmep", "specific-power"];
/// The pistons' speed changes with the engine speed of the peak alone, which has no interval here.
const OF_SPEED: &str = "piston-speed";

/// Change of every stress figure that both states have.
pub(crate) fn changes(job: &Job, c: &ComparisonOutcome, outcome: &Outcome) -> Vec<StressChange> {
    let (Some(from), Some(to)) = (outcome.states.get(c.from), outcome.states.get(c.to)) else {
        return Vec::new();
    };
    let repeated = from.pulls.len() > 1 && to.pulls.len() > 1;
    let (a, b) = (report(job, from), report(job, to));
    fairpull_stress::changes(&a, &b, 0.0)
        .iter()
        .filter(|x| x.id != OF_SPEED)
        .map(|x| {
            let half = if OF_POWER.contains(&x.id) {
                0.5 * libm::fabs((c.peak.high - c.peak.low) * x.before.value)
            } else {
                K95 * x.change.uncertainty
            };
            let v = x.change.value;
            // one pull a state leaves no scatter to judge by, so nothing is called detectable
            let half = if repeated && half.is_finite() { half } else { 10.0 * libm::fabs(v) + 1.0 };
            StressChange {
                id: x.id.into(),
                name: capital(x.title),
                unit: unit(x.unit),
                from: x.before.value,
                to: x.after.value,
                change: Interval { value: v, lo95: v - half, hi95: v + half },
                detectable: libm::fabs(v) > half,
            }
        })
        .collect()
}

/// What a reader wants to know first, in this order.
const FIRST: [&str; 7] = [
    "pre_turbine_pressure",
    "exhaust_back_pressure",
    "manifold_pressure",
    "charge_temperature",
    "exhaust_temperature",
    "spark_advance",
    "lambda",
];

/// Decimals that show one digit of a half width, two where the first is a 1.
fn decimals(half: f64) -> usize {
    let exponent = libm::floor(libm::log10(libm::fmax(half, 1e-9)));
    let lead = libm::fmax(half, 1e-9) / libm::pow(10.0, exponent);
    let digits = if lead < 1.95 { 1.0 } else { 0.0 };
    // between 0 and 9 by construction
    libm::fmin(libm::fmax(digits - exponent, 0.0), 9.0) as usize
}

/// Power and what it costs in one line.
pub(crate) fn line(c: &ComparisonOutcome, channels: &[fairpull_report::model::ChannelChange]) -> String {
    let half = 50.0 * (c.mean.high - c.mean.low);
    let d = decimals(half);
    let power = match c.verdict {
        Verdict::Gain => format!("Power up {:.d$} % ± {half:.d$}", 100.0 * c.mean.value),
        Verdict::Loss => format!("Power down {:.d$} % ± {half:.d$}", -100.0 * c.mean.value),
        Verdict::NoDetectableChange => {
            format!("Power change not detectable ({:+.d$} % ± {half:.d$})", 100.0 * c.mean.value)
        }
    };
    let mut parts = vec![power];
    let found = FIRST.iter().filter_map(|r| channels.iter().find(|x| x.role == *r && x.detectable));
    for x in found.take(4) {
        let half = 0.5 * (x.change.hi95 - x.change.lo95);
        let d = decimals(half);
        let way = if x.change.value < 0.0 { "down" } else { "up" };
        let gap = if x.unit.is_empty() { "" } else { " " };
        parts.push(format!(
            "{} {way} {:.d$}{gap}{} ± {half:.d$}",
            x.name,
            libm::fabs(x.change.value),
            x.unit
        ));
    }
    if parts.len() == 1 {
        parts.push("no recorded channel with a detectable change".into());
    }
    parts.join(", ") + "."
}

/// Margin of every fuel of the job in one state. The job's requirement belongs to its first state; that of a later
/// state moves by the published slopes of the channels that differ.
pub(crate) fn margins(
    job: &Job,
    outcome: &Outcome,
    index: usize,
    catalogue: &Catalogue<'_>,
) -> Vec<FuelMargin> {
    let (Some(first), Some(here)) = (outcome.states.first(), outcome.states.get(index)) else {
        return Vec::new();
    };
    let Some((value, uncertainty)) = job.knock.and_then(|k| k.requirement) else {
        return job.fuels.iter().map(|t| not_anchored(t)).collect();
    };
    let mut input = KnockInput::default();
    input.fuels.clone_from(&job.fuels);
    input.requirement = Some(Octane { value, uncertainty });
    let charged = job.vehicle.engine.charging != Charging::None;
    let usual = if charged { fairpull_fuels::K_BOOSTED_DIRECT } else { fairpull_fuels::K_PORT };
    let stated = job.knock.and_then(|k| k.k);
    input.k = Some(stated.map_or(usual.into(), |(value, uncertainty)| Octane { value, uncertainty }));
    let moved = if index == 0 { Vec::new() } else { differences(first, here) };
    input.model = Some(if moved.is_empty() { "octane-index" } else { "declared-slopes" }.into());
    input.changes = given(&moved, None);
    let ask = |i: &KnockInput| fairpull_fuels::knock(i, catalogue.knocks());
    let Ok(report) = ask(&input) else {
        return job
            .fuels
            .iter()
            .map(|t| none(t, t, "the catalogue has no knock model for it".into()))
            .collect();
    };
    let shifted: Vec<KnockReport> = (0..moved.len())
        .filter_map(|k| {
            let mut i = input.clone();
            i.changes = given(&moved, Some(k));
            ask(&i).ok()
        })
        .collect();
    let prior = if stated.is_some() { "" } else { "; weight of the sensitivity by a published prior" };
    report
        .fuels
        .iter()
        .enumerate()
        .map(|(n, f)| {
            let Some(m) = f.margin_on else {
                return none(&f.fuel, &f.name, f.refused.clone().unwrap_or_default());
            };
            let mut square = m.uncertainty * m.uncertainty;
            for other in &shifted {
                if let Some(o) = other.fuels.get(n).and_then(|o| o.margin_on) {
                    square += (o.value - m.value) * (o.value - m.value);
                }
            }
            let half = K95 * libm::sqrt(square);
            let verdict = if m.value > half {
                Margin::MarginExpected
            } else if m.value < -half {
                Margin::KnockExpected
            } else {
                Margin::Undecided
            };
            let by = f.requirement_change_on.map_or_else(String::new, |s| {
                format!("; requirement {:+.1} ON against {} by published slopes", s.value, first.name)
            });
            FuelMargin {
                fuel: f.fuel.clone(),
                name: f.name.clone(),
                margin_on: Some(Interval { value: m.value, lo95: m.value - half, hi95: m.value + half }),
                verdict: id(verdict).into(),
                statement: format!("{}{by}{prior}", verdict.words()),
            }
        })
        .collect()
}

const fn id(v: Margin) -> &'static str {
    match v {
        Margin::MarginExpected => "margin-expected",
        Margin::Undecided => "undecided",
        Margin::KnockExpected => "knock-expected",
    }
}

fn none(fuel: &str, name: &str, why: String) -> FuelMargin {
    FuelMargin {
        fuel: fuel.into(),
        name: name.into(),
        margin_on: None,
        verdict: "none".into(),
        statement: format!("no margin: {why}"),
    }
}

fn not_anchored(fuel: &str) -> FuelMargin {
    match parse_fuel(fuel) {
        Err(e) => none(fuel, fuel, e.to_string()),
        Ok(named) => none(
            fuel,
            &named.name,
            "not anchored: the job states no octane requirement; find one by a knock measurement and write it as requirement under [knock]".into(),
        ),
    }
}

/// Channels that move an octane requirement: new less old, in the unit of the change.
fn differences(first: &StateOutcome, here: &StateOutcome) -> Vec<(Role, Figure)> {
    let both = |role| Some(at_peak(here, role)?.less(&at_peak(first, role)?, 0.0));
    let charge = both(Role::ChargeTemperature)
        .map(|f| (Role::ChargeTemperature, f))
        .or_else(|| both(Role::IntakeTemperature).map(|f| (Role::IntakeTemperature, f)));
    let degrees = 180.0 / core::f64::consts::PI;
    [
        both(Role::SparkAdvance).map(|f| (Role::SparkAdvance, f.scaled(degrees))),
        charge,
        both(Role::ManifoldPressure).map(|f| (Role::ManifoldPressure, f.scaled(1e-3))),
        both(Role::PreTurbinePressure).map(|f| (Role::PreTurbinePressure, f.scaled(1e-3))),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The changes, one of them moved by its standard uncertainty.
fn given(moved: &[(Role, Figure)], shifted: Option<usize>) -> ChangesGiven {
    let mut c = ChangesGiven::default();
    for (k, (role, f)) in moved.iter().enumerate() {
        let v = if shifted == Some(k) { f.value + f.uncertainty } else { f.value };
        match role {
            Role::SparkAdvance => c.spark_advance_deg = v,
            Role::ManifoldPressure => c.intake_pressure_kpa = v,
            Role::PreTurbinePressure => c.exhaust_pressure_kpa = v,
            _ => c.intake_temperature_k = v,
        }
    }
    c
}
