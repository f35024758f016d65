//! Every word of the report that does not come from the result: a field a place here, a table a language beside it.
//!
//! Texts of the result itself are English, as in `result.json`; [`Language::say`] knows them in the other languages.

use crate::digits::Style;
use crate::english::ENGLISH;
use crate::german::GERMAN;
use crate::said;

/// Language of a report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}

/// A language tag that no report is written in.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no report is written in {tag:?}; write one of en, de")]
pub struct UnknownLanguage {
    /// The tag.
    pub tag: String,
}

impl core::str::FromStr for Language {
    type Err = UnknownLanguage;

    /// The language of a tag such as `de` or `de-AT`; only the part before the first `-` or `_` counts.
    fn from_str(tag: &str) -> Result<Self, UnknownLanguage> {
        let first = tag.split(['-', '_']).next().unwrap_or_default();
        let known = Self::ALL.into_iter().find(|l| first.eq_ignore_ascii_case(l.tag()));
        known.ok_or_else(|| UnknownLanguage { tag: tag.to_owned() })
    }
}

impl Language {
    /// Every language.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// The tag as HTML writes it: `en`, `de`.
    #[must_use]
    pub fn tag(self) -> &'static str {
        self.words().tag
    }

    /// The words of this language.
    #[must_use]
    pub(crate) fn words(self) -> &'static Words {
        match self {
            Self::English => &ENGLISH,
            Self::German => &GERMAN,
        }
    }

    /// How numbers are written on a page in this language.
    #[must_use]
    pub fn style(self) -> Style {
        Style { decimal: self.words().decimal, minus: '−', group: self.words().group }
    }

    /// A text of a result (a notice, a remark, the name of a source of uncertainty) in this language; `None` where only
    /// its English is known. Names and citations inside it stay as they are.
    #[must_use]
    pub fn say(self, text: &str) -> Option<String> {
        said::say(self.words(), text).known()
    }

    /// The phrases that [`Language::say`] works with, for a program that says texts of a result itself: an English pattern
    /// and its counterpart. Slots of the pattern: `{n}` a number, `{p}` a text of its own, `{e}` one that stays English,
    /// `{u}` one word, `{}` anything. The counterpart fills them in turn (`{}`), by place from 1 (`{2}`), or with one of
    /// two forms, the first where that number is 1 (`{2:one|many}`). Empty in English.
    pub fn phrases(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        self.words().phrases.iter().flat_map(|p| p.iter().copied())
    }

    /// Cautions that stand in every report: a rolling road can kill.
    #[must_use]
    pub fn cautions(self) -> &'static [&'static str] {
        self.words().standing_cautions
    }
}

/// English patterns of texts of a result, each with its counterpart; see [`crate::said`] for the slots.
pub(crate) type Phrases = &'static [(&'static str, &'static str)];

/// A table of phrases: `"English" => "other language";`.
macro_rules! phrases {
    ($($english:literal => $other:literal;)*) => { &[$(($english, $other)),*] };
}
pub(crate) use phrases;

macro_rules! words {
    ($($name:ident),* $(,)?) => {
        /// Fixed words, one field a place.
        pub(crate) struct Words {
            pub(crate) tag: &'static str,
            pub(crate) decimal: char,
            /// Stands between groups of three digits; none where numbers are not grouped.
            pub(crate) group: Option<char>,
            pub(crate) standing_cautions: &'static [&'static str],
            /// English texts of a result, each with its counterpart; empty in English.
            pub(crate) phrases: &'static [Phrases],
            $(pub(crate) $name: &'static str,)*
        }

        #[cfg(test)]
        impl Words {
            /// Every field with its name.
            pub(crate) fn fields(&self) -> Vec<(&'static str, &'static str)> {
                vec![$((stringify!($name), self.$name)),*]
            }
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
    part_method,
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
    quoted,
    no_change_inside,
    octane,
    vetted,
    claim_statement,
    claim_note,
    claim_checks,
    claim_check,
    claim,
    bound,
    outcome,
    consistent,
    cannot_tell,
    contradicted,
    checks_not_run,
    bound_both,
    bound_low,
    bound_high,
    bound_none,
    assumed,
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_read_as_browsers_and_shells_write_them() {
        for (tag, language) in
            [("de", Language::German), ("DE-at", Language::German), ("en_GB", Language::English)]
        {
            assert_eq!(tag.parse(), Ok(language), "{tag}");
        }
        let refused = "fr".parse::<Language>().expect_err("no such table");
        assert_eq!(refused.to_string(), "no report is written in \"fr\"; write one of en, de");
    }
}
