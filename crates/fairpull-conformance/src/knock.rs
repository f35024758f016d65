//! Checks for knock models. Each is a promise of [`KnockModel`], exercised with the example of its card.

use crate::Failure;
use crate::exercise::HOSTILE;
use crate::failure::{Check, EXACT};
use crate::standard_card::{is_cited, is_id};
use crate::standard_input::speaks;
use fairpull_core::{CycleState, Fuel, KnockModel, KnockPoint, Refusal, Span};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// A check by name.
pub type KnockCheck = (&'static str, fn(&dyn KnockModel) -> Result<(), Failure>);

/// All checks of this family.
pub const CHECKS: &[KnockCheck] = &[
    ("card_is_well_formed", card_is_well_formed),
    ("more_octane_never_lowers_the_margin", more_octane_never_lowers_the_margin),
    ("missing_inputs_are_refused_by_name", missing_inputs_are_refused_by_name),
    ("unanchored_says_so", unanchored_says_so),
    ("uncertainty_is_never_negative", uncertainty_is_never_negative),
    ("hostile_inputs_are_refused_or_finite", hostile_inputs_are_refused_or_finite),
    ("same_input_gives_same_bits", same_input_gives_same_bits),
];

/// Every failure of a plug-in.
#[must_use]
pub fn run(plugin: &dyn KnockModel) -> Vec<Failure> {
    CHECKS.iter().filter_map(|(_, check)| check(plugin).err()).collect()
}

fn start(plugin: &dyn KnockModel, name: &'static str, tolerance: &'static str) -> Check {
    Check { plugin: plugin.card().id, name, tolerance }
}

fn show(fuel: &Fuel, point: &KnockPoint) -> String {
    format!("{fuel:?}, {point:?}")
}

/// Id, texts, needs and citations are usable.
///
/// # Errors
/// [`Failure`] naming the field.
pub fn card_is_well_formed(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let card = plugin.card();
    let check = start(plugin, "card_is_well_formed", EXACT);
    check.holds(is_id(card.id), "id", "lower-case letters, digits, single hyphens", card.id)?;
    for (field, text) in [("title", card.title), ("formula", card.formula), ("leaves_out", card.leaves_out)] {
        check.holds(!text.trim().is_empty(), field, "a text", text)?;
    }
    check.holds(!card.sources.is_empty(), "sources", "at least one", card.sources)?;
    for s in card.sources {
        check.holds(is_cited(&s.cite) && !s.what.is_empty(), "sources", "what and document", s)?;
    }
    for need in card.needs {
        let known = without(need, card.example).is_some();
        check.holds(known, "needs", "fields of Fuel or KnockPoint", need)?;
    }
    Ok(())
}

/// Raising both octane numbers of the fuel, or either alone, never lowers the margin.
///
/// # Errors
/// [`Failure`] with the two fuels.
pub fn more_octane_never_lowers_the_margin(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "more_octane_never_lowers_the_margin", "1e-9 octane numbers: rounding");
    let (fuel, point) = plugin.card().example;
    let mut last: Option<f64> = None;
    for i in 0..=40 {
        let more = f64::from(i) * 0.5 - 10.0;
        let shifted = |s: Option<Span>| s.map(|s| Span::new(s.value + more, s.uncertainty));
        let mut better = fuel;
        better.ron = shifted(fuel.ron);
        better.mon = shifted(fuel.mon);
        let Ok(m) = plugin.margin(&better, &point) else { continue };
        let before = last.unwrap_or(m.octane.value);
        let good = m.octane.value >= before - 1e-9;
        let expected = format!("a margin of at least {before}, that of half an octane number less");
        check.holds(good, show(&better, &point), expected, m.octane.value)?;
        last = Some(m.octane.value);
    }
    check.holds(last.is_some(), show(&fuel, &point), "a margin for the example of the card", "refusals only")
}

/// Example without one input; `None` for a name that is no field.
fn without(need: &str, (mut fuel, mut point): (Fuel, KnockPoint)) -> Option<(Fuel, KnockPoint)> {
    match need.rsplit('.').next().unwrap_or(need) {
        "ron" => fuel.ron = None,
        "mon" => fuel.mon = None,
        "lower_heating_value" => fuel.lower_heating_value = None,
        "stoichiometric_ratio" => fuel.stoichiometric_ratio = None,
        "requirement" => point.requirement = None,
        "k" => point.k = None,
        "cycle" => point.cycle = None,
        "anchor" => point.anchor = None,
        _ => return None,
    }
    Some((fuel, point))
}

/// Each input that the card says it needs is refused by name when it is missing.
///
/// # Errors
/// [`Failure`] naming the input that was guessed.
pub fn missing_inputs_are_refused_by_name(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "missing_inputs_are_refused_by_name", EXACT);
    for need in plugin.card().needs {
        let Some((fuel, point)) = without(need, plugin.card().example) else { continue };
        let got = plugin.margin(&fuel, &point);
        let good = matches!(&got, Err(r @ Refusal::Missing { .. }) if speaks(r));
        check.holds(good, format!("{need} not given"), "refused as missing", got)?;
    }
    Ok(())
}

