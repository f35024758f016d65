//! One line a benchmark.

/// A figure beside its limit.
pub struct Line {
    /// The benchmark.
    pub what: &'static str,
    /// How many units one call works through.
    pub units: f64,
    /// What a unit is.
    pub unit: &'static str,
    /// Seconds of one call.
    pub ours: f64,
    /// What the limit is, and its seconds for the same work.
    pub limit: Option<(&'static str, f64)>,
}

impl Line {
    /// `corrected slice, 1e6 | 0.51 ns a sample | STREAM scale 0.49 | 96 % of the limit`.
    pub fn print(&self) {
        let per = |s: f64| time(s / self.units);
        let (against, share) = match self.limit {
            Some((name, s)) => (format!("{name}: {}", per(s)), format!("{:.0} %", 100.0 * s / self.ours)),
            None => (String::new(), String::new()),
        };
        println!("| {} | {} a {} | {against} | {share} |", self.what, per(self.ours), self.unit);
    }
}

/// The head of the table.
pub fn head() {
    println!("| what | ours | limit, same run | speed of the limit reached |");
    println!("|---|---|---|---|");
}

fn time(s: f64) -> String {
    match s {
        s if s < 1e-6 => format!("{:.2} ns", s * 1e9),
        s if s < 1e-3 => format!("{:.2} µs", s * 1e6),
        s if s < 1.0 => format!("{:.2} ms", s * 1e3),
        s => format!("{s:.2} s"),
    }
}
