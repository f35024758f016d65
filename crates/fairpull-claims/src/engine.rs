//! Checks on the engine alone: power = torque × speed, mean pressure, piston speed, specific power.

use crate::check::{Check, NotRun, Outcome};
use crate::claim::{Claim, Section, Value};
use fairpull_core::{Cite, CrankTorque, EngineSpeed, PowerAtCrank, Reading, Refusal};
use fairpull_stress::{
    BMEP_ASPIRATED_LIMIT, BMEP_CHARGED_LIMIT, Figure, PISTON_SPEED_LIMIT, PUBLISHED, bmep_from_power,
    bmep_from_torque, mean_piston_speed, specific_power,
};

const IDENTITY: Cite = Cite::new("power = torque × angular speed", "definition", Reading::Derived);
/// Rounding of published figures that never decides anything, relative.
const ROUNDING: f64 = 0.005;

/// Relative rounding that the written digits may hide.
fn rounding(values: &[Option<&Value>]) -> f64 {
    let mut sum = 0.0;
    for v in values.iter().flatten() {
        if let Value::Quantity { si, half_digit, .. } = v {
            sum += libm::fabs(half_digit / si);
        }
    }
    if sum > ROUNDING { sum } else { ROUNDING }
}

/// Above 1 + tolerance contradicted; between 1 and that nobody can tell; below consistent.
fn below_one(ratio: f64, tolerance: f64) -> Outcome {
    if ratio > 1.0 + tolerance {
        Outcome::Contradicted
    } else if ratio > 1.0 {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    }
}

fn watts(torque: f64, speed: f64) -> f64 {
    CrankTorque::from_newton_metres(torque).power_at(EngineSpeed::from_radians_per_second(speed)).watts()
}

const RPM: f64 = 9.549_296_585_513_72;

pub(crate) fn checks(claim: &Claim, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    identity(claim, out, not);
    curve(claim, out);
    pressures(claim, out, not)?;
    Ok(())
}

fn identity(claim: &Claim, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let get = |k| claim.get("engine", k);
    let si = |k| claim.si("engine", k);
    let (Some(power), Some(torque), Some(speed)) = (si("power"), si("torque"), si("power_speed")) else {
        not.push(NotRun {
            id: "torque-identity",
            needs: "engine.power, engine.power_speed and engine.torque".to_owned(),
        });
        return;
    };
    let needed = PowerAtCrank::from_watts(power)
        .torque_at(EngineSpeed::from_radians_per_second(speed))
        .newton_metres();
    let tolerance = rounding(&[get("power"), get("torque"), get("power_speed")]);
    let ratio = needed / torque;
    out.push(
        Check::new(
            "torque-identity",
            "torque needed at the speed of peak power against peak torque",
            needed,
            "N·m",
            IDENTITY,
        )
        .with("power", power / 1000.0, "kW")
        .with("speed of peak power", speed * RPM, "1/min")
        .with("peak torque", torque, "N·m")
        .bounds(None, Some(torque))
        .decide(
            below_one(ratio, tolerance),
            IDENTITY,
            format!(
                "{:.1} % of the peak torque; rounding of the digits given allows {:.1} %",
                100.0 * ratio,
                100.0 * tolerance
            ),
        ),
    );
    for (key, name) in [("torque_speed", "start"), ("torque_speed_end", "end")] {
        let Some(at) = si(key) else { continue };
        let there = watts(torque, at);
        let ratio = there / power;
        let tolerance = rounding(&[get("power"), get("torque"), get(key)]);
        out.push(
            Check::new(
                "torque-at-speed",
                &format!("power at the {name} of peak torque against peak power"),
                there / 1000.0,
                "kW",
                IDENTITY,
            )
            .with("peak torque", torque, "N·m")
            .with("speed of peak torque", at * RPM, "1/min")
            .with("power", power / 1000.0, "kW")
            .bounds(None, Some(power / 1000.0))
            .decide(
                below_one(ratio, tolerance),
                IDENTITY,
                format!("{:.1} % of the peak power", 100.0 * ratio),
            ),
        );
    }
}

