//! Remarks that hold for several pulls, each said once with the pulls it holds for.

use fairpull_core::{Notice, OutOfRange, Refusal};

use crate::evaluate::{Curve, Drag};
use crate::gather::{Gathered, ReduceError};

/// Names of pulls before a remark; nothing where it holds for every one.
pub(crate) fn of_pulls(names: &[&str], which: &[usize]) -> String {
    if which.len() == names.len() {
        return String::new();
    }
    let named: Vec<&str> = which.iter().filter_map(|k| names.get(*k).copied()).collect();
    format!("{}: ", named.join(", "))
}

/// `low` or `low to high`, whichever the two printed values need.
pub(crate) fn span(low: &str, high: &str) -> String {
    if low == high { low.to_owned() } else { format!("{low} to {high}") }
}

/// Smallest and largest; nothing of nothing.
pub(crate) fn ends(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |ends, x| {
        let (low, high) = ends.unwrap_or((x, x));
        Some((if x < low { x } else { low }, if x > high { x } else { high }))
    })
}

/// Remarks on factors and losses, pull by pull, each once: those that differ only in a value give its range.
pub(crate) fn merged(
    names: &[&str],
    pulls: impl Iterator<Item = (usize, impl Iterator<Item = Notice>)>,
) -> Vec<String> {
    let mut kinds: Vec<(Vec<usize>, Notice, Notice)> = Vec::new();
    for (pull, notices) in pulls {
        for n in notices {
            match kinds.iter_mut().find(|(_, first, _)| same(first, &n)) {
                Some((which, low, high)) => {
                    if which.last() != Some(&pull) {
                        which.push(pull);
                    }
                    if value(&n) < value(low) {
                        *low = n;
                    }
                    if value(&n) > value(high) {
                        *high = n;
                    }
                }
                None => kinds.push((vec![pull], n, n)),
            }
        }
    }
    kinds.iter().map(|(which, low, high)| told(names, which, low, high)).collect()
}

/// Whether two remarks say the same of different pulls.
fn same(a: &Notice, b: &Notice) -> bool {
    match (a, b) {
        (Notice::OutsideRange(a), Notice::OutsideRange(b)) => a.range().limit == b.range().limit,
        (Notice::Compensated { cite: a, .. }, Notice::Compensated { cite: b, .. }) => a == b,
        _ => a == b,
    }
}

fn value(n: &Notice) -> f64 {
    match n {
        Notice::OutsideRange(out) => out.range().got,
        Notice::Compensated { blind, .. } => *blind,
        _ => 0.0,
    }
}

fn told(names: &[&str], which: &[usize], low: &Notice, high: &Notice) -> String {
    match (low, high) {
        (Notice::OutsideRange(least), Notice::OutsideRange(most)) => {
            let (one, least, many) = (low.to_string(), least.range(), shown(&most.range()));
            let text = one.replacen(&shown(&least), &span(bare(&shown(&least), &least, &many), &many), 1);
            of_pulls(names, which) + &text
        }
        (Notice::Compensated { .. }, Notice::Compensated { blind, .. }) => {
            let (text, most) = (low.to_string(), format!("{blind:.4}"));
            let least = format!("{:.4}", value(low));
            text.replacen(&least, &span(&least, &most), 1)
        }
        // what does not depend on the air of a pull holds for the job
        _ => low.to_string(),
    }
}

/// The value as the remark prints it, with its unit.
fn shown(out: &OutOfRange) -> String {
    let text = out.to_string();
    let value = text.strip_prefix(out.limit.what).and_then(|t| t.strip_prefix(" is "));
    let (value, _) = value.and_then(|t| t.split_once(", outside ")).unwrap_or_default();
    value.to_owned()
}

/// The lower value of a range without its unit, which the upper one shows; whole where both are the same.
fn bare<'t>(low: &'t str, out: &OutOfRange, high: &str) -> &'t str {
    if low == high { low } else { low.strip_suffix(out.limit.unit).map_or(low, str::trim_end) }
}

/// Grid speeds at which the roller takes no power in, pull by pull.
pub(crate) fn unpowered(names: &[&str], grid: &[f64], curves: &[Curve], notices: &mut Vec<String>) {
    for (name, c) in names.iter().zip(curves) {
        let idle = grid.iter().zip(&c.wheel).filter(|(_, w)| **w <= 0.0).map(|(rpm, _)| *rpm);
        if let Some((low, high)) = ends(idle) {
            notices.push(format!(
                "{name}: the rig takes no power in at {} 1/min; what it reads there is left out",
                span(&format!("{low:.0}"), &format!("{high:.0}"))
            ));
        }
    }
}

