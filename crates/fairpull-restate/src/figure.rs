//! The plain form of a figure: what stands in a text, a file or a link.

use crate::{KnownAir, Site, Treatment};
use fairpull_core::Rating;
use fairpull_units::{Dimension, Unit};

/// What the figure is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Power.
    Power,
    /// Torque; at the wheels it is wheel power over engine speed, which is torque referred to the engine.
    Torque,
}

impl Quantity {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Power => "power",
            Self::Torque => "torque",
        }
    }
}

/// The stated 95 % interval of a figure, in the figure's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Interval {
    /// Value plus and minus this.
    Half(f64),
    /// From here to there.
    Ends(f64, f64),
}

/// A power or torque with its basis, as far as it is given. Any `f64` may stand in it; [`crate::restate`] checks.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Value in `unit`.
    pub value: f64,
    /// A unit of power or torque.
    pub unit: &'static Unit,
    /// Engine speed, 1/min.
    pub engine_speed_rpm: Option<f64>,
    /// Site; `None` when nobody said.
    pub site: Option<Site>,
    /// Treatment; `None` when nobody said.
    pub treatment: Option<Treatment>,
    /// Net or gross; `None` when nobody said, then the standard's own stands.
    pub rating: Option<Rating>,
    /// Air at the test.
    pub air: KnownAir,
    /// Fuel grade in words.
    pub fuel: Option<String>,
    /// Stated 95 % interval.
    pub interval: Option<Interval>,
}

impl Figure {
    /// A figure of which only the value is known; `None` when the unit is not one of power or torque.
    #[must_use]
    pub fn new(value: f64, unit: &'static Unit) -> Option<Self> {
        matches!(unit.dimension(), Dimension::Power | Dimension::Torque).then_some(Self {
            value,
            unit,
            engine_speed_rpm: None,
            site: None,
            treatment: None,
            rating: None,
            air: KnownAir::UNKNOWN,
            fuel: None,
            interval: None,
        })
    }

    /// At an engine speed, 1/min.
    #[must_use]
    pub fn at_rpm(mut self, rpm: f64) -> Self {
        self.engine_speed_rpm = Some(rpm);
        self
    }

    /// At a site.
    #[must_use]
    pub fn at(mut self, site: Site) -> Self {
        self.site = Some(site);
        self
    }

    /// As observed.
    #[must_use]
    pub fn observed(mut self) -> Self {
        self.treatment = Some(Treatment::Observed);
        self
    }

    /// Corrected to the standard with this id or alias.
    #[must_use]
    pub fn corrected(mut self, standard: &str) -> Self {
        self.treatment = Some(Treatment::Corrected(standard.to_owned()));
        self
    }

    /// Net or gross.
    #[must_use]
    pub fn rated(mut self, rating: Rating) -> Self {
        self.rating = Some(rating);
        self
    }

    /// With what is known of the air.
    #[must_use]
    pub fn in_air(mut self, air: KnownAir) -> Self {
        self.air = air;
        self
    }

    /// On a fuel.
    #[must_use]
    pub fn on_fuel(mut self, fuel: &str) -> Self {
        self.fuel = Some(fuel.to_owned());
        self
    }

    /// With a stated 95 % interval.
    #[must_use]
    pub fn within(mut self, interval: Interval) -> Self {
        self.interval = Some(interval);
        self
    }

    /// Power or torque.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        match self.unit.dimension() {
            Dimension::Torque => Quantity::Torque,
            _ => Quantity::Power,
        }
    }

    /// The value in W or N·m.
    #[must_use]
    pub fn si(&self) -> f64 {
        self.unit.to_si(self.value)
    }

    /// Standard uncertainty in W or N·m from the stated 95 % interval, taken as normal: half width over 1.96.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        let half = match self.interval {
            None => 0.0,
            Some(Interval::Half(h)) => h,
            Some(Interval::Ends(low, high)) => 0.5 * (high - low),
        };
        half * self.unit.factor() / NORMAL_95
    }
}

/// Two-sided 95 % point of the normal distribution.
pub(crate) const NORMAL_95: f64 = 1.959_963_984_540_054;
