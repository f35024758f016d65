//! Every word of the report that does not come from the result: a field a place here, a table a language beside it.

use crate::digits::Style;
use crate::english::ENGLISH;

/// Language of a report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Language {
    /// English.
    #[default]
    English,
}

impl Language {
    /// The words of this language.
    #[must_use]
    pub(crate) fn words(self) -> &'static Words {
        match self {
            Self::English => &ENGLISH,
        }
    }

    /// How numbers are written on a page in this language.
    #[must_use]
    pub fn style(self) -> Style {
        Style { decimal: self.words().decimal, minus: '−' }
    }

    /// Cautions that stand in every report: a rolling road can kill.
    #[must_use]
    pub fn cautions(self) -> &'static [&'static str] {
        self.words().standing_cautions
    }
}

macro_rules! words {
    ($($name:ident),* $(,)?) => {
        /// Fixed words, one field a place.
        pub(crate) struct Words {
            pub(crate) tag: &'static str,
            pub(crate) decimal: char,
            pub(crate) standing_cautions: &'static [&'static str],
            $(pub(crate) $name: &'static str,)*
        }
    };
}

words!(
    report,
    made_by,
    job,
    interval_note,
    basis,
    read_with,
    verdict,
    gain,
    loss,
    no_change,
    unknown_verdict,
    mean_gain,
    at_peak,
    detectable_zone,
    within,
    more_pulls,
    ruler_desc,
    peaks,
    peak_power,
    peak_torque,
    state,
    at_speed,
    speed_unit,
    edge_note,
    curves,
    power_curve,
    torque_curve,
    chart_note,
    no_zero,
    band_note,
    standing,
    detectable_line,
    at_peak_power,
    wheel_note,
    gain_curve,
    gain_axis,
    gain_note,
    gain_desc,
    no_change_rule,
    mean_rule,
    cost,
    cost_power,
    cost_quiet,
    cost_none,
    stress,
    stress_figure,
    stress_value,
    stress_remark,
    margins,
    margin_fuel,
    margin_value,
    margin_caution,
    channel,
    from,
    to,
    change,
    detectable,
    yes,
    no,
    repeats,
    repeats_note,
    pull,
    range,
    time,
    samples,
    level,
    scatter,
    lost,
    coast_down,
    soak,
    flags,
    levels_axis,
    levels_title,
    pull_axis,
    channels,
    mean,
    smallest,
    largest,
    conditions,
    conditions_note,
    pressure,
    temperature,
    humidity,
    vapour,
    factor_used,
    factor_blind,
    blind_note,
    factor_notes,
    others,
    others_note,
    standard,
    factor,
    status,
    within_range,
    no_range_known,
    outside_range,
    not_applicable,
    why,
    budget,
    budget_note,
    source,
    part,
    part_run,
    part_rig,
    input,
    adds,
    share,
    remedy,
    numbers,
    numbers_note,
    wheel_power,
    pulls,
    trail,
    trail_note,
    formula,
    inputs,
    output,
    reading,
    repairs,
    repairs_none,
    what,
    count,
    first_line,
    facts,
    vehicle,
    rig,
    site,
    rating,
    reference,
    losses,
    fuel,
    seed,
    cautions,
    cautions_note,
    notices,
    notices_none,
    no_states,
    curve_desc,
);

/// Fills `{}` in turn.
pub(crate) fn fill(pattern: &str, values: &[&str]) -> String {
    let mut values = values.iter();
    let mut out = String::new();
    let mut rest = pattern;
    while let Some((before, after)) = rest.split_once("{}") {
        out.push_str(before);
        out.push_str(values.next().copied().unwrap_or_default());
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slots_are_filled_in_turn_and_never_read_again() {
        assert_eq!(fill("{} of {}", &["{}", "two"]), "{} of two");
        assert_eq!(fill("{}, {}", &["one"]), "one, ");
    }
}
