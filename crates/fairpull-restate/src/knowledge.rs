//! What is known beside the figure.

use crate::{KnownAir, Span};
use fairpull_core::{DrivePoint, Driveline, Engine};

/// What the caller knows beside the figure itself. Everything is optional; what is missing is assumed aloud.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Knowledge<'a> {
    /// The engine; `None` is taken as spark ignition, naturally aspirated, and said so.
    pub engine: Option<Engine>,
    /// Air at the test, where the figure does not carry it.
    pub air: KnownAir,
    /// Elevation of the place above sea level, m: narrows the pressure.
    pub elevation_m: Option<Span>,
    /// Month of the test, 1 to 12, outdoor air of a temperate climate of the northern half: narrows the temperature.
    pub month: Option<u8>,
    /// True when the test air is known to have kept the factor inside the range that the standard calls valid.
    pub factor_in_range: bool,
    /// Evidence about the driveline.
    pub driveline: Driveline<'a>,
    /// Where on the pull the figure stands; the figure's own engine speed is used where this has none.
    pub point: DrivePoint,
    /// Id of the loss model to use; `None` tries all that are not a habit of the trade.
    pub loss: Option<String>,
    /// Share of hub power that the tyre loses, 0 to 0.3; `None` is assumed as a wide band.
    pub tyre_share: Option<Span>,
    /// Seed of the draws.
    pub seed: u64,
    /// Number of draws, 64 to 65 536.
    pub draws: usize,
}

impl Knowledge<'_> {
    /// Nothing known.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            engine: None,
            air: KnownAir::UNKNOWN,
            elevation_m: None,
            month: None,
            factor_in_range: false,
            driveline: Driveline::unknown(),
            point: DrivePoint::unknown(),
            loss: None,
            tyre_share: None,
            seed: crate::SEED,
            draws: crate::DRAWS,
        }
    }
}

impl Default for Knowledge<'_> {
    fn default() -> Self {
        Self::new()
    }
}
