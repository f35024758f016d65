//! Statistics of repeats: one group, several groups, two groups compared.

use crate::student::coverage_factor;

/// Mean and standard deviation (n − 1); the deviation of fewer than two values is NaN.
#[must_use]
pub fn mean_and_deviation(x: &[f64]) -> (f64, f64) {
    let n = x.len() as f64;
    let mean = x.iter().sum::<f64>() / n;
    let ss: f64 = x.iter().map(|v| (v - mean) * (v - mean)).sum();
    (mean, if x.len() < 2 { f64::NAN } else { libm::sqrt(ss / (n - 1.0)) })
}

/// One-way analysis of variance of groups of repeats (ISO 5725-2, 7.4; JCGM 100:2008, H.5).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groups {
    /// Pooled standard deviation within groups.
    pub within: f64,
    /// Its degrees of freedom.
    pub within_dof: f64,
    /// Standard deviation between groups beyond what repeats explain; 0 when the estimate is negative.
    pub between: f64,
    /// Ratio of mean squares F.
    pub f_ratio: f64,
}

/// Pools the variance within groups and separates the variance between them. Groups of one value add nothing to
/// the pool. `None` without any repeat.
#[must_use]
pub fn analysis_of_variance(groups: &[Vec<f64>]) -> Option<Groups> {
    let filled: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
    let total: f64 = filled.iter().map(|g| g.len() as f64).sum();
    let k = filled.len() as f64;
    let within_dof = total - k;
    if within_dof < 1.0 {
        return None;
    }
    let grand = filled.iter().flat_map(|g| g.iter()).sum::<f64>() / total;
    let (mut ss_within, mut ss_between, mut squares) = (0.0, 0.0, 0.0);
    for g in &filled {
        let n = g.len() as f64;
        let mean = g.iter().sum::<f64>() / n;
        ss_within += g.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>();
        ss_between += n * (mean - grand) * (mean - grand);
        squares += n * n;
    }
    let ms_within = ss_within / within_dof;
    let (between, f_ratio) = if k > 1.0 {
        let ms_between = ss_between / (k - 1.0);
        let n_bar = (total - squares / total) / (k - 1.0);
        let excess = (ms_between - ms_within) / n_bar;
        (libm::sqrt(if excess > 0.0 { excess } else { 0.0 }), ms_between / ms_within)
    } else {
        (0.0, f64::NAN)
    };
    Some(Groups { within: libm::sqrt(ms_within), within_dof, between, f_ratio })
}

/// Difference of two group means with Welch's degrees of freedom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Welch {
    /// Second mean less first mean.
    pub difference: f64,
    /// Standard error.
    pub error: f64,
    /// Effective degrees of freedom.
    pub dof: f64,
    /// Half width of the 95 % interval.
    pub half_width: f64,
}

/// Welch's comparison of two groups (Biometrika 34, 1947). `None` unless both have at least two values.
#[must_use]
pub fn welch(first: &[f64], second: &[f64]) -> Option<Welch> {
    if first.len() < 2 || second.len() < 2 {
        return None;
    }
    let (m1, s1) = mean_and_deviation(first);
    let (m2, s2) = mean_and_deviation(second);
    let (n1, n2) = (first.len() as f64, second.len() as f64);
    let (v1, v2) = (s1 * s1 / n1, s2 * s2 / n2);
    let error = libm::sqrt(v1 + v2);
    let dof = (v1 + v2) * (v1 + v2) / (v1 * v1 / (n1 - 1.0) + v2 * v2 / (n2 - 1.0));
    Some(Welch { difference: m2 - m1, error, dof, half_width: coverage_factor(dof) * error })
}
