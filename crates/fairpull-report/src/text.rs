//! Every word of the report that does not come from the result: one room, a table a language.

use crate::digits::Style;

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

static ENGLISH: Words = Words {
    tag: "en",
    decimal: '.',
    standing_cautions: &[
        "Strap the vehicle down to rated anchor points and check the straps between pulls; tyres must be sound, rated for the speed and free of stones.",
        "Nobody stands in line with the driven tyres or the straps, in front of or behind the vehicle, while the rollers turn.",
        "Keep hands, hair, sleeves and cables away from rollers, shafts, belts and fans, also after the engine has stopped.",
        "Exhaust gas kills: run only with extraction that carries it outdoors and with fresh-air supply; use a carbon monoxide alarm.",
        "Exhaust, turbine housing and brakes are hot enough to burn skin and to light fuel; have a suitable extinguisher within reach.",
        "Fuel vapour explodes: mend leaks first, keep ignition sources away, ventilate before starting.",
        "Stop at once on knock, rising exhaust or coolant temperature, falling oil pressure, odd noise or smell.",
        "The work belongs to trained and licensed people; local codes, the rig maker's and the vehicle maker's instructions come before this report.",
    ],
    report: "Power measurement",
    made_by: "Made by",
    job: "Job",
    interval_note: "A number after ± is half the width of the 95 % interval. Digits beyond it are not shown.",
    basis: "Basis",
    read_with: "To be read with {} notices and the cautions at the end.",
    verdict: "Result",
    gain: "Gain",
    loss: "Loss",
    no_change: "No detectable change",
    unknown_verdict: "Verdict",
    mean_gain: "mean change in power at the crankshaft, {} to {} rpm, from {} to {}",
    at_peak: "Change of peak power: {}.",
    detectable_zone: "smallest detectable: ±{} %",
    within: "With 95 % confidence the mean change lies within ±{} %.",
    more_pulls: "{} more pulls of each state would be expected to settle it.",
    ruler_desc: "Mean change {} percent, 95 % interval {} to {} percent; smallest detectable change {} percent.",
    peaks: "Peaks",
    peak_power: "Peak power",
    peak_torque: "Peak torque",
    state: "State",
    at_speed: "at rpm",
    speed_unit: "rpm",
    edge_note: "* At the end of the measured range; the true peak may lie beyond it.",
    curves: "Power and torque",
    power_curve: "Power at the crankshaft",
    torque_curve: "Torque at the crankshaft",
    chart_note: "Line: fitted curve. Shaded: 95 % interval at each engine speed by itself.",
    band_note: "Hairlines: band that holds the whole curve at once with 95 % confidence.",
    no_zero: "The upright axis does not begin at zero.",
    wheel_note: "Corrected figures belong to the crankshaft; what was observed at the wheels stands in the table of numbers.",
    gain_curve: "Change over engine speed",
    gain_axis: "Change in power, %",
    gain_note: "Uncertainties common to both states of one rig cancel here, so the change is known better than either curve.",
    gain_desc: "Change in power in percent over engine speed, from {} to {}, with 95 % interval and whole-curve band. Mean {} percent.",
    no_change_rule: "no change",
    mean_rule: "mean {} %",
    cost: "What the power costs the engine",
    cost_power: "Mean power: {}.",
    cost_quiet: "Every other recorded channel: change not detectable.",
    cost_none: "No channel beside the power was recorded, so nothing can be said about what the engine pays.",
    channel: "Channel",
    from: "From",
    to: "To",
    change: "Change",
    detectable: "Detectable",
    yes: "yes",
    no: "no",
    repeats: "Repeats and heat soak",
    repeats_note: "Pull-to-pull scatter of the level (standard deviation): {}.",
    pull: "Pull",
    range: "Range, rpm",
    time: "Length, s",
    samples: "Samples",
    level: "Level, %",
    scatter: "{} {} %",
    lost: "Driveline loss, kW",
    coast_down: "Coast-down",
    soak: "Heat soak",
    flags: "Remarks on pulls",
    levels_axis: "Level against the mean of the state, %",
    levels_title: "Level of each pull against the mean of its state",
    pull_axis: "Pull, in the order driven",
    channels: "Channels by state",
    mean: "Mean over the band",
    at_peak_power: "At peak power",
    smallest: "Smallest",
    largest: "Largest",
    conditions: "Air and factors",
    conditions_note: "Station pressure is absolute and taken at the rig. The factor multiplies observed power at the crankshaft.",
    pressure: "Station pressure, kPa",
    temperature: "Intake air, °C",
    humidity: "Humidity, %",
    vapour: "Vapour, kPa",
    factor_used: "Factor used",
    factor_blind: "Formula alone",
    blind_note: "The engine's own control makes up for the ambient, so the factor in use differs from what the formula alone would have claimed. Both are shown.",
    factor_notes: "Remarks on the factor",
    others: "The same peak on other standards",
    others_note: "Each from the same observed curve; differences between rows are differences of reference air and formula, not of the engine.",
    standard: "Standard",
    factor: "Factor",
    status: "Range",
    standing: "Status",
    detectable_line: "Smallest detectable mean change: {} %.",
    within_range: "within",
    outside_range: "outside",
    not_applicable: "not applicable",
    why: "Remark",
    budget: "Where the uncertainty comes from",
    budget_note: "Standard uncertainty each source adds to the peak power. Rig: common to every pull, cancels in a comparison on one rig. Run: shrinks with repeats.",
    source: "Source",
    part: "Part",
    part_run: "run",
    part_rig: "rig",
    input: "Input",
    adds: "Adds, %",
    share: "Share of variance, %",
    remedy: "What would shrink it",
    numbers: "Curves in numbers",
    numbers_note: "Chosen engine speeds; every grid point stands in curves.csv.",
    wheel_power: "Observed at wheels, {}",
    pulls: "Pulls",
    trail: "Trail",
    trail_note: "Each step with its formula, numbers and source, so that it can be redone by hand.",
    formula: "Formula",
    inputs: "In",
    output: "Out",
    reading: "Text read",
    repairs: "Repairs of the recordings",
    repairs_none: "None.",
    what: "Repair",
    count: "Times",
    first_line: "First line",
    facts: "Vehicle, rig and basis",
    vehicle: "Vehicle",
    rig: "Rig",
    site: "Site",
    rating: "Rating",
    reference: "Reference air",
    losses: "Wheel to crankshaft",
    fuel: "Fuel",
    seed: "Seed of the random draws",
    cautions: "Cautions",
    cautions_note: "For whoever repeats this measurement.",
    notices: "Notices",
    notices_none: "None.",
    no_states: "The result holds no state, so there is no figure to show.",
    curve_desc: "{} over engine speed for {}, with 95 % intervals. {}",
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slots_are_filled_in_turn_and_never_read_again() {
        assert_eq!(fill("{} of {}", &["{}", "two"]), "{} of two");
        assert_eq!(fill("{}, {}", &["one"]), "one, ");
    }
}
