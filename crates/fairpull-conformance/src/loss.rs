//! Checks for loss models. Each is a promise of [`LossModel`],
//! exercised with the example of its card.

use crate::Failure;
use crate::exercise::HOSTILE;
use crate::failure::{Check, EXACT};
use crate::standard_card::{is_cited, is_id};
use crate::standard_input::speaks;
use fairpull_core::{
    AtCrank, DrivePoint, Driveline, EngineSpeed, LossModel, PowerAtWheels, Refusal, RoadSpeed,
};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// A check by name.
pub type LossCheck = (&'static str, fn(&dyn LossModel) -> Result<(), Failure>);

/// All checks of this family.
pub const CHECKS: &[LossCheck] = &[
    ("card_is_well_formed", card_is_well_formed),
    ("crank_is_never_below_wheel", crank_is_never_below_wheel),
    ("crank_rises_with_wheel", crank_rises_with_wheel),
    ("zero_power_is_finite", zero_power_is_finite),
    ("missing_evidence_is_refused_by_name", missing_evidence_is_refused_by_name),
    ("inverse_round_trip", inverse_round_trip),
    ("uncertainty_is_never_negative", uncertainty_is_never_negative),
    ("hostile_inputs_are_refused_or_finite", hostile_inputs_are_refused_or_finite),
    ("same_input_gives_same_bits", same_input_gives_same_bits),
];

/// Every failure of a plug-in.
#[must_use]
pub fn run(plugin: &dyn LossModel) -> Vec<Failure> {
    CHECKS.iter().filter_map(|(_, check)| check(plugin).err()).collect()
}

/// Wheel powers from rolling to racing, W.
const POWERS: [f64; 8] = [100.0, 1e3, 5e3, 20e3, 60e3, 150e3, 400e3, 900e3];

fn start(plugin: &dyn LossModel, name: &'static str, tolerance: &'static str) -> Check {
    Check { plugin: plugin.card().id, name, tolerance }
}

/// Crank power of the card's example at a wheel power in W.
fn ask(plugin: &dyn LossModel, watts: f64) -> Result<AtCrank, Refusal> {
    let (at, line) = &plugin.card().example;
    plugin.to_crank(PowerAtWheels::from_watts(watts), at, line)
}

fn show(plugin: &dyn LossModel, watts: f64) -> String {
    let (at, line) = &plugin.card().example;
    format!("{watts} W at the wheels, {at:?}, {line:?}")
}

/// Id, texts, needs and citations are usable.
///
/// # Errors
/// [`Failure`] naming the field.
pub fn card_is_well_formed(plugin: &dyn LossModel) -> Result<(), Failure> {
    let card = plugin.card();
    let check = start(plugin, "card_is_well_formed", EXACT);
    check.holds(is_id(card.id), "id", "lower-case letters, digits, single hyphens", card.id)?;
    for (field, text) in [
        ("title", card.title),
        ("contains", card.contains),
        ("leaves_out", card.leaves_out),
        ("formula", card.formula),
    ] {
        check.holds(!text.trim().is_empty(), field, "a text", text)?;
    }
    check.holds(!card.sources.is_empty(), "sources", "at least one", card.sources)?;
    for s in card.sources {
        check.holds(is_cited(&s.cite) && !s.what.is_empty(), "sources", "what and document", s)?;
    }
    for need in card.needs {
        let known = without(need, card.example).is_some();
        check.holds(known, "needs", "fields of DrivePoint or Driveline", need)?;
    }
    Ok(())
}

/// Crank power is never smaller than wheel power.
///
/// # Errors
/// [`Failure`] with the power.
pub fn crank_is_never_below_wheel(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "crank_is_never_below_wheel", "4 units of the last binary place");
    for w in POWERS {
        let got = ask(plugin, w).map(|a| a.power.watts());
        let good = got.as_ref().is_ok_and(|c| *c >= w * (1.0 - 4.0 * f64::EPSILON));
        check.holds(good, show(plugin, w), format!("at least {w} W at the crank"), got)?;
    }
    Ok(())
}

