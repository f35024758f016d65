//! Checks of how a factor behaves across its range.

use crate::Failure;
use crate::exercise::{air, engines, on_basis, reference, show};
use crate::failure::Check;
use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Ignition, Limit, Notice};

fn tells(factor: &Factor, limit: &Limit) -> bool {
    factor.notices().iter().any(|n| matches!(n, Notice::OutsideRange(out) if out.range().limit == *limit))
}

/// One step outside each limit of the card the factor is given with a notice naming that limit; one step inside
/// there is none.
///
/// # Errors
/// [`Failure`] with the limit passed over, or a factor limit that no engine can reach (a silent clamp).
pub fn limits_are_named(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let r = &card.reference;
    let check = Check { plugin: card.id, name: "limits_are_named", tolerance: "one step is a millionth" };
    for ignition in [Ignition::Spark, Ignition::Compression] {
        let window = card.window(ignition);
        let able: Vec<Engine> = engines()
            .into_iter()
            .filter(|e| e.ignition == ignition)
            .filter(|e| reference(r).is_some_and(|a| plugin.factor(&a, e).is_ok()))
            .collect();
        for e in &able {
            let side = |a: Option<Air>, limit: &Limit, outside: bool| {
                let Some(a) = a else { return Ok(()) };
                let Ok(f) = plugin.factor(&a, e) else { return Ok(()) };
                let expected = if outside { "a notice naming" } else { "no notice of" };
                let expected =
                    format!("{expected} {} {} to {} {}", limit.what, limit.low, limit.high, limit.unit);
                check.holds(tells(&f, limit) == outside, show(e, Some(&a)), expected, f.notices())
            };
            if let Some(limit) = window.temperature {
                for (edge, out) in [(limit.low, -1.0), (limit.high, 1.0)] {
                    let at = |step: f64| on_basis(r, r.pressure_kpa, edge - r.kelvin_offset + step);
                    side(at(out * 1e-4), &limit, true)?;
                    side(at(-out * 1e-4), &limit, false)?;
                }
            }
            if let Some(limit) = window.pressure {
                for (edge, out) in [(limit.low, -1.0), (limit.high, 1.0)] {
                    let at = |step: f64| on_basis(r, edge + step, r.temperature_c);
                    side(at(out * 1e-4), &limit, true)?;
                    side(at(-out * 1e-4), &limit, false)?;
                }
            }
        }
        let Some(limit) = window.factor else { continue };
        for (edge, out) in [(limit.low, -1.0), (limit.high, 1.0)] {
            let mut reached = able.is_empty();
            for e in &able {
                let value = |kpa: f64| {
                    let a = on_basis(r, kpa, r.temperature_c)?;
                    Some((a, plugin.factor(&a, e).ok()?))
                };
                let Some(kpa) = crossing(|p| value(p).map(|(_, f)| f.blind()), edge) else { continue };
                reached = true;
                // the factor falls while pressure rises, so "above the high edge" is the thinner side
                for (step, outside) in [(-out * 1e-5, true), (out * 1e-5, false)] {
                    let Some((a, f)) = value(kpa * (1.0 + step)) else { continue };
                    let expected = format!("notice of {} at {edge}: {outside}", limit.what);
                    check.holds(tells(&f, &limit) == outside, show(e, Some(&a)), expected, f.notices())?;
                }
            }
            let what = format!("{ignition:?} ignition, 42 to 118 kPa");
            check.holds(reached, what, format!("a factor of {edge} somewhere"), "never reached")?;
        }
    }
    Ok(())
}

/// Pressure at which a falling function of pressure passes `edge` and goes on beyond it.
fn crossing(f: impl Fn(f64) -> Option<f64>, edge: f64) -> Option<f64> {
    let (mut thin, mut dense) = (42.0, 118.0);
    if !(f(thin)? > edge * 1.000_1 && f(dense)? < edge * 0.999_9) {
        return None;
    }
    for _ in 0..60 {
        let mid = 0.5 * (thin + dense);
        if f(mid)? > edge { thin = mid } else { dense = mid }
    }
    Some(0.5 * (thin + dense))
}