fn curve(claim: &Claim, out: &mut Vec<Check>) {
    let mut worst: Option<(f64, f64, f64, &'static str)> = None;
    let number = |s: &Section, k: &str| s.get(k).and_then(Value::number);
    for p in &claim.curve {
        let Some(speed) = number(p, "speed") else { continue };
        let (power, torque) = match (number(p, "power"), number(p, "torque")) {
            (Some(w), _) => (w, w / speed),
            (None, Some(t)) => (watts(t, speed), t),
            (None, None) => continue,
        };
        for (ratio, value, unit) in [
            (claim.si("engine", "power").map(|m| power / m), power / 1000.0, "kW"),
            (claim.si("engine", "torque").map(|m| torque / m), torque, "N·m"),
        ] {
            if let Some(r) = ratio
                && worst.is_none_or(|w| r > w.0)
            {
                worst = Some((r, value, speed, unit));
            }
        }
    }
    if let Some((ratio, value, speed, unit)) = worst {
        out.push(
            Check::new("curve", "the curve against the peaks claimed", value, unit, IDENTITY)
                .with("engine speed of the highest point", speed * RPM, "1/min")
                .bounds(None, Some(value / ratio))
                .decide(
                    below_one(ratio, 0.01),
                    IDENTITY,
                    format!("{:.1} % of the peak claimed", 100.0 * ratio),
                ),
        );
    }
}

/// A value against the published ranges and the limit above which evidence is asked for.
fn against_ranges(check: Check, value: f64, ranges: &[&str], ask: Option<f64>) -> Check {
    let found: Vec<_> = PUBLISHED.iter().filter(|p| ranges.contains(&p.what)).collect();
    let low = found.iter().map(|p| p.low).fold(f64::INFINITY, f64::min);
    let high = found.iter().map(|p| p.high).fold(f64::NEG_INFINITY, f64::max);
    let cite = found.last().map_or(IDENTITY, |p| p.cite);
    let ceiling = ask.map_or(high, |a| if a > high { a } else { high });
    let outcome = if value > ceiling {
        Outcome::Contradicted
    } else if value < low {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    };
    let place = if value > ceiling {
        format!("{:.0} % above the highest range known", 100.0 * (value / ceiling - 1.0))
    } else if value < low {
        "below the published ranges: unusual, nothing forbids it".to_owned()
    } else {
        "inside the published ranges".to_owned()
    };
    let mut check = check.bounds(Some(low), Some(ceiling)).decide(outcome, cite, place);
    check.source = cite.to_string();
    check.grade = cite.reading.words();
    check
}

fn pressures(claim: &Claim, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let si = |k| claim.si("engine", k);
    let charged = claim.word("engine", "charging").is_some_and(|c| c != "none");
    let known = claim.word("engine", "charging").is_some();
    let ranges: &[&str] = match (charged, known) {
        (true, _) => &[
            "BMEP at rated power, turbocharged",
            "BMEP at highest torque, turbocharged",
            "BMEP, turbocharged series today",
            "BMEP, turbocharged tuned road engine",
        ],
        (false, _) => &["BMEP at highest torque, naturally aspirated", "BMEP, naturally aspirated today"],
    };
    let ask = if charged { BMEP_CHARGED_LIMIT } else { BMEP_ASPIRATED_LIMIT };
    match (si("displacement"), known) {
        (Some(v), true) => {
            let swept = Figure::exact(v);
            if let Some(t) = si("torque") {
                let bmep = bmep_from_torque(Figure::exact(t), swept)?.value / 1e5;
                let check = Check::new(
                    "bmep-torque",
                    "mean effective pressure at peak torque",
                    bmep,
                    "bar",
                    IDENTITY,
                )
                .with("peak torque", t, "N·m")
                .with("displacement", 1e6 * v, "cm³");
                out.push(against_ranges(check, bmep, ranges, Some(ask)));
            }
            if let (Some(p), Some(n)) = (si("power"), si("power_speed")) {
                let bmep = bmep_from_power(Figure::exact(p), Figure::exact(n * RPM), swept)?.value / 1e5;
                let check =
                    Check::new("bmep-power", "mean effective pressure at peak power", bmep, "bar", IDENTITY)
                        .with("power", p / 1000.0, "kW")
                        .with("speed of peak power", n * RPM, "1/min")
                        .with("displacement", 1e6 * v, "cm³");
                out.push(against_ranges(check, bmep, ranges, Some(ask)));
            }
            if let Some(p) = si("power") {
                let specific = specific_power(Figure::exact(p), swept)?.value / 1e6;
                let check =
                    Check::new("specific-power", "power over displacement", specific, "kW/L", IDENTITY)
                        .with("power", p / 1000.0, "kW")
                        .with("displacement", 1e6 * v, "cm³");
                let range = if charged {
                    "specific power, turbocharged series"
                } else {
                    "specific power, naturally aspirated road"
                };
                out.push(against_ranges(check, specific, &[range], None));
            }
        }
        _ => {
            not.push(NotRun { id: "bmep-power", needs: "engine.displacement and engine.charging".to_owned() })
        }
    }
    match (si("stroke"), si("power_speed")) {
        (Some(s), Some(n)) => {
            let speed = mean_piston_speed(Figure::exact(s), Figure::exact(n * RPM))?.value;
            let check = Check::new("piston-speed", "mean piston speed at peak power", speed, "m/s", IDENTITY)
                .with("stroke", 1e3 * s, "mm")
                .with("speed of peak power", n * RPM, "1/min");
            out.push(against_ranges(
                check,
                speed,
                &["mean piston speed, road", "mean piston speed, sport"],
                Some(PISTON_SPEED_LIMIT),
            ));
        }
        _ => {
            not.push(NotRun { id: "piston-speed", needs: "engine.stroke and engine.power_speed".to_owned() })
        }
    }
    Ok(())
}
