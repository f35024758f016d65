//! Octane numbers: research (RON), motor (MON), antiknock index (AKI), sensitivity, and what a conversion assumes.

use fairpull_core::{Cite, Limit, Reading, Refusal, Span};

/// Standard uncertainty of a research octane number: reproducibility 0.7 between 90 and 100, divided by 2.77.
pub const RON_UNCERTAINTY: f64 = 0.7 / 2.77;
/// Standard uncertainty of a motor octane number: reproducibility 0.9 between 80 and 90, divided by 2.77.
pub const MON_UNCERTAINTY: f64 = 0.9 / 2.77;
/// Where the two reproducibilities come from.
pub const PRECISION: Cite = Cite::new("ASTM D2699 and ASTM D2700", "reproducibility", Reading::Remembered);

/// Sensitivity RON − MON of pump petrol: 8 to 12, taken as a rectangular distribution.
pub const USUAL_SENSITIVITY: Span = Span::new(10.0, 1.154_700_538_379_251_5);
/// Where the usual sensitivity comes from.
pub const SENSITIVITY_SOURCE: Cite =
    Cite::new("common practice, no single source", "sensitivity of pump petrol 8 to 12", Reading::Remembered);

pub(crate) const HERE: Cite =
    Cite::new("fairpull", "range in which an octane number has a meaning", Reading::Derived);

/// Octane numbers that a fuel can have: neat n-heptane 0 to above neat alcohols.
pub static OCTANE: Limit = Limit { what: "octane number", unit: "1", low: 0.0, high: 150.0, cite: HERE };
/// Sensitivity RON − MON.
pub static SENSITIVITY: Limit =
    Limit { what: "sensitivity RON - MON", unit: "1", low: -5.0, high: 40.0, cite: HERE };
/// Standard uncertainty of an octane number.
pub static OCTANE_UNCERTAINTY: Limit =
    Limit { what: "standard uncertainty of an octane number", unit: "1", low: 0.0, high: 50.0, cite: HERE };

/// RON and MON that were derived from something else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Split {
    /// Research octane number.
    pub ron: Span,
    /// Motor octane number.
    pub mon: Span,
    /// Correlation of their errors.
    pub correlation: f64,
    /// What the conversion assumes, for the reader.
    pub assumes: &'static str,
}

/// Antiknock index AKI = (RON + MON)/2, the errors of the two taken as independent. Exact by definition
/// (ASTM D4814; (R + M)/2 on American pumps).
#[must_use]
pub fn antiknock_index(ron: Span, mon: Span) -> Span {
    Span::new(0.5 * (ron.value + mon.value), 0.5 * libm::hypot(ron.uncertainty, mon.uncertainty))
}

/// RON = AKI + S/2 and MON = AKI − S/2 with a stated sensitivity S. An AKI is never a RON: AKI 93 is about RON 97 to 98.
///
/// # Errors
/// [`Refusal::OutOfRange`] for an AKI, a sensitivity or an uncertainty that no fuel has.
pub fn from_antiknock_index(aki: Span, sensitivity: Span) -> Result<Split, Refusal> {
    check(aki)?;
    SENSITIVITY.check(sensitivity.value)?;
    OCTANE_UNCERTAINTY.check(sensitivity.uncertainty)?;
    let half = 0.5 * sensitivity.uncertainty;
    let variance = aki.uncertainty * aki.uncertainty + half * half;
    let each = libm::sqrt(variance);
    let correlation =
        if variance > 0.0 { (aki.uncertainty * aki.uncertainty - half * half) / variance } else { 0.0 };
    Ok(Split {
        ron: Span::new(aki.value + 0.5 * sensitivity.value, each),
        mon: Span::new(aki.value - 0.5 * sensitivity.value, each),
        correlation,
        assumes: "RON and MON split from the antiknock index with an assumed sensitivity RON - MON",
    })
}

/// MON = RON − S with a stated sensitivity S.
///
/// # Errors
/// As [`from_antiknock_index`].
pub fn motor_from_research(ron: Span, sensitivity: Span) -> Result<Split, Refusal> {
    check(ron)?;
    SENSITIVITY.check(sensitivity.value)?;
    OCTANE_UNCERTAINTY.check(sensitivity.uncertainty)?;
    let u = libm::hypot(ron.uncertainty, sensitivity.uncertainty);
    Ok(Split {
        ron,
        mon: Span::new(ron.value - sensitivity.value, u),
        correlation: if u > 0.0 { ron.uncertainty / u } else { 0.0 },
        assumes: "MON taken from RON with an assumed sensitivity RON - MON",
    })
}

pub(crate) fn check(octane: Span) -> Result<Span, Refusal> {
    OCTANE.check(octane.value)?;
    OCTANE_UNCERTAINTY.check(octane.uncertainty)?;
    Ok(octane)
}
