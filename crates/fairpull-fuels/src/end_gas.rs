//! Knock model `end-gas-autoignition`: the closed cycle, its induction-time integral and one measured anchor.

use fairpull_core::{
    Changes, Cite, CycleState, Fuel, Input, KnockCard, KnockModel, KnockPoint, Limit, Margin, Notice,
    Notices, Outside, Reading, Refusal, Source, Span,
};

use crate::CAUTION;
use crate::Choices;
use crate::cycle::{Cycle, GAMMA, WIEBE, WOSCHNI};
use crate::delay::{DOUAUD_EYZAT, FITTED_OCTANE, LIVENGOOD_WU, LOWEST_OCTANE};
use crate::index::{OCTANE_INDEX, octane_index};
use crate::octane;
use crate::retard::advance_left;

/// Share of a predicted change that is its standard uncertainty.
pub const CHANGE_UNCERTAINTY: f64 = 0.3;
/// Smallest standard uncertainty of a measured borderline point, octane numbers.
pub const ANCHOR_UNCERTAINTY: f64 = 2.0;
/// Standard uncertainty of an answer without an anchor, octane numbers: burned fraction that still counts 0.70 to
/// 0.95 (12 octane numbers, rectangular: 7.2), γ of the unburned charge ± 0.01 (2.7), temperature at valve closing
/// ± 10 K (1.8).
pub const UNANCHORED_UNCERTAINTY: f64 = 8.0;

/// Octane numbers that the induction-time correlation answers for.
static CORRELATED: Limit = Limit {
    what: "octane number for the induction-time correlation",
    unit: "1",
    low: LOWEST_OCTANE,
    high: 130.0,
    cite: DOUAUD_EYZAT,
};
const JUDGEMENT: Cite = Cite::new("fairpull", "spread of the model's own choices", Reading::Derived);

/// End-gas autoignition of a zero-dimensional cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndGas {
    /// The model's choices.
    pub choices: Choices,
}

impl EndGas {
    /// The model with its reference choices.
    pub const REFERENCE: Self = Self { choices: Choices::REFERENCE };
}

impl Default for EndGas {
    fn default() -> Self {
        Self::REFERENCE
    }
}

static CARD: KnockCard = KnockCard {
    id: "end-gas-autoignition",
    title: "End-gas autoignition, anchored",
    formula: "ON_req = 100 I^(1/3.402), I = integral of dt/tau for octane number 100 up to the burn limit; \
              tau = 0.01768 s (ON/100)^3.402 (p/atm)^-1.7 exp(3800 K/Tu); anchored: ON_req scaled so that the measured \
              borderline point is borderline; margin = octane index - ON_req",
    leaves_out: "mixture (beyond its energy), dilution, humidity, two-stage ignition, hot spots, charge motion, knock \
                 intensity: use the model of declared slopes beside it for those; without point.anchor the level is \
                 not known and the answer is wide",
    needs: &["fuel.ron", "fuel.mon", "point.k", "point.cycle"],
    sources: &[
        Source { what: "induction time", cite: DOUAUD_EYZAT },
        Source { what: "integral criterion", cite: LIVENGOOD_WU },
        Source { what: "burn law", cite: WIEBE },
        Source { what: "wall heat transfer", cite: WOSCHNI },
        Source { what: "ratio of specific heats", cite: GAMMA },
        Source { what: "octane index", cite: OCTANE_INDEX },
    ],
    example: example(),
};

const fn example() -> (Fuel, KnockPoint) {
    let fuel = Fuel::new(Some(Span::new(98.0, 0.25)), Some(Span::new(88.0, 0.32)));
    let cycle =
        CycleState::new([0.0825, 0.0928, 0.144], 9.6, 4000.0, [2.2e5, 370.0, -140.0], [-2.0, 50.0], 12.5);
    let mut point = KnockPoint::unknown();
    point.k = Some(Span::new(-0.2, 0.3));
    point.cycle = Some(cycle);
    point.anchor = Some(fairpull_core::Anchor::new(cycle, Span::new(97.0, 2.0)));
    (fuel, point)
}

