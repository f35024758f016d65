//! `mean_power`: the mean of repeats with its standard uncertainty.

use std::collections::HashMap;

use arrow::array::ArrayRef;
use arrow::datatypes::{DataType, Fields};
use datafusion_common::Result;
use fairpull::uncertainty::{coverage_factor, mean_and_deviation};

use crate::aggregate::{Summary, counts};
use crate::arguments::{Parameter, number};
use crate::records::{Records, fields};
use crate::samples::Sorted;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct MeanPower;

impl Summary for MeanPower {
    const NAME: &'static str = "mean_power";
    const PARAMETERS: &'static [Parameter] = &[number("power", "")];
    const SAMPLES: &'static [&'static str] = &["values"];

    fn fields() -> Fields {
        fields(&["mean", "standard_uncertainty", "low", "high"], &[("count", DataType::Int64)])
    }

    fn plan(_: &[Option<&str>]) -> Result<(), String> {
        Ok(())
    }

    fn place(value: f64, _: &[&str]) -> Result<usize, String> {
        if value.is_finite() { Ok(0) } else { Err(format!("power is {value}, not a finite number")) }
    }

    fn results(samples: &[Sorted], groups: usize) -> Result<ArrayRef> {
        let mut out = Records::<4>::with_capacity(groups);
        let mut sizes = Vec::with_capacity(groups);
        let mut coverage = HashMap::new();
        for group in 0..groups {
            let values = samples.first().map_or(&[][..], |s| s.group(group));
            let sound = !values.is_empty() && !values.iter().any(|v| v.is_nan());
            out.push(sound.then(|| mean(values, &mut coverage)));
            sizes.push(sound.then_some(values.len() as i64));
        }
        out.finish(Self::fields(), vec![counts(sizes)])
    }
}

/// Mean, standard uncertainty s/√n (JCGM 100:2008, 4.2.3) and the ends of the 95 % interval by Student's t; all but
/// the mean are NaN for a single value. Coverage factors repeat from group to group.
fn mean(values: &[f64], coverage: &mut HashMap<usize, f64>) -> [f64; 4] {
    let n = values.len();
    let (mean, deviation) = mean_and_deviation(values);
    let u = deviation / libm::sqrt(n as f64);
    let k = *coverage.entry(n).or_insert_with(|| coverage_factor(n as f64 - 1.0));
    [mean, u, mean - k * u, mean + k * u]
}
