//! What bad input gets: the field, the value with its unit, what was expected, and how to mend it.

/// Why there is no road result.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RoadError {
    /// A value is outside what the arithmetic is defined for.
    #[error("{field} is {value}{}; expected {expected}: {mend}", spaced(unit))]
    Field {
        /// Name of the field.
        field: String,
        /// The value found.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// What was expected.
        expected: String,
        /// What to do.
        mend: &'static str,
    },
    /// Fewer items than the method needs.
    #[error("{what}: {got} given, at least {need} needed: {mend}")]
    TooFew {
        /// Name of the list.
        what: String,
        /// How many were given.
        got: usize,
        /// How many are needed.
        need: usize,
        /// What to do.
        mend: &'static str,
    },
    /// Two lists that belong together differ in length.
    #[error("{left} has {left_len} entries and {right} has {right_len}: give one of each for every sample")]
    Unequal {
        /// Name of the first list.
        left: &'static str,
        /// Its length.
        left_len: usize,
        /// Name of the second list.
        right: &'static str,
        /// Its length.
        right_len: usize,
    },
    /// A list that must rise does not.
    #[error(
        "{field}: entry {index} is {value} {unit}, not above the entry before it ({before} {unit}): sort the list and remove repeats"
    )]
    Order {
        /// Name of the list.
        field: String,
        /// Index of the offending entry, counted from 1.
        index: usize,
        /// Its value.
        value: f64,
        /// The value before it.
        before: f64,
        /// Their unit.
        unit: &'static str,
    },
    /// A speed that the log never crosses.
    #[error(
        "the speed {speed_kmh:.2} km/h is never crossed: the log runs from {low_kmh:.2} to {high_kmh:.2} km/h; ask for speeds inside that range"
    )]
    NeverCrossed {
        /// The speed asked for.
        speed_kmh: f64,
        /// Slowest speed of the log.
        low_kmh: f64,
        /// Fastest speed of the log.
        high_kmh: f64,
    },
    /// A speed or distance that the car does not reach.
    #[error(
        "{target} is not reached: the drive force no longer exceeds the resistance at {stalled_kmh:.2} km/h; give more power, a further gear or a lower target"
    )]
    NotReached {
        /// What was asked for.
        target: String,
        /// Where acceleration ends.
        stalled_kmh: f64,
    },
    /// Neighbouring gears leave a gap that the power curve does not cover.
    #[error(
        "between gear {lower} and gear {upper} there is a hole: after the shift at {shift_rpm:.0} 1/min the engine would turn {after_rpm:.0} 1/min, below the first point of the power curve at {first_rpm:.0} 1/min; check the ratios {lower_ratio} and {upper_ratio}, or extend the curve"
    )]
    GearHole {
        /// Lower gear, counted from 1.
        lower: usize,
        /// Next gear.
        upper: usize,
        /// Engine speed of the shift.
        shift_rpm: f64,
        /// Engine speed after the shift.
        after_rpm: f64,
        /// First engine speed of the curve.
        first_rpm: f64,
        /// Ratio of the lower gear.
        lower_ratio: f64,
        /// Ratio of the upper gear.
        upper_ratio: f64,
    },
    /// A fit or search that has no answer.
    #[error("{what}: {mend}")]
    NoAnswer {
        /// What was sought.
        what: String,
        /// What to do.
        mend: &'static str,
    },
}

/// `Ok(value)` for a finite number inside `low..=high`.
pub(crate) fn within(
    value: f64,
    low: f64,
    high: f64,
    field: &str,
    unit: &'static str,
    mend: &'static str,
) -> Result<f64, RoadError> {
    if value >= low && value <= high {
        return Ok(value);
    }
    let expected = format!("{} to {}{}", short(low), short(high), spaced(unit));
    Err(RoadError::Field { field: field.to_owned(), value, unit, expected, mend })
}

/// `Ok(())` for a strictly rising list of finite numbers.
pub(crate) fn rising(values: &[f64], field: &str, unit: &'static str) -> Result<(), RoadError> {
    for (i, pair) in values.windows(2).enumerate() {
        if let [before, value] = *pair
            && (value <= before || value.is_nan() || before.is_nan())
        {
            return Err(RoadError::Order { field: field.to_owned(), index: i + 2, value, before, unit });
        }
    }
    Ok(())
}

/// A bound without the last digits that only keep it open.
fn short(bound: f64) -> String {
    let text = format!("{bound:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A unit after a number; a ratio has none.
fn spaced(unit: &str) -> String {
    if unit == "1" { String::new() } else { format!(" {unit}") }
}
