//! Time stamps to a strictly increasing time.

/// Median of the positive steps, s; 0 when there is none.
pub(crate) fn median_interval(time: &[f64]) -> f64 {
    let mut steps: Vec<f64> = time
        .windows(2)
        .filter_map(|w| if let [a, b] = w { Some(b - a) } else { None })
        .filter(|d| *d > 0.0)
        .collect();
    quantile(&mut steps, 0.5).unwrap_or(0.0)
}

/// Value at a share of the sorted values (nearest rank); none when there are none.
pub(crate) fn quantile(values: &mut [f64], share: f64) -> Option<f64> {
    let last = values.len().checked_sub(1)?;
    let n = ((last as f64) * share + 0.5) as usize;
    let (_, v, _) = values.select_nth_unstable_by(n.min(last), f64::total_cmp);
    Some(*v)
}
