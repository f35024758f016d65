//! Time and load as Linux tells them.

use datafusion::error::Result;

/// Processor time of this process so far, in seconds, in steps of a hundredth.
pub fn process_seconds() -> Result<f64> {
    let line = std::fs::read_to_string("/proc/self/stat")?;
    let fields = line.rsplit(')').next().unwrap_or_default().split_whitespace().skip(11).take(2);
    Ok(fields.filter_map(|f| f.parse::<f64>().ok()).sum::<f64>() / 100.0)
}

/// How many processes wanted a core in the last 1, 5 and 15 minutes.
pub fn load() -> Result<String> {
    let line = std::fs::read_to_string("/proc/loadavg")?;
    Ok(line.split_whitespace().take(3).collect::<Vec<_>>().join(" "))
}
