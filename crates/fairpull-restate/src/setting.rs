//! What a figure, a target and what is known come to: the path, the air to draw, what had to be assumed.

use crate::error::at;
use crate::given::{engine, rating, standard};
use crate::outcome::Assumption;
use crate::path::Path;
use crate::prior::{AirBox, air_box};
use crate::{Figure, Knowledge, Quantity, RestateError, Site, Target, Treatment, assume};
use fairpull_core::{Catalogue, Cite, DrivePoint, EngineSpeed, Reading, Refusal};

/// One question, looked up and checked.
pub(crate) struct Setting<'c> {
    /// Without a loss model.
    pub(crate) path: Path<'c>,
    /// True when the path crosses from crank to tyre or back.
    pub(crate) crosses: bool,
    /// Where the path needs air.
    pub(crate) air: Option<AirBox>,
    pub(crate) rated: Option<fairpull_core::Rating>,
    pub(crate) assumed: Vec<Assumption>,
}

impl<'c> Setting<'c> {
    /// Refuses what no loss model and no draw could mend.
    pub(crate) fn of(
        figure: &Figure,
        (site, treatment): (Site, &Treatment),
        target: &Target,
        catalogue: &Catalogue<'c>,
        knowledge: &'c Knowledge<'c>,
    ) -> Result<Self, RestateError> {
        let (a, b) = (standard(catalogue, treatment)?, standard(catalogue, &target.treatment)?);
        let (rated, rating_assumed) = rating(figure, a, b)?;
        let (engine, engine_assumed) = engine(knowledge);
        for s in [a, b].into_iter().flatten() {
            s.card().admit(&engine).map_err(at(s.card().designation))?;
        }
        let crosses = (site == Site::Crank) != (target.site == Site::Crank);
        let mut point = knowledge.point;
        if point.engine_speed.is_none() {
            point.engine_speed = figure.engine_speed_rpm.map(EngineSpeed::from_rpm);
        }
        let path = Path {
            from: site,
            to: target.site,
            a,
            b,
            engine,
            loss: None,
            driveline: knowledge.driveline,
            point,
            tyre: knowledge.tyre_share.unwrap_or(assume::TYRE_SHARE),
            torque_at: torque_at(figure.quantity(), &point, crosses)?,
        };
        let air = match (path.needs_air(), a.or(b)) {
            (true, Some(under)) => Some(air_box(&figure.air, knowledge, under, engine.ignition, catalogue)?),
            _ => None,
        };
        // A standard that refuses does so whatever the loss model: its own words come first.
        if let Some(air) = &air {
            let middle = air.ranges.at(&Path::middle())?;
            for s in [a, b].into_iter().flatten() {
                s.factor(&middle, &engine).map_err(at(s.card().designation))?;
            }
        }
        let engine_assumed = engine_assumed.filter(|_| path.needs_air());
        let assumed = engine_assumed.into_iter().chain(rating_assumed).collect();
        Ok(Self { path, crosses, air, rated, assumed })
    }
}

/// Speed at which a torque is turned into power for the loss models, rad/s.
fn torque_at(quantity: Quantity, point: &DrivePoint, crosses: bool) -> Result<Option<f64>, RestateError> {
    match (quantity, point.engine_speed) {
        (Quantity::Torque, Some(n)) if n.radians_per_second() > 0.0 => Ok(Some(n.radians_per_second())),
        (Quantity::Torque, _) if crosses => Err(at("loss")(Refusal::Missing {
            what: "engine speed",
            mend: "give the engine speed of the torque, e.g. 300 N·m @ 4500 rpm",
            cite: Cite::new("P = M·ω", "", Reading::Derived),
        })),
        _ => Ok(None),
    }
}
