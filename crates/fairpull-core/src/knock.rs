//! Plug-in family 3: knock margins of a fuel grade at an operating point.

use crate::{Notices, Reading, Refusal, Source};

/// A model of the knock margin.
///
/// # Contract
/// Pure, never panics, non-finite inputs refused by name. More octane never lowers the margin. An answer without an
/// anchor (a measured borderline point of the same engine) says so and carries a wide uncertainty.
/// A margin never replaces a knock measurement.
pub trait KnockModel: Send + Sync {
    /// What the model says about itself.
    fn card(&self) -> &'static KnockCard;

    /// Margin of a fuel at an operating point.
    ///
    /// # Errors
    /// A [`Refusal`] naming what is missing or impossible.
    fn margin(&self, fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal>;
}

const _: Option<&dyn KnockModel> = None;

/// A value known as a range, with a best value and a standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty, same unit.
    pub uncertainty: f64,
}

impl Span {
    /// A value with standard uncertainty.
    #[must_use]
    pub const fn new(value: f64, uncertainty: f64) -> Self {
        Self { value, uncertainty }
    }
}

/// A fuel as a knock model sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Fuel {
    /// Research octane number.
    pub ron: Option<Span>,
    /// Motor octane number.
    pub mon: Option<Span>,
    /// Lower heating value, J/kg.
    pub lower_heating_value: Option<f64>,
    /// Stoichiometric air-fuel ratio by mass.
    pub stoichiometric_ratio: Option<f64>,
    /// Correlation of the errors of RON and MON, −1 to 1: −1 where both were split from a sum such as the antiknock
    /// index with an assumed sensitivity, 0 where they were measured apart.
    pub octane_correlation: f64,
}

impl Fuel {
    /// A fuel of which only the octane numbers are known.
    #[must_use]
    pub const fn new(ron: Option<Span>, mon: Option<Span>) -> Self {
        Self { ron, mon, lower_heating_value: None, stoichiometric_ratio: None, octane_correlation: 0.0 }
    }
}

/// Geometry and state of one closed cycle, SI units, angles in degrees after firing top dead centre.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct CycleState {
    /// Bore, m.
    pub bore: f64,
    /// Stroke, m.
    pub stroke: f64,
    /// Connecting-rod length, m.
    pub rod: f64,
    /// Compression ratio.
    pub compression_ratio: f64,
    /// Engine speed, 1/min.
    pub speed_rpm: f64,
    /// Pressure at intake valve closing, Pa absolute.
    pub ivc_pressure: f64,
    /// Temperature at intake valve closing, K, residuals included.
    pub ivc_temperature: f64,
    /// Intake valve closing angle.
    pub ivc_angle: f64,
    /// Start of burning.
    pub burn_start: f64,
    /// Burn duration (0 to 99.3 % burned), degrees.
    pub burn_duration: f64,
    /// Air-fuel ratio by mass.
    pub air_fuel_ratio: f64,
    /// Residual mass fraction, 0 to 1.
    pub residual_fraction: f64,
}

impl CycleState {
    /// A cycle from geometry (m), compression ratio, speed (1/min), state at intake valve closing (Pa, K, degrees),
    /// burn start and duration (degrees) and air-fuel ratio, with 5 % residuals.
    #[must_use]
    pub const fn new(
        [bore, stroke, rod]: [f64; 3],
        compression_ratio: f64,
        speed_rpm: f64,
        [ivc_pressure, ivc_temperature, ivc_angle]: [f64; 3],
        [burn_start, burn_duration]: [f64; 2],
        air_fuel_ratio: f64,
    ) -> Self {
        Self {
            bore,
            stroke,
            rod,
            compression_ratio,
            speed_rpm,
            ivc_pressure,
            ivc_temperature,
            ivc_angle,
            burn_start,
            burn_duration,
            air_fuel_ratio,
            residual_fraction: 0.05,
        }
    }
}