impl KnockModel for EndGas {
    fn card(&self) -> &'static KnockCard {
        &CARD
    }

    fn margin(&self, fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal> {
        let state = point.cycle.ok_or(Refusal::Missing {
            what: "state of the cycle",
            mend: "give geometry, speed, state at intake valve closing, burn start and duration",
            cite: LIVENGOOD_WU,
        })?;
        let index = octane_index(fuel, point.k)?;
        let raw = Cycle::new(&state, &self.choices)?.required_octane()?;
        let mut notices = Notices::NONE;
        notices.push(Notice::Convention { what: CAUTION });
        notices.push(Notice::RestsOn { what: "the required octane number", cite: &DOUAUD_EYZAT });
        let mut scale = 1.0;
        let mut change = None;
        let mut uncertainty = libm::hypot(index.uncertainty, UNANCHORED_UNCERTAINTY);
        if let Some(anchor) = point.anchor {
            octane::check(anchor.octane)?;
            let at_anchor = if anchor.cycle == state {
                raw
            } else {
                Cycle::new(&anchor.cycle, &self.choices)?.required_octane()?
            };
            scale = anchor.octane.value / at_anchor;
            let predicted = raw * scale - anchor.octane.value;
            let u_change = CHANGE_UNCERTAINTY * libm::fabs(predicted);
            change = Some(Span::new(predicted, u_change));
            let u_anchor = libm::fmax(anchor.octane.uncertainty, ANCHOR_UNCERTAINTY);
            if anchor.octane.uncertainty < ANCHOR_UNCERTAINTY {
                notices.push(Notice::Assumed {
                    what: &Input { name: "standard uncertainty of the borderline point", unit: "ON" },
                    value: ANCHOR_UNCERTAINTY,
                    cite: &JUDGEMENT,
                });
            }
            let u_fuel = match &anchor.fuel {
                Some(run_on) => shared(fuel, run_on, point.k, raw / at_anchor).unwrap_or(index.uncertainty),
                None => index.uncertainty,
            };
            uncertainty = libm::hypot(libm::hypot(u_fuel, u_anchor), u_change);
        } else {
            notices.push(Notice::Convention {
                what: "not anchored: the level may be off by many octane numbers; measure one borderline point of \
                       this engine, or use only the change between two points",
            });
        }
        let requirement = raw * scale;
        if !(FITTED_OCTANE[0]..=FITTED_OCTANE[1]).contains(&raw) {
            notices
                .push(Notice::Extrapolated { what: "octane number outside 80 to 100", cite: &DOUAUD_EYZAT });
        }
        if !(requirement >= LOWEST_OCTANE && index.value >= LOWEST_OCTANE)
            && let Some(out) = Outside::of(&CORRELATED, libm::fmin(requirement, index.value))
        {
            notices.push(Notice::OutsideRange(out));
        }
        if point.changes != Changes::NONE {
            notices.push(Notice::Convention {
                what: "this model reads the cycle; the stated changes are left to the model of declared slopes",
            });
        }
        let spark_degrees = if index.value > 0.0 && scale > 0.0 {
            advance_left(&state, &self.choices, index.value / scale)?
        } else {
            None
        };
        if spark_degrees.is_none() {
            notices.push(Notice::Convention {
                what: "no shift of the burn within 45 degrees makes it borderline",
            });
        }
        Ok(Margin {
            octane: Span::new(index.value - requirement, uncertainty),
            requirement,
            requirement_change: change,
            fuel_index: index.value,
            spark_degrees,
            anchored: point.anchor.is_some(),
            notices,
        })
    }
}

/// Uncertainty of OI(fuel) − ratio·OI(anchor fuel) from K, RON and MON: K is common to both; the octane numbers are
/// common when it is the same fuel and independent otherwise.
fn shared(fuel: &Fuel, anchor: &Fuel, k: Option<Span>, ratio: f64) -> Option<f64> {
    let k = k?;
    let sensitivity = |f: &Fuel| Some(f.ron?.value - f.mon?.value);
    let by_k = (sensitivity(fuel)? - ratio * sensitivity(anchor)?) * k.uncertainty;
    let octane = |f: &Fuel| octane_index(f, Some(Span::new(k.value, 0.0))).ok().map(|s| s.uncertainty);
    let by_octane = if fuel == anchor {
        libm::fabs(1.0 - ratio) * octane(fuel)?
    } else {
        libm::hypot(octane(fuel)?, ratio * octane(anchor)?)
    };
    Some(libm::hypot(by_k, by_octane))
}
