//! Knock model `octane-index`: octane index of the fuel against a stated requirement.

use fairpull_core::{
    Fuel, KnockCard, KnockModel, KnockPoint, Margin, Notice, Notices, Refusal, Source, Span,
};

use crate::index::{K_PRIORS, OCTANE_INDEX, octane_index};
use crate::{CAUTION, octane};

/// Octane index against a stated requirement: margin = RON − K·(RON − MON) − requirement.
#[derive(Clone, Copy, Debug, Default)]
pub struct OctaneIndex;

static CARD: KnockCard = KnockCard {
    id: "octane-index",
    title: "Octane index against a stated requirement",
    formula: "margin = RON - K (RON - MON) - requirement; u² = (1-K)² u²(RON) + K² u²(MON) + 2 r (1-K) K u(RON) u(MON) \
              + S² u²(K) + u²(requirement)",
    leaves_out: "how the requirement was found; spark, temperature, pressure, mixture, residuals, humidity",
    needs: &["fuel.ron", "fuel.mon", "point.k", "point.requirement"],
    sources: &[
        Source { what: "octane index", cite: OCTANE_INDEX },
        Source { what: "priors of K, where the user takes one", cite: K_PRIORS },
    ],
    example: example(),
};

const fn example() -> (Fuel, KnockPoint) {
    let fuel = Fuel::new(Some(Span::new(95.0, 0.25)), Some(Span::new(85.0, 0.32)));
    let mut point = KnockPoint::unknown();
    point.requirement = Some(Span::new(94.0, 2.0));
    point.k = Some(Span::new(-0.2, 0.3));
    (fuel, point)
}

impl KnockModel for OctaneIndex {
    fn card(&self) -> &'static KnockCard {
        &CARD
    }

    fn margin(&self, fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal> {
        let requirement = octane::check(point.requirement.ok_or(Refusal::Missing {
            what: "octane requirement of the engine",
            mend: "give the octane index at which this engine is just borderline at this point, with uncertainty",
            cite: OCTANE_INDEX,
        })?)?;
        let index = octane_index(fuel, point.k)?;
        let mut notices = Notices::NONE;
        notices.push(Notice::Convention { what: CAUTION });
        Ok(Margin {
            octane: Span::new(
                index.value - requirement.value,
                libm::hypot(index.uncertainty, requirement.uncertainty),
            ),
            requirement: requirement.value,
            requirement_change: None,
            fuel_index: index.value,
            spark_degrees: None,
            anchored: true,
            notices,
        })
    }
}