/// More power at the wheels is more power at the crank.
///
/// # Errors
/// [`Failure`] with the power.
pub fn crank_rises_with_wheel(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "crank_rises_with_wheel", EXACT);
    let mut last = f64::NEG_INFINITY;
    for i in 0..=900 {
        let w = 1e3 * f64::from(i);
        let Ok(a) = ask(plugin, w) else { continue };
        let c = a.power.watts();
        check.holds(c > last, show(plugin, w), format!("more than {last} W, the answer for 1 kW less"), c)?;
        last = c;
    }
    Ok(())
}

/// No power at the wheels: a finite loss, zero or more, or a refusal that says why.
///
/// # Errors
/// [`Failure`] with the answer.
pub fn zero_power_is_finite(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "zero_power_is_finite", EXACT);
    let got = ask(plugin, 0.0);
    let good = match &got {
        Ok(a) => a.power.is_finite() && a.power.watts() >= 0.0,
        Err(r) => speaks(r),
    };
    check.holds(good, show(plugin, 0.0), "zero or more watts, or a refusal with its reason", got)
}

/// Example without one piece of evidence; `None` for a name that is no field.
fn without(
    need: &str,
    (mut at, mut line): (DrivePoint, Driveline<'static>),
) -> Option<(DrivePoint, Driveline<'static>)> {
    match need.rsplit('.').next().unwrap_or(need) {
        "road_speed" => at.road_speed = None,
        "engine_speed" => at.engine_speed = None,
        "coast_down" => line.coast_down = None,
        "load_share" => line.load_share = None,
        "constant_drag" => line.constant_drag = None,
        "accelerating" => line.accelerating = None,
        "gearbox" => line.gearbox = None,
        "direct_gear" => line.direct_gear = None,
        "max_input_torque" => line.max_input_torque = None,
        "driven_wheels" => line.driven_wheels = None,
        "elements" => line.elements = &[],
        _ => return None,
    }
    Some((at, line))
}

/// Each piece of evidence that the card says it needs is refused by name when it is missing.
///
/// # Errors
/// [`Failure`] naming the field that was guessed.
pub fn missing_evidence_is_refused_by_name(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "missing_evidence_is_refused_by_name", EXACT);
    for need in plugin.card().needs {
        let Some((at, line)) = without(need, plugin.card().example) else { continue };
        let got = plugin.to_crank(PowerAtWheels::from_watts(1e5), &at, &line);
        let good = matches!(&got, Err(r @ Refusal::Missing { .. }) if speaks(r));
        check.holds(good, format!("100 kW at the wheels, {need} not given"), "refused as missing", got)?;
    }
    Ok(())
}

/// From wheel to crank and back gives the wheel power again.
///
/// # Errors
/// [`Failure`] with the power.
pub fn inverse_round_trip(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "inverse_round_trip", "1e-9 of the crank power: bisection ends at rounding");
    let (at, line) = &plugin.card().example;
    for w in POWERS {
        let Ok(there) = ask(plugin, w) else { continue };
        let back = plugin.to_wheels(there.power, at, line).map(|(p, _)| p.watts());
        let good = back.as_ref().is_ok_and(|b| libm::fabs(b - w) <= 1e-9 * there.power.watts());
        check.holds(good, show(plugin, w), format!("{w} W at the wheels again"), back)?;
    }
    Ok(())
}

/// The standard uncertainty that the model adds is zero or more, and finite.
///
/// # Errors
/// [`Failure`] with the uncertainty.
pub fn uncertainty_is_never_negative(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "uncertainty_is_never_negative", EXACT);
    for w in POWERS {
        let Ok(a) = ask(plugin, w) else { continue };
        let good = a.uncertainty.is_finite() && a.uncertainty >= 0.0;
        check.holds(good, show(plugin, w), "an uncertainty of zero or more, W", a.uncertainty)?;
    }
    Ok(())
}

