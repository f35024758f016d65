//! Octane index OI = RON − K·(RON − MON), and priors of its weight K.

use fairpull_core::{Cite, Fuel, Limit, Reading, Refusal, Span};

use crate::octane;

/// The octane index.
pub const OCTANE_INDEX: Cite = Cite::new(
    "Kalghatgi, octane index; SAE 2008-01-2414 and SAE 2009-01-2622",
    "OI = RON - K S; abstracts read",
    Reading::Read,
);
/// Where the priors of K come from.
pub const K_PRIORS: Cite = Cite::new(
    "fairpull's own judgement from published ranges of K",
    "fleet means 0.28 (1951) to 0.10 (1991); direct injection -0.75 to 0.2; boosted downsized -1.3 to -0.2",
    Reading::Doubtful,
);

/// Prior of K for a boosted direct-injection engine.
pub const K_BOOSTED_DIRECT: Span = Span::new(-0.2, 0.3);
/// Prior of K for a naturally aspirated port-injected engine.
pub const K_PORT: Span = Span::new(0.0, 0.25);
/// Prior of K for hot, low-speed running with high intake temperature.
pub const K_HOT: Span = Span::new(0.2, 0.3);

static K: Limit =
    Limit { what: "weight K of the octane index", unit: "1", low: -3.0, high: 1.0, cite: OCTANE_INDEX };
static K_UNCERTAINTY: Limit =
    Limit { what: "standard uncertainty of K", unit: "1", low: 0.0, high: 3.0, cite: OCTANE_INDEX };
static CORRELATION: Limit =
    Limit { what: "correlation of RON and MON", unit: "1", low: -1.0, high: 1.0, cite: octane::HERE };

/// Octane index of a fuel with its standard uncertainty, (1−K)·u(RON) ⊕ K·u(MON) ⊕ S·u(K), with the correlation of
/// RON and MON (JCGM 100:2008, equation 16). MON may be missing only when K is exactly zero.
///
/// # Errors
/// [`Refusal::Missing`] when RON or K, or MON where K needs it, is not given; [`Refusal::OutOfRange`] otherwise.
pub fn octane_index(fuel: &Fuel, k: Option<Span>) -> Result<Span, Refusal> {
    let ron = octane::check(fuel.ron.ok_or(Refusal::Missing {
        what: "research octane number RON",
        mend: "give RON, or AKI with a sensitivity",
        cite: OCTANE_INDEX,
    })?)?;
    let k = k.ok_or(Refusal::Missing {
        what: "weight K of the octane index",
        mend: "give K with its uncertainty; priors: boosted direct injection -0.2 ± 0.3, naturally aspirated port \
               injection 0 ± 0.25, hot low-speed running 0.2 ± 0.3",
        cite: K_PRIORS,
    })?;
    K.check(k.value)?;
    K_UNCERTAINTY.check(k.uncertainty)?;
    CORRELATION.check(fuel.octane_correlation)?;
    let Some(mon) = fuel.mon else {
        if k.value == 0.0 && k.uncertainty == 0.0 {
            return Ok(ron);
        }
        return Err(Refusal::Missing {
            what: "motor octane number MON",
            mend: "this grade has no MON: give MON, or the sensitivity RON - MON (8 to 12 is usual for petrol)",
            cite: OCTANE_INDEX,
        });
    };
    let mon = octane::check(mon)?;
    let sensitivity = octane::SENSITIVITY.check(ron.value - mon.value)?;
    let a = (1.0 - k.value) * ron.uncertainty;
    let b = k.value * mon.uncertainty;
    let c = sensitivity * k.uncertainty;
    let square = a * a + b * b + 2.0 * fuel.octane_correlation * a * b + c * c;
    Ok(Span::new((1.0 - k.value) * ron.value + k.value * mon.value, libm::sqrt(libm::fmax(square, 0.0))))
}
