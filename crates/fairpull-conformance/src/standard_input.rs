//! Checks of what a standard refuses, and how it says so.

use crate::Failure;
use crate::exercise::{HOSTILE, air, covered, engines, show};
use crate::failure::{Check, EXACT};
use crate::standard_card::is_cited;
use fairpull_core::{Air, CorrectionStandard, Engine, Refusal};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// The optional numbers of an engine, by name, with the way to set them.
type Field = (&'static str, fn(&mut Engine, Option<f64>));
const FIELDS: [Field; 3] = [
    ("fuel per cycle", |e, v| e.fuel_per_cycle = v),
    ("charge pressure ratio", |e, v| e.charge_pressure_ratio = v),
    ("mechanical efficiency", |e, v| e.mechanical_efficiency = v),
];

/// Airs at the corners of what a place can have, and one in the middle.
fn airs() -> Vec<Air> {
    [(100.0, 1.0, 25.0), (40.0, 0.0, -60.0), (40.0, 20.0, 80.0), (120.0, 0.0, -60.0), (120.0, 60.0, 80.0)]
        .iter()
        .filter_map(|(p, v, t)| air(*p, *v, *t))
        .collect()
}

/// NaN, infinities, zero, negative and huge values in every engine field, and the corners of the air: refused or a
/// finite positive factor; never a panic, never `Ok(NaN)`.
///
/// # Errors
/// [`Failure`] with the field and the value.
pub fn hostile_inputs_are_refused_or_finite(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let check =
        Check { plugin: plugin.card().id, name: "hostile_inputs_are_refused_or_finite", tolerance: EXACT };
    for a in airs() {
        for base in engines() {
            let mut cases = vec![base];
            for (_, set) in FIELDS {
                for value in HOSTILE {
                    let mut e = base;
                    set(&mut e, Some(value));
                    cases.extend([e, e.compensated(true)]);
                }
            }
            for e in cases {
                let answer = catch_unwind(AssertUnwindSafe(|| plugin.factor(&a, &e)));
                let good = match &answer {
                    Ok(Ok(f)) => [f.value(), f.blind()].iter().all(|v| v.is_finite() && *v > 0.0),
                    Ok(Err(_)) => true,
                    Err(_) => false,
                };
                let got = answer.map_err(|_| "a panic");
                check.holds(good, show(&e, Some(&a)), "a refusal or a finite positive factor", got)?;
            }
        }
    }
    Ok(())
}

/// An engine outside the card's scope is refused, and one inside it is not refused as out of scope.
///
/// # Errors
/// [`Failure`] with the engine.
pub fn engines_out_of_scope_are_refused(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check { plugin: card.id, name: "engines_out_of_scope_are_refused", tolerance: EXACT };
    for a in airs().iter().take(1) {
        for e in engines() {
            let answer = plugin.factor(a, &e);
            let (good, expected) = if covered(card, &e) {
                (!matches!(answer, Err(Refusal::NotApplicable { .. })), "not refused as out of scope")
            } else {
                (matches!(answer, Err(Refusal::NotApplicable { .. })), "refused as not applicable")
            };
            check.holds(good, show(&e, Some(a)), expected, answer)?;
        }
    }
    Ok(())
}

/// Every refusal that can be provoked names the quantity and its unit, or the reason, and the document it rests on.
///
/// # Errors
/// [`Failure`] with the mute text.
pub fn refusals_name_what_and_where(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let check = Check { plugin: plugin.card().id, name: "refusals_name_what_and_where", tolerance: EXACT };
    for a in airs() {
        for base in engines() {
            let mut cases = vec![base];
            for (_, set) in FIELDS {
                for value in HOSTILE.into_iter().map(Some).chain([None]) {
                    let mut e = base;
                    set(&mut e, value);
                    cases.push(e);
                }
            }
            for e in cases {
                let Ok(Err(refusal)) = catch_unwind(AssertUnwindSafe(|| plugin.factor(&a, &e))) else {
                    continue;
                };
                check.holds(
                    speaks(&refusal),
                    show(&e, Some(&a)),
                    "a name, a unit and a document",
                    refusal,
                )?;
            }
        }
    }
    Ok(())
}

/// True for a refusal whose text tells which input to mend, and where that is written.
pub(crate) fn speaks(refusal: &Refusal) -> bool {
    let text = refusal.to_string();
    let says = |part: &str| !part.trim().is_empty() && text.contains(part);
    // a ratio has the unit "1", which a text may leave out
    let measures = |unit: &str| unit == "1" || says(unit);
    match refusal {
        Refusal::OutOfRange(out) => {
            says(out.limit.what)
                && measures(out.limit.unit)
                && is_cited(&out.limit.cite)
                && says(out.limit.cite.document)
        }
        Refusal::NotFinite { what, unit } => says(what) && measures(unit),
        Refusal::Missing { what, mend, cite } => says(what) && says(mend) && says(cite.document),
        Refusal::NotApplicable { why, cite } | Refusal::Other { why, cite } => {
            says(why) && says(cite.document)
        }
        Refusal::NoConvergence { what } => says(what),
        _ => !text.trim().is_empty(),
    }
}