/// A pull without a point of power in the range that all pulls share.
pub(crate) fn without_power(name: &str, band: &[f64]) -> ReduceError {
    let (low, high) = ends(band.iter().copied()).unwrap_or_default();
    ReduceError::Log {
        file: name.to_owned(),
        problem: format!("the rig takes no power in from {low:.0} to {high:.0} 1/min, which all pulls share"),
        mend: "check the unit and the sign of the force and speed columns, or leave the log out with skip = \"reason\"".into(),
    }
}

/// What the loss model calls the force of a coast-down.
const DRAG: &str = "coast-down drag force";

/// Why there is no figure for a pull: a drag that no car has is told with the coast-down that gave it.
pub(crate) fn refused(plug_ins: String, pull: &Gathered, drag: &Drag, refusal: Refusal) -> ReduceError {
    let (Refusal::OutOfRange(out), Some(coast)) = (refusal, &drag.coast) else {
        return ReduceError::Refused { what: format!("{}: {plug_ins}", pull.fit.name), refusal };
    };
    if out.limit.what != DRAG {
        return ReduceError::Refused { what: format!("{}: {plug_ins}", pull.fit.name), refusal };
    }
    let whose =
        if pull.fit.coast.is_some() { "its coast-down" } else { "the mean coast-down of the other pulls" };
    ReduceError::Log {
        file: pull.fit.name.clone(),
        problem: format!(
            "{whose}, {:.1} s from {:.0} to {:.0} km/h, gives a drag of {:.0} N at a speed of the pull, outside {:.0} to {:.0} N",
            coast.seconds,
            coast.from * 3.6,
            coast.to * 3.6,
            out.got,
            out.limit.low,
            out.limit.high
        ),
        mend: "let the car coast down longer with the clutch open and the brake of the rig off, check the parasitic drag and the zero of the force the job states, end the log before the car stands, or set loss.model = \"prior-band\"".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fairpull_core::{
        Cite, CoastDownForce, DrivePoint, Driveline, EngineSpeed, Limit, LossModel, Outside, RoadSpeed,
    };

    const TEXT: Cite = Cite::new("invented", "1", fairpull_core::Reading::Derived);
    const WARM: Limit =
        Limit { what: "intake air temperature", unit: "°C", low: 15.0, high: 35.0, cite: TEXT };
    const FACTOR: Limit = Limit { what: "correction", unit: "1", low: 0.93, high: 1.07, cite: TEXT };

    fn outside(got: f64, limit: &'static Limit) -> Notice {
        Notice::OutsideRange(Outside::of(limit, got).unwrap())
    }

    #[test]
    fn a_remark_stands_once_with_its_range_and_its_pulls() {
        let rests = Notice::RestsOn { what: "exponent", cite: &TEXT };
        let compensated = |blind| Notice::Compensated { blind, cite: &TEXT };
        let pulls = [
            vec![outside(36.5, &WARM), outside(1.081, &FACTOR), rests, compensated(1.0812)],
            vec![outside(38.25, &WARM), rests, compensated(1.0904)],
            vec![outside(37.0, &WARM), outside(1.081, &FACTOR), compensated(1.0812)],
        ];
        let told = merged(&["a", "b", "c"], pulls.into_iter().map(Vec::into_iter).enumerate());
        insta::assert_snapshot!(told.join("\n"), @r"
        outside the standard's range: intake air temperature is 36.5 to 38.25 °C, outside 15 to 35 °C (invented, 1); quote it only with the test conditions
        a, c: outside the standard's range: correction is 1.081, outside 0.93 to 1.07 (invented, 1); quote it only with the test conditions
        exponent rests on invented, 1, exact or derived
        factor 1 by ambient compensation (invented, 1); the formula alone would claim 1.0812 to 1.0904
        ");
        // one pull alone: as the remark says it
        let alone = merged(&["a"], [[outside(36.5, &WARM)]].into_iter().map(<[_; 1]>::into_iter).enumerate());
        assert_eq!(alone, [outside(36.5, &WARM).to_string()]);
    }

    #[test]
    fn the_drag_is_known_by_the_name_its_model_gives_it() {
        let mut line = Driveline::unknown();
        line.coast_down = Some(CoastDownForce { a: -9.0, b: 0.0, c: 0.0, covariance: [[0.0; 3]; 3] });
        let at = DrivePoint::new(RoadSpeed::from_metres_per_second(30.0), EngineSpeed::from_rpm(3000.0));
        let wheel = fairpull_core::PowerAtWheels::from_watts(9e4);
        let refusal = fairpull_losses::CoastDown.to_crank(wheel, &at, &line).unwrap_err();
        assert!(matches!(refusal, Refusal::OutOfRange(out) if out.limit.what == DRAG), "{refusal}");
    }
}
