//! Checks for correction standards. Each is a promise of [`CorrectionStandard`].

use crate::Failure;
use crate::exercise::{air, engines, reference, show};
use crate::failure::{Check, EXACT};
use fairpull_core::{Charging, Compensation, CorrectionStandard, Ignition, Notice};

pub use crate::standard_card::{card_is_well_formed, examples_reproduce, is_one_at_its_own_reference};
pub use crate::standard_input::{
    engines_out_of_scope_are_refused, hostile_inputs_are_refused_or_finite, refusals_name_what_and_where,
};
pub use crate::standard_range::{does_not_jump, limits_are_named, thinner_air_never_lowers_the_factor};

/// A check by name.
pub type StandardCheck = (&'static str, fn(&dyn CorrectionStandard) -> Result<(), Failure>);

/// All checks of this family.
pub const CHECKS: &[StandardCheck] = &[
    ("card_is_well_formed", card_is_well_formed),
    ("is_one_at_its_own_reference", is_one_at_its_own_reference),
    ("examples_reproduce", examples_reproduce),
    ("limits_are_named", limits_are_named),
    ("hostile_inputs_are_refused_or_finite", hostile_inputs_are_refused_or_finite),
    ("thinner_air_never_lowers_the_factor", thinner_air_never_lowers_the_factor),
    ("same_input_gives_same_bits", same_input_gives_same_bits),
    ("does_not_jump", does_not_jump),
    ("refusals_name_what_and_where", refusals_name_what_and_where),
    ("engines_out_of_scope_are_refused", engines_out_of_scope_are_refused),
    ("compensation_is_told", compensation_is_told),
];

/// Every failure of a plug-in.
#[must_use]
pub fn run(plugin: &dyn CorrectionStandard) -> Vec<Failure> {
    CHECKS.iter().filter_map(|(_, check)| check(plugin).err()).collect()
}

/// The same air and engine give the same bits and the same notices, asked again in another order.
///
/// # Errors
/// [`Failure`] with the inputs whose answer changed.
pub fn same_input_gives_same_bits(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let check = Check { plugin: plugin.card().id, name: "same_input_gives_same_bits", tolerance: EXACT };
    let airs: Vec<_> = [(84.5, 0.9, 28.0), (100.0, 1.0, 25.0), (104.0, 0.7, 10.0)]
        .iter()
        .filter_map(|(p, v, t)| air(*p, *v, *t))
        .collect();
    let cases: Vec<_> = engines().iter().flat_map(|e| airs.iter().map(|a| (*a, *e))).collect();
    let first: Vec<_> = cases.iter().map(|(a, e)| plugin.factor(a, e)).collect();
    for ((a, e), before) in cases.iter().zip(&first).rev() {
        let after = plugin.factor(a, e);
        let same = match (before, &after) {
            (Ok(x), Ok(y)) => {
                x.value().to_bits() == y.value().to_bits()
                    && x.blind().to_bits() == y.blind().to_bits()
                    && x.notices() == y.notices()
            }
            (x, y) => x == y,
        };
        check.holds(same, show(e, Some(a)), format!("the first answer, {before:?}"), after)?;
    }
    Ok(())
}

/// An engine that compensates for the ambient: factor 1 with the blind factor and a citation where the card has the
/// rule, otherwise the formula's value with a notice that it over-corrects.
///
/// # Errors
/// [`Failure`] with the engine whose case was passed over in silence.
pub fn compensation_is_told(plugin: &dyn CorrectionStandard) -> Result<(), Failure> {
    let card = plugin.card();
    let check = Check { plugin: card.id, name: "compensation_is_told", tolerance: EXACT };
    let airs = [reference(&card.reference), air(84.5, 0.9, 28.0)];
    for a in airs.iter().flatten() {
        for e in engines() {
            let asked = e.compensated(true);
            let (Ok(plain), Ok(told)) = (plugin.factor(a, &e), plugin.factor(a, &asked)) else { continue };
            let open = e.charging != Charging::None
                && !(card.compensates_spark_only && e.ignition == Ignition::Compression);
            let inputs = format!("{}, ambient-compensated", show(&asked, Some(a)));
            let one = !matches!(card.compensation, Compensation::None) && open;
            let want = if one { 1.0 } else { plain.value() };
            check.holds(
                told.value() == want && told.blind() == plain.blind(),
                &inputs,
                format!("factor {want}, blind factor {}", plain.blind()),
                (told.value(), told.blind()),
            )?;
            let said = told.notices().iter().any(|n| match n {
                Notice::Compensated { cite, .. } => one && !cite.document.is_empty(),
                Notice::NoRuleForCompensated { .. } | Notice::Extrapolated { .. } => !one,
                _ => false,
            });
            check.holds(said || !open, &inputs, "a notice about the compensation", told.notices())?;
        }
    }
    Ok(())
}
