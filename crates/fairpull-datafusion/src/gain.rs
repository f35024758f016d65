//! `gain`: two states of one car compared.

use arrow::array::ArrayRef;
use arrow::datatypes::{DataType, Fields};
use datafusion_common::Result;
use fairpull::uncertainty::{Welch, mean_and_deviation, welch};

use crate::aggregate::{Summary, counts};
use crate::arguments::{Parameter, number, text};
use crate::records::{Records, fields};
use crate::samples::Sorted;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Gain;

const DOUBLES: &[&str] =
    &["gain", "low", "high", "difference", "difference_low", "difference_high", "degrees_of_freedom"];

impl Summary for Gain {
    const NAME: &'static str = "gain";
    const PARAMETERS: &'static [Parameter] =
        &[number("power", ""), text("state"), text("before"), text("after")];
    const SAMPLES: &'static [&'static str] = &["before", "after"];

    fn fields() -> Fields {
        fields(DOUBLES, &[("before_count", DataType::Int64), ("after_count", DataType::Int64)])
    }

    fn plan(literals: &[Option<&str>]) -> Result<(), String> {
        match literals {
            [_, _, Some(before), Some(after)] if before == after => Err(one_state(before)),
            _ => Ok(()),
        }
    }

    fn place(value: f64, texts: &[&str]) -> Result<usize, String> {
        let [state, before, after] = texts else { return Err("state, before or after is missing".into()) };
        if !(value.is_finite() && value > 0.0) {
            return Err(format!("power is {value}, not a finite number above 0"));
        }
        match (state == before, state == after) {
            (true, false) => Ok(0),
            (false, true) => Ok(1),
            (true, true) => Err(one_state(before)),
            (false, false) => Err(format!("state {state:?} is neither {before:?} nor {after:?}")),
        }
    }

    fn results(samples: &[Sorted], groups: usize) -> Result<ArrayRef> {
        let mut out = Records::<7>::with_capacity(groups);
        let (mut before_counts, mut after_counts) = (Vec::new(), Vec::new());
        let sample = |i: usize, group| samples.get(i).map_or(&[][..], |s| s.group(group));
        for group in 0..groups {
            let (before, after) = (sample(0, group), sample(1, group));
            let mut all = before.iter().chain(after).peekable();
            let sound = all.peek().is_some() && !all.any(|v| v.is_nan());
            out.push(sound.then(|| compared(before, after)));
            before_counts.push(sound.then_some(before.len() as i64));
            after_counts.push(sound.then_some(after.len() as i64));
        }
        out.finish(Self::fields(), vec![counts(before_counts), counts(after_counts)])
    }
}

fn one_state(name: &str) -> String {
    format!("{name:?} is given as both states; name two different ones")
}

/// The fields of [`DOUBLES`], NaN where a state has too few values. The gain is the ratio of the geometric means, as
/// in the report: what both states share, such as the calibration of the rig, cancels in it.
fn compared(before: &[f64], after: &[f64]) -> [f64; 7] {
    let logs = |values: &[f64]| values.iter().map(|p| libm::log(*p)).collect::<Vec<_>>();
    let ratio = both(&logs(before), &logs(after));
    let plain = both(before, after);
    let percent = |d: f64| 100.0 * libm::expm1(d);
    [
        percent(ratio.difference),
        percent(ratio.difference - ratio.half_width),
        percent(ratio.difference + ratio.half_width),
        plain.difference,
        plain.difference - plain.half_width,
        plain.difference + plain.half_width,
        ratio.dof,
    ]
}

/// Welch's comparison, or the difference alone where there are no repeats to judge it by.
fn both(first: &[f64], second: &[f64]) -> Welch {
    welch(first, second).unwrap_or_else(|| Welch {
        difference: mean_and_deviation(second).0 - mean_and_deviation(first).0,
        error: f64::NAN,
        dof: f64::NAN,
        half_width: f64::NAN,
    })
}
