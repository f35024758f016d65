//! Checks of what a standard says about itself, and whether its formula agrees with that.

use crate::exercise::{air, engines, reference, show};
use crate::failure::{Check, EXACT};
use crate::{Failure, Printed};
use fairpull_core::{Cite, CorrectionStandard, Reading, TestWindow};

/// True for a lower-case id of letters, digits and single hyphens.
pub(crate) fn is_id(id: &str) -> bool {
    !id.is_empty()
        && !id.starts_with('-')
        && !id.ends_with('-')
        && !id.contains("--")
        && id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

/// True for a citation that names a document.
pub(crate) fn is_cited(cite: &Cite) -> bool {
    !cite.document.trim().is_empty()
}

/// Id, texts, citations and limits are usable; the reference air lies inside the ranges; a doubtful card names its
/// gaps.
///
/// # Errors
/// [`Failure`] naming the field.
pub fn card_is_well_formed(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check { plugin: card.id, name: "card_is_well_formed", tolerance: EXACT };
    check.holds(is_id(card.id), "id", "lower-case letters, digits, single hyphens", card.id)?;
    for (field, text) in [
        ("designation", card.designation),
        ("title", card.title),
        ("edition", card.edition),
        ("formula", card.formula),
    ] {
        check.holds(!text.trim().is_empty(), field, "a text", text)?;
    }
    check.holds(card.applies.spark || card.applies.compression, "applies", "an ignition", card.applies)?;
    check.holds(!card.sources.is_empty(), "sources", "at least one", card.sources)?;
    for s in card.sources {
        check.holds(is_cited(&s.cite) && !s.what.is_empty(), "sources", "what and document", s)?;
    }
    for a in card.aliases {
        let good = is_id(a.id) && a.id != card.id && is_cited(&a.cite) && !a.designation.is_empty();
        check.holds(good, "aliases", "another id, a designation, a document", a)?;
    }
    let owns_up = card.grade() < Reading::Doubtful || !card.gaps.is_empty();
    check.holds(owns_up, "gaps", "a gap beside a doubtful source", card.gaps)?;
    let r = &card.reference;
    let exists = reference(r).is_some() && r.kelvin() > 200.0;
    check.holds(exists, "reference", "an air that can exist", r)?;
    window(&check, &card.spark, r.kelvin(), r.pressure_kpa)?;
    window(&check, &card.compression, r.kelvin(), r.pressure_kpa)
}

fn window(check: &Check, window: &TestWindow, kelvin: f64, kpa: f64) -> Result<(), Failure> {
    for (limit, at_reference) in [(window.temperature, kelvin), (window.pressure, kpa), (window.factor, 1.0)]
    {
        let Some(limit) = limit else { continue };
        let named = !limit.what.is_empty() && !limit.unit.is_empty() && is_cited(&limit.cite);
        check.holds(named, "limit", "a name, a unit, a document", limit)?;
        check.holds(limit.low < limit.high, limit.what, "low below high", limit)?;
        check.holds(limit.check(at_reference).is_ok(), limit.what, "the reference inside", limit)?;
    }
    Ok(())
}

/// The factor is 1 at the standard's own reference, for every engine it gives a factor; or what an example of the
/// card prints for exactly that air and engine.
///
/// # Errors
/// [`Failure`] with the factor, or when no engine at all gets a factor.
pub fn is_one_at_its_own_reference(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check {
        plugin: card.id,
        name: "is_one_at_its_own_reference",
        tolerance: "4 units of the last binary place, or half a unit of the last printed digit of an example",
    };
    let r = &card.reference;
    let Some(a) = reference(r) else {
        return check.holds(false, "reference", "an air that can exist", r);
    };
    let mut given = 0;
    for e in engines() {
        let Ok(f) = plugin.factor(&a, &e) else { continue };
        given += 1;
        let published = card.examples.iter().find(|x| {
            let same = |p: f64, q: f64| libm::fabs(p - q) < 1e-9;
            x.engine == e
                && same(x.total_kpa, r.total_kpa())
                && same(x.vapour_kpa, r.vapour_kpa)
                && same(x.temperature_c, r.temperature_c)
        });
        let good = match published.and_then(|x| Printed::read(x.printed)) {
            Some(printed) => printed.agrees(f.value()),
            None => libm::fabs(f.value() - 1.0) <= 4.0 * f64::EPSILON,
        };
        check.holds(good, show(&e, Some(&a)), published.map_or("1", |x| x.printed), f.value())?;
    }
    check.holds(given > 0, "every kind of engine", "a factor for at least one", given)
}

/// Every example of the card reproduces to half a unit of its last printed digit.
///
/// # Errors
/// [`Failure`] with the printed and the computed value.
pub fn examples_reproduce(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check {
        plugin: card.id,
        name: "examples_reproduce",
        tolerance: "half a unit of the last printed digit",
    };
    for x in card.examples {
        let inputs = |a| format!("{} ({}): {}", x.what, x.cite, show(&x.engine, a));
        let (Some(a), Some(printed)) =
            (air(x.total_kpa, x.vapour_kpa, x.temperature_c), Printed::read(x.printed))
        else {
            return check.holds(false, inputs(None), "an air that can exist and a printed number", x);
        };
        let got = plugin.factor(&a, &x.engine).map(|f| f.value());
        let good = got.as_ref().is_ok_and(|v| printed.agrees(*v));
        check.holds(good, inputs(Some(&a)), x.printed, got)?;
    }
    Ok(())
}