/// A measured borderline point: at this cycle, this octane index just did not knock.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Anchor {
    /// The cycle of the borderline point.
    pub cycle: CycleState,
    /// Octane index of the fuel it was run on, with standard uncertainty.
    pub octane: Span,
    /// The fuel it was run on, when known: the errors of K and of the octane numbers that it shares with the fuel in
    /// question then cancel.
    pub fuel: Option<Fuel>,
}

impl Anchor {
    /// A borderline point of which only the octane index is known.
    #[must_use]
    pub const fn new(cycle: CycleState, octane: Span) -> Self {
        Self { cycle, octane, fuel: None }
    }
}

/// What differs from the state in which the octane requirement was determined: new less old.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Changes {
    /// Spark advance, degrees; more advance is positive.
    pub spark_advance: f64,
    /// Temperature of the intake air or charge, K.
    pub intake_temperature: f64,
    /// Intake (manifold) pressure, kPa.
    pub intake_pressure: f64,
    /// Compression ratio.
    pub compression_ratio: f64,
    /// Exhaust back pressure, kPa.
    pub exhaust_pressure: f64,
    /// Coolant temperature, K.
    pub coolant_temperature: f64,
    /// Humidity of the intake air, grams of water per kilogram of dry air.
    pub humidity: f64,
    /// Altitude, m.
    pub altitude: f64,
    /// Relative air-fuel ratio (lambda) before and after; `None` when the mixture is unchanged.
    pub lambda: Option<[f64; 2]>,
}

impl Changes {
    /// Nothing differs.
    pub const NONE: Self = Self {
        spark_advance: 0.0,
        intake_temperature: 0.0,
        intake_pressure: 0.0,
        compression_ratio: 0.0,
        exhaust_pressure: 0.0,
        coolant_temperature: 0.0,
        humidity: 0.0,
        altitude: 0.0,
        lambda: None,
    };
}

/// Where the margin is wanted. Models read what they need.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct KnockPoint {
    /// Octane requirement of the engine at this point, if it was determined.
    pub requirement: Option<Span>,
    /// Weight K of sensitivity in the octane index RON − K·(RON − MON).
    pub k: Option<Span>,
    /// State of the cycle.
    pub cycle: Option<CycleState>,
    /// Borderline point that anchors a model.
    pub anchor: Option<Anchor>,
    /// Changes against the state in which the requirement was determined, for models made of slopes.
    pub changes: Changes,
}

impl KnockPoint {
    /// Nothing known.
    #[must_use]
    pub const fn unknown() -> Self {
        Self { requirement: None, k: None, cycle: None, anchor: None, changes: Changes::NONE }
    }
}

/// A knock margin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// Octane number of the fuel less the requirement: positive is safe side.
    pub octane: Span,
    /// The requirement itself, octane number.
    pub requirement: f64,
    /// Change of the requirement against the anchor or the determined requirement, for models that predict changes.
    pub requirement_change: Option<Span>,
    /// Octane index of the fuel at this point.
    pub fuel_index: f64,
    /// Spark advance left until borderline (negative: retard needed), degrees, if the model can tell.
    pub spark_degrees: Option<f64>,
    /// True when the answer is anchored on a measured borderline point or a determined requirement.
    pub anchored: bool,
    /// Remarks that travel with the margin.
    pub notices: Notices,
}

/// What a knock model says about itself.
#[derive(Clone, Copy, Debug)]
pub struct KnockCard {
    /// Lower-case id, e.g. `octane-index`.
    pub id: &'static str,
    /// Short name.
    pub title: &'static str,
    /// The formula.
    pub formula: &'static str,
    /// What the model leaves out.
    pub leaves_out: &'static str,
    /// The inputs it needs, by field.
    pub needs: &'static [&'static str],
    /// What was taken from where.
    pub sources: &'static [Source],
    /// A point and fuel with which the model can be exercised.
    pub example: (Fuel, KnockPoint),
}

impl KnockCard {
    /// The weakest grade of reading among the sources.
    #[must_use]
    pub fn grade(&self) -> Reading {
        self.sources.iter().map(|s| s.cite.reading).max().unwrap_or(Reading::Doubtful)
    }
}
