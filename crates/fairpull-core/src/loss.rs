//! Plug-in family 2: loss models between the measuring point and the crankshaft.

use crate::{Cite, DrivePoint, Driveline, Notices, PowerAtCrank, PowerAtWheels, Reading, Refusal, Source};

/// A model of the power lost between the wheels and the crankshaft.
///
/// # Contract
/// Pure, never panics, non-finite inputs refused by name. Takes and gives **observed** power: losses do not scale
/// with air density, so a correction factor comes after the loss. For a non-negative wheel power the crank power is
/// never smaller than the wheel power, rises with it, and carries a standard uncertainty that is never negative.
/// Evidence that the model needs and does not find is refused as [`Refusal::Missing`].
pub trait LossModel: Send + Sync {
    /// What the model says about itself.
    fn card(&self) -> &'static LossCard;

    /// Crank power from wheel power at a point of the pull.
    ///
    /// # Errors
    /// A [`Refusal`] naming what is missing or impossible.
    fn to_crank(
        &self,
        wheel: PowerAtWheels,
        at: &DrivePoint,
        driveline: &Driveline<'_>,
    ) -> Result<AtCrank, Refusal>;

    /// Wheel power from crank power: the inverse of [`LossModel::to_crank`], by bisection to machine precision.
    /// `power` and `uncertainty` of the answer are those of the crank power that was reproduced.
    ///
    /// # Errors
    /// As [`LossModel::to_crank`]; [`Refusal::NoConvergence`] when no wheel power between 0 and the crank power
    /// gives it.
    fn to_wheels(
        &self,
        crank: PowerAtCrank,
        at: &DrivePoint,
        driveline: &Driveline<'_>,
    ) -> Result<(PowerAtWheels, AtCrank), Refusal> {
        let target = crank.watts();
        if !target.is_finite() {
            return Err(Refusal::NotFinite { what: "crank power", unit: "W" });
        }
        let answer = |w: f64| self.to_crank(PowerAtWheels::from_watts(w), at, driveline);
        let (mut low, mut high) = (0.0, target);
        if !(target > 0.0 && answer(low)?.power.watts() <= target) {
            return Err(Refusal::NoConvergence { what: "wheel power for the given crank power" });
        }
        for _ in 0..200 {
            let mid = 0.5 * (low + high);
            if mid <= low || mid >= high {
                break;
            }
            if answer(mid)?.power.watts() <= target {
                low = mid;
            } else {
                high = mid;
            }
        }
        Ok((PowerAtWheels::from_watts(low), answer(low)?))
    }
}

const _: Option<&dyn LossModel> = None;

/// Crank power from a loss model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtCrank {
    /// Observed power at the crankshaft.
    pub power: PowerAtCrank,
    /// Standard uncertainty that the model adds, W.
    pub uncertainty: f64,
    /// Remarks that travel with the figure.
    pub notices: Notices,
}

/// What a loss model says about itself.
#[derive(Clone, Copy, Debug)]
pub struct LossCard {
    /// Lower-case id, e.g. `coast-down`.
    pub id: &'static str,
    /// Short name.
    pub title: &'static str,
    /// What the model contains.
    pub contains: &'static str,
    /// What the model leaves out.
    pub leaves_out: &'static str,
    /// The evidence it needs, by field of [`Driveline`] and [`DrivePoint`].
    pub needs: &'static [&'static str],
    /// The formula.
    pub formula: &'static str,
    /// True for a habit of the trade that is offered only to read other people's figures.
    pub habit: bool,
    /// What was taken from where.
    pub sources: &'static [Source],
    /// A driveline and point with which the model can be exercised.
    pub example: (DrivePoint, Driveline<'static>),
}

impl LossCard {
    /// The weakest grade of reading among the sources.
    #[must_use]
    pub fn grade(&self) -> Reading {
        self.sources.iter().map(|s| s.cite.reading).max().unwrap_or(Reading::Doubtful)
    }

    /// The first source, for refusals.
    #[must_use]
    pub fn cite(&self) -> Cite {
        self.sources.first().map_or(Cite::new(self.id, "", Reading::Doubtful), |s| s.cite)
    }
}