/// NaN, infinities, zero, negative and huge values as power and in every number of the evidence: refused or finite,
/// never a panic; a power that is not finite is always refused.
///
/// # Errors
/// [`Failure`] with the field and the value.
pub fn hostile_inputs_are_refused_or_finite(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "hostile_inputs_are_refused_or_finite", EXACT);
    let (at, line) = plugin.card().example;
    for x in HOSTILE {
        let mut cases = vec![("wheel power, W", x, at, line)];
        let mut vary = |what: &'static str, at: DrivePoint, line: Driveline<'static>| {
            cases.push((what, 1e5, at, line));
        };
        vary(
            "road speed, m/s",
            point(at, |p| p.road_speed = p.road_speed.map(|_| RoadSpeed::from_metres_per_second(x))),
            line,
        );
        vary(
            "engine speed, 1/min",
            point(at, |p| p.engine_speed = p.engine_speed.map(|_| EngineSpeed::from_rpm(x))),
            line,
        );
        for (what, set) in FIELDS {
            let mut changed = line;
            set(&mut changed, x);
            vary(what, at, changed);
        }
        for (what, watts, at, line) in cases {
            let power = PowerAtWheels::from_watts(watts);
            let answer = catch_unwind(AssertUnwindSafe(|| plugin.to_crank(power, &at, &line)));
            let good = match &answer {
                Ok(Ok(a)) => watts.is_finite() && a.power.is_finite() && a.uncertainty.is_finite(),
                Ok(Err(r)) => speaks(r),
                Err(_) => false,
            };
            let got = answer.map_err(|_| "a panic");
            check.holds(
                good,
                format!("{what} = {x}"),
                "a refusal with its reason, or a finite power",
                got,
            )?;
        }
    }
    Ok(())
}

fn point(mut at: DrivePoint, set: impl Fn(&mut DrivePoint)) -> DrivePoint {
    set(&mut at);
    at
}

/// The numbers of a driveline, by name, with the way to change them where they are given.
type Field = (&'static str, fn(&mut Driveline<'static>, f64));
const FIELDS: [Field; 10] = [
    ("coast-down a, N", |l, x| {
        l.coast_down = l.coast_down.map(|mut c| {
            c.a = x;
            c
        })
    }),
    ("coast-down b, N per m/s", |l, x| {
        l.coast_down = l.coast_down.map(|mut c| {
            c.b = x;
            c
        })
    }),
    ("coast-down c, N per (m/s)²", |l, x| {
        l.coast_down = l.coast_down.map(|mut c| {
            c.c = x;
            c
        })
    }),
    ("coast-down variance of a, N²", |l, x| {
        l.coast_down = l.coast_down.map(|mut c| {
            c.covariance[0][0] = x;
            c
        })
    }),
    ("load share", |l, x| l.load_share = l.load_share.map(|(_, u)| (x, u))),
    ("uncertainty of load share", |l, x| l.load_share = l.load_share.map(|(v, _)| (v, x))),
    ("constant drag, W", |l, x| l.constant_drag = l.constant_drag.map(|(_, u)| (x, u))),
    ("uncertainty of constant drag, W", |l, x| l.constant_drag = l.constant_drag.map(|(v, _)| (v, x))),
    ("accelerating power, W", |l, x| l.accelerating = l.accelerating.map(|(_, u)| (x, u))),
    ("largest input torque, N·m", |l, x| l.max_input_torque = l.max_input_torque.map(|_| x)),
];

/// The same power gives the same bits, asked again in another order.
///
/// # Errors
/// [`Failure`] with the power.
pub fn same_input_gives_same_bits(plugin: &dyn LossModel) -> Result<(), Failure> {
    let check = start(plugin, "same_input_gives_same_bits", EXACT);
    let bits =
        |w: f64| ask(plugin, w).map(|a| (a.power.watts().to_bits(), a.uncertainty.to_bits(), a.notices));
    let first: Vec<_> = POWERS.iter().map(|w| bits(*w)).collect();
    for (w, before) in POWERS.iter().zip(&first).rev() {
        let after = bits(*w);
        check.holds(after == *before, show(plugin, *w), format!("the first answer, {before:?}"), after)?;
    }
    Ok(())
}