/// Without anchor and requirement a model either refuses by name or says that its answer is not anchored, with a
/// notice.
///
/// # Errors
/// [`Failure`] with the answer that claims an anchor.
pub fn unanchored_says_so(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "unanchored_says_so", EXACT);
    let (fuel, mut point) = plugin.card().example;
    point.anchor = None;
    point.requirement = None;
    let got = plugin.margin(&fuel, &point);
    let good = match &got {
        Ok(m) => !m.anchored && m.notices.iter().next().is_some(),
        Err(r) => speaks(r),
    };
    check.holds(good, show(&fuel, &point), "anchored: false with a notice, or a refusal by name", got)
}

/// The standard uncertainty of the margin is zero or more, and finite.
///
/// # Errors
/// [`Failure`] with the uncertainty.
pub fn uncertainty_is_never_negative(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "uncertainty_is_never_negative", EXACT);
    let (fuel, point) = plugin.card().example;
    let got = plugin.margin(&fuel, &point).map(|m| m.octane.uncertainty);
    let good = got.as_ref().is_ok_and(|u| u.is_finite() && *u >= 0.0);
    check.holds(good, show(&fuel, &point), "an uncertainty of zero or more octane numbers", got)
}

/// The numbers of fuel and point, by name, with the way to change them where they are given.
type Field = (&'static str, fn(&mut Fuel, &mut KnockPoint, f64));
const FIELDS: [Field; 14] = [
    ("research octane number", |f, _, x| f.ron = f.ron.map(|s| Span::new(x, s.uncertainty))),
    ("uncertainty of the research octane number", |f, _, x| f.ron = f.ron.map(|s| Span::new(s.value, x))),
    ("motor octane number", |f, _, x| f.mon = f.mon.map(|s| Span::new(x, s.uncertainty))),
    ("octane requirement", |_, p, x| p.requirement = p.requirement.map(|s| Span::new(x, s.uncertainty))),
    ("weight K", |_, p, x| p.k = p.k.map(|s| Span::new(x, s.uncertainty))),
    ("change of spark advance, degrees", |_, p, x| p.changes.spark_advance = x),
    ("change of intake temperature, K", |_, p, x| p.changes.intake_temperature = x),
    ("change of intake pressure, kPa", |_, p, x| p.changes.intake_pressure = x),
    ("compression ratio", |_, p, x| cycle(p, |c| c.compression_ratio = x)),
    ("engine speed, 1/min", |_, p, x| cycle(p, |c| c.speed_rpm = x)),
    ("pressure at intake valve closing, Pa", |_, p, x| cycle(p, |c| c.ivc_pressure = x)),
    ("temperature at intake valve closing, K", |_, p, x| cycle(p, |c| c.ivc_temperature = x)),
    ("burn duration, degrees", |_, p, x| cycle(p, |c| c.burn_duration = x)),
    ("anchor octane", |_, p, x| {
        p.anchor = p.anchor.map(|mut a| {
            a.octane.value = x;
            a
        });
    }),
];

fn cycle(point: &mut KnockPoint, set: impl Fn(&mut CycleState)) {
    if let Some(c) = point.cycle.as_mut() {
        set(c);
    }
}

/// NaN, infinities, zero, negative and huge values in every number: refused with the reason or a finite margin, never
/// a panic; NaN in the octane numbers that the model reads is refused.
///
/// # Errors
/// [`Failure`] with the field and the value.
pub fn hostile_inputs_are_refused_or_finite(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "hostile_inputs_are_refused_or_finite", EXACT);
    for (what, set) in FIELDS {
        for x in HOSTILE {
            let (mut fuel, mut point) = plugin.card().example;
            set(&mut fuel, &mut point, x);
            let answer = catch_unwind(AssertUnwindSafe(|| plugin.margin(&fuel, &point)));
            let good = match &answer {
                Ok(Ok(m)) => {
                    let numbers = [m.octane.value, m.octane.uncertainty, m.requirement, m.fuel_index];
                    numbers.iter().all(|v| v.is_finite())
                }
                Ok(Err(r)) => speaks(r),
                Err(_) => false,
            };
            let got = answer.map_err(|_| "a panic");
            check.holds(
                good,
                format!("{what} = {x}"),
                "a refusal with its reason, or a finite margin",
                got,
            )?;
        }
    }
    Ok(())
}

/// The same fuel and point give the same bits.
///
/// # Errors
/// [`Failure`] with the two answers.
pub fn same_input_gives_same_bits(plugin: &dyn KnockModel) -> Result<(), Failure> {
    let check = start(plugin, "same_input_gives_same_bits", EXACT);
    let (fuel, point) = plugin.card().example;
    let bits = || {
        plugin.margin(&fuel, &point).map(|m| {
            let numbers = [m.octane.value, m.octane.uncertainty, m.requirement, m.fuel_index];
            (numbers.map(f64::to_bits), m.spark_degrees.map(f64::to_bits), m.notices)
        })
    };
    let before = bits();
    let after = bits();
    check.holds(before == after, show(&fuel, &point), format!("the first answer, {before:?}"), after)
}
