//! What is timed: between speeds or over a distance, standing or flying, with or without rollout.

use crate::error::{RoadError, within};
use serde::{Deserialize, Serialize};

/// One mile per hour in km/h, exact.
pub const KMH_PER_MPH: f64 = 1.609344;
/// A quarter of a mile, m, exact.
pub const QUARTER_MILE_M: f64 = 402.336;
/// One foot, m, exact: distance before the clock starts where times are given "with rollout".
pub const ROLLOUT_M: f64 = 0.3048;

/// What is timed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// From one speed to another; from 0 is a standing start.
    Speeds {
        /// Start speed, km/h.
        from_kmh: f64,
        /// End speed, km/h.
        to_kmh: f64,
        /// True when the clock starts one foot after the car: only for a standing start.
        rollout: bool,
    },
    /// Over a distance; from 0 is a standing start, anything else a flying one.
    Distance {
        /// Distance, m.
        distance_m: f64,
        /// Speed at the start, km/h.
        from_kmh: f64,
        /// True when the clock starts one foot after the car: only for a standing start.
        rollout: bool,
    },
}

impl Measure {
    /// From one speed to another in km/h, without rollout.
    #[must_use]
    pub const fn kmh(from_kmh: f64, to_kmh: f64) -> Self {
        Self::Speeds { from_kmh, to_kmh, rollout: false }
    }

    /// From one speed to another in mph: 60 to 130 mph is 96.56064 to 209.21472 km/h.
    #[must_use]
    pub const fn mph(from: f64, to: f64, rollout: bool) -> Self {
        Self::Speeds { from_kmh: from * KMH_PER_MPH, to_kmh: to * KMH_PER_MPH, rollout }
    }

    /// Standing quarter mile.
    #[must_use]
    pub const fn quarter_mile(rollout: bool) -> Self {
        Self::Distance { distance_m: QUARTER_MILE_M, from_kmh: 0.0, rollout }
    }

    /// Standing kilometre.
    #[must_use]
    pub const fn kilometre() -> Self {
        Self::Distance { distance_m: 1000.0, from_kmh: 0.0, rollout: false }
    }

    /// Name as reports print it.
    #[must_use]
    pub fn name(&self) -> String {
        let clock = |r: bool| if r { ", clock from 1 ft" } else { "" };
        match *self {
            Self::Speeds { from_kmh, to_kmh, rollout } => {
                format!("{from_kmh:.5} to {to_kmh:.5} km/h{}", clock(rollout)).replace(".00000", "")
            }
            Self::Distance { distance_m, from_kmh: 0.0, rollout } => {
                format!("standing {distance_m} m{}", clock(rollout))
            }
            Self::Distance { distance_m, from_kmh, .. } => {
                format!("flying {distance_m} m from {from_kmh} km/h")
            }
        }
    }

    /// Whether it can be timed at all.
    ///
    /// # Errors
    /// [`RoadError::Field`] when speeds are not in order, or a value is none of the road.
    pub fn check(&self) -> Result<(), RoadError> {
        let (from, rollout) = match *self {
            Self::Speeds { from_kmh, to_kmh, rollout } => {
                let over = "the end speed lies above the start speed";
                within(to_kmh, 0.1, 700.0, "end speed", "km/h", "check the unit")?;
                within(from_kmh, 0.0, to_kmh * (1.0 - 1e-9), "start speed", "km/h", over)?;
                (from_kmh, rollout)
            }
            Self::Distance { distance_m, from_kmh, rollout } => {
                within(distance_m, 1.0, 50_000.0, "distance", "m", "check the unit")?;
                within(from_kmh, 0.0, 700.0, "start speed", "km/h", "check the unit")?;
                (from_kmh, rollout)
            }
        };
        if rollout {
            within(from, 0.0, 0.0, "start speed", "km/h", "rollout belongs to a standing start only")?;
        }
        Ok(())
    }
}
