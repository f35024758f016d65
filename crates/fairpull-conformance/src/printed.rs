//! A number kept as it is printed: its tolerance follows from its last digit, so nobody can choose one.

/// A printed decimal number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Printed {
    /// The number.
    pub value: f64,
    /// Half a unit of the last printed digit.
    pub half_unit: f64,
}

impl Printed {
    /// Reads e.g. `"1.023"` as 1.023 ± 0.0005, `"720"` as 720 ± 0.5; `None` for anything but a plain decimal number.
    ///
    /// ```
    /// let p = fairpull_conformance::Printed::read("0.9111").unwrap();
    /// assert!(p.agrees(0.91114) && !p.agrees(0.9112));
    /// ```
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let plain = text.trim_start_matches('-');
        if plain.is_empty() || !plain.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
            return None;
        }
        let decimals = plain.split_once('.').map_or(0, |(_, d)| d.len());
        let value: f64 = text.parse().ok()?;
        Some(Self { value, half_unit: 0.5 * libm::pow(10.0, -(decimals as f64)) })
    }

    /// True when `value` rounds to the printed digits, with a millionth of the half unit for binary rounding.
    #[must_use]
    pub fn agrees(&self, value: f64) -> bool {
        let gap = libm::fabs(value - self.value);
        gap <= self.half_unit * 1.000_001 + 4.0 * f64::EPSILON * libm::fabs(self.value)
    }
}
