//! Knock models of declared slopes: a determined requirement, moved by published or own slopes.

use fairpull_core::{
    Changes, Cite, Fuel, KnockCard, KnockModel, KnockPoint, Margin, Notice, Notices, Reading, Refusal,
    Source, Span,
};

use crate::CAUTION;
use crate::index::{OCTANE_INDEX, octane_index};
use crate::octane;
use crate::slopes::{D4814_WEATHER, RUSS, Slopes};

/// A requirement moved by slopes: requirement = determined requirement + Σ slope·change.
#[derive(Clone, Copy, Debug)]
pub struct DeclaredSlopes {
    slopes: Slopes,
    card: &'static KnockCard,
}

const OWN_SOURCE: Cite = Cite::new("the user's own slopes", "as declared", Reading::Doubtful);

const FORMULA: &str = "requirement = determined requirement + sum of slope x change (mixture: slope x change of the \
                       distance from the lambda of the highest requirement); margin = octane index - requirement; \
                       spark = margin / slope of spark";
const LEAVES_OUT: &str = "curvature, interactions between the inputs, differences between engines: slopes of one engine \
                          are taken for another";
const NEEDS: &[&str] = &["fuel.ron", "fuel.mon", "point.k", "point.requirement"];

const fn card(
    id: &'static str,
    title: &'static str,
    sources: &'static [Source],
    changes: Changes,
) -> KnockCard {
    KnockCard {
        id,
        title,
        formula: FORMULA,
        leaves_out: LEAVES_OUT,
        needs: NEEDS,
        sources,
        example: example(changes),
    }
}

const fn example(changes: Changes) -> (Fuel, KnockPoint) {
    let fuel = Fuel::new(Some(Span::new(98.0, 0.25)), Some(Span::new(88.0, 0.32)));
    let mut point = KnockPoint::unknown();
    point.k = Some(Span::new(0.0, 0.25));
    point.requirement = Some(Span::new(96.0, 2.0));
    point.changes = changes;
    (fuel, point)
}

const fn warmer() -> Changes {
    let mut c = Changes::NONE;
    c.intake_temperature = 7.0;
    c
}

static RUSS_CARD: KnockCard = card(
    "declared-slopes",
    "Slopes of a single-cylinder test engine",
    &[Source { what: "every slope", cite: RUSS }, Source { what: "octane index", cite: OCTANE_INDEX }],
    warmer(),
);
static WEATHER_CARD: KnockCard = card(
    "declared-slopes-weather",
    "Slopes of weather and altitude for vehicles",
    &[
        Source { what: "every slope", cite: D4814_WEATHER },
        Source { what: "octane index", cite: OCTANE_INDEX },
    ],
    warmer(),
);
static OWN_CARD: KnockCard = card(
    "declared-slopes-own",
    "The user's own slopes",
    &[Source { what: "every slope", cite: OWN_SOURCE }, Source { what: "octane index", cite: OCTANE_INDEX }],
    Changes::NONE,
);

impl DeclaredSlopes {
    /// Slopes of a single-cylinder test engine ([`Slopes::RUSS`]).
    pub const RUSS: Self = Self { slopes: Slopes::RUSS, card: &RUSS_CARD };
    /// Slopes of weather and altitude ([`Slopes::WEATHER`]).
    pub const WEATHER: Self = Self { slopes: Slopes::WEATHER, card: &WEATHER_CARD };

    /// A user's own slopes.
    #[must_use]
    pub const fn own(slopes: Slopes) -> Self {
        Self { slopes, card: &OWN_CARD }
    }

    /// The slopes.
    #[must_use]
    pub const fn slopes(&self) -> &Slopes {
        &self.slopes
    }
}

impl KnockModel for DeclaredSlopes {
    fn card(&self) -> &'static KnockCard {
        self.card
    }

    fn margin(&self, fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal> {
        let cite = self.card.sources.first().map_or(&OWN_SOURCE, |s| &s.cite);
        let base = point.requirement.or(point.anchor.map(|a| a.octane)).ok_or(Refusal::Missing {
            what: "determined octane requirement",
            mend: "slopes only move a requirement: give the octane index at which this engine was just borderline, \
                   with uncertainty",
            cite: *cite,
        })?;
        let base = octane::check(base)?;
        let index = octane_index(fuel, point.k)?;
        let change = self.slopes.change(&point.changes, *cite)?;
        let requirement = base.value + change.value;
        let margin = index.value - requirement;
        let mut notices = Notices::NONE;
        notices.push(Notice::Convention { what: CAUTION });
        if cite.reading > Reading::Read {
            notices.push(Notice::RestsOn { what: "the slopes", cite });
        }
        if point.cycle.is_some() {
            notices.push(Notice::Convention {
                what: "slopes read the stated changes; the cycle is left to the end-gas model",
            });
        }
        let uncertainty = libm::hypot(libm::hypot(index.uncertainty, base.uncertainty), change.uncertainty);
        Ok(Margin {
            octane: Span::new(margin, uncertainty),
            requirement,
            requirement_change: Some(change),
            fuel_index: index.value,
            spark_degrees: self.slopes.spark_per_degree.filter(|s| s.value > 0.01).map(|s| margin / s.value),
            anchored: true,
            notices,
        })
    }
}