/// At constant temperature and vapour pressure, thinner air never lowers the factor.
///
/// # Errors
/// [`Failure`] with the two airs.
pub fn thinner_air_never_lowers_the_factor(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let check = Check {
        plugin: plugin.card().id,
        name: "thinner_air_never_lowers_the_factor",
        tolerance: "4 units of the last binary place",
    };
    for e in engines() {
        for (celsius, vapour) in [(-10.0, 0.0), (25.0, 1.0), (25.0, 3.0), (45.0, 2.0)] {
            let mut last: Option<f64> = None;
            for step in 0..=60 {
                let Some(a) = air(115.0 - f64::from(step), vapour, celsius) else { continue };
                let Ok(f) = plugin.factor(&a, &e) else { continue };
                let before = last.unwrap_or(f.blind());
                let expected = format!("at least {before}, the factor of 1 kPa more");
                let good = f.blind() >= before * (1.0 - 4.0 * f64::EPSILON);
                check.holds(good, show(&e, Some(&a)), expected, f.blind())?;
                last = Some(f.blind());
            }
        }
    }
    Ok(())
}

/// The largest step that passes as smooth.
const JUMP: f64 = 2e-3;

/// The factor moves smoothly with pressure, temperature and fuel delivery.
///
/// # Errors
/// [`Failure`] at a jump of more than 0.2 %, which is more than any printed table of breakpoints needs.
pub fn does_not_jump(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check {
        plugin: card.id,
        name: "does_not_jump",
        tolerance: "0.2 %: texts whose engine factor is printed with rounded breakpoints step by less",
    };
    let r = &card.reference;
    for e in engines() {
        let by_pressure = |p: f64| (on_basis(r, p, r.temperature_c), e);
        let by_temperature = |t: f64| (on_basis(r, r.pressure_kpa, t), e);
        let by_fuel = |q: f64| {
            let mut fuelled = e;
            fuelled.fuel_per_cycle = e.fuel_per_cycle.map(|_| q);
            (on_basis(r, 0.85 * r.pressure_kpa, r.temperature_c + 10.0), fuelled)
        };
        smooth(plugin, &check, by_pressure, 60.0, 115.0)?;
        smooth(plugin, &check, by_temperature, -40.0, 60.0)?;
        smooth(plugin, &check, by_fuel, 10.0, 180.0)?;
    }
    Ok(())
}

/// Walks in 400 steps; where a step is large, halves it down to rounding and looks at what is left.
fn smooth(
    plugin: &dyn CorrectionStandard,
    check: &Check,
    at: impl Fn(f64) -> (Option<Air>, Engine),
    from: f64,
    to: f64,
) -> Result<(), Failure> {
    let value = |x: f64| {
        let (a, e) = at(x);
        plugin.factor(&a?, &e).ok().map(|f| f.value())
    };
    let gap = |x: Option<f64>, y: Option<f64>| Some(libm::fabs(y? / x? - 1.0));
    let step = (to - from) / 400.0;
    let mut before = value(from);
    for i in 0..400 {
        let (mut low, mut high) = (from + step * f64::from(i), from + step * f64::from(i + 1));
        let (mut bottom, mut top) = (before, value(high));
        before = top;
        while high - low > 1e-6 && gap(bottom, top) > Some(JUMP) {
            let mid = 0.5 * (low + high);
            let middle = value(mid);
            if gap(bottom, middle) >= gap(middle, top) {
                (high, top) = (mid, middle);
            } else {
                (low, bottom) = (mid, middle);
            }
        }
        let left = gap(bottom, top).unwrap_or(0.0);
        let (a, e) = at(high);
        check.holds(left <= JUMP, show(&e, a.as_ref()), "a smooth factor", format!("a jump of {left}"))?;
    }
    Ok(())
}
