//! One path from basis to basis, and the arithmetic along it.

use crate::error::at;
use crate::outcome::{Input, Step};
use crate::sample::{MIDDLE, Point};
use crate::{RestateError, Site, Span};
use fairpull_core::{
    Air, CorrectionStandard, DrivePoint, Driveline, Engine, Limit, LossModel, Notice, PowerAtCrank,
    PowerAtWheels, Refusal,
};

/// A path whose every choice is made.
#[derive(Clone, Copy)]
pub(crate) struct Path<'c> {
    pub(crate) from: Site,
    pub(crate) to: Site,
    pub(crate) a: Option<&'c dyn CorrectionStandard>,
    pub(crate) b: Option<&'c dyn CorrectionStandard>,
    pub(crate) engine: Engine,
    pub(crate) loss: Option<&'c dyn LossModel>,
    pub(crate) driveline: Driveline<'c>,
    pub(crate) point: DrivePoint,
    pub(crate) tyre: Span,
    /// rad/s to turn torque into power where a site changes; `None` for a power.
    pub(crate) torque_at: Option<f64>,
}

/// Where the steps and notices of the middle evaluation are written.
#[derive(Default)]
pub(crate) struct Trail {
    /// False for a draw: only numbers are kept, since thousands of draws would write the same sentences.
    pub(crate) words: bool,
    pub(crate) steps: Vec<Step>,
    pub(crate) notices: Vec<String>,
    /// Standard uncertainty that the loss model stated, W.
    pub(crate) loss_uncertainty: f64,
    /// True when a loss model was used beyond what it describes.
    pub(crate) strained: bool,
}

impl Trail {
    /// A trail that keeps steps and notices.
    pub(crate) fn in_words() -> Self {
        Self { words: true, ..Self::default() }
    }

    fn notice(&mut self, text: String) {
        if !self.notices.contains(&text) {
            self.notices.push(text);
        }
    }
}

/// What a figure on a roller or a bed can be.
pub(crate) const FIGURE: Limit = Limit {
    what: "figure",
    unit: "W or N·m",
    low: 0.0,
    high: 1.0e8,
    cite: fairpull_core::Cite::new("fairpull", "what an engine can give", fairpull_core::Reading::Derived),
};

const TYRE: Limit = Limit {
    what: "share of hub power lost in the tyre",
    unit: "1",
    low: 0.0,
    high: 0.3,
    cite: fairpull_core::Cite::new("fairpull", "what a tyre can lose", fairpull_core::Reading::Derived),
};

fn sound(value: f64) -> Result<(), RestateError> {
    if !value.is_finite() {
        return Err(at("figure")(Refusal::NotFinite { what: "figure", unit: "W or N·m" }));
    }
    FIGURE.check(value).map(|_| ()).map_err(|e| at("figure")(e.into()))
}

impl Path<'_> {
    /// True when both ends are the same basis.
    pub(crate) fn is_identity(&self) -> bool {
        self.from == self.to && self.a.map(|s| s.card().id) == self.b.map(|s| s.card().id)
    }

    /// True when a factor is on the way.
    pub(crate) fn needs_air(&self) -> bool {
        !self.is_identity() && (self.a.is_some() || self.b.is_some())
    }

    /// The restated value in W or N·m. `point` holds the coordinates of loss and tyre.
    pub(crate) fn run(
        &self,
        value: f64,
        air: Option<&Air>,
        point: &Point,
        trail: &mut Trail,
    ) -> Result<f64, RestateError> {
        sound(value)?;
        if self.is_identity() {
            return Ok(value);
        }
        let mut v = value;
        if let Some(a) = self.a {
            v = self.factor(a, air, v, false, self.from, trail)?;
        }
        v = self.across(v, point, trail)?;
        if let Some(b) = self.b {
            v = self.factor(b, air, v, true, self.to, trail)?;
        }
        Ok(v)
    }

    /// As [`Path::run`] for a draw whose factors are known; nothing where there is no figure.
    pub(crate) fn draw(
        &self,
        value: f64,
        a: Option<f64>,
        b: Option<f64>,
        point: &Point,
        trail: &mut Trail,
    ) -> Option<f64> {
        sound(value).ok()?;
        let observed = a.map_or(value, |f| value / f);
        let moved = self.across(observed, point, trail).ok()?;
        Some(b.map_or(moved, |f| moved * f))
    }

    fn factor(
        &self,
        standard: &dyn CorrectionStandard,
        air: Option<&Air>,
        v: f64,
        forward: bool,
        site: Site,
        trail: &mut Trail,
    ) -> Result<f64, RestateError> {
        let card = standard.card();
        let air = air.ok_or_else(|| RestateError::Air("not given".to_owned()))?;
        let factor = standard.factor(air, &self.engine).map_err(at(card.designation))?;
        let f = factor.value();
        if !(f.is_finite() && f > 0.0) {
            return Err(at(card.designation)(Refusal::NotFinite { what: "correction factor", unit: "1" }));
        }
        let result = if forward { v * f } else { v / f };
        let (what, multiplier) = if forward {
            (format!("observed at the {site} to {}", card.designation), f)
        } else {
            (format!("{} at the {site} back to observed", card.designation), 1.0 / f)
        };
        for n in factor.notices().iter() {
            trail.notice(format!("{}: {n}", card.designation));
        }
        if site != Site::Crank {
            trail.notice(format!(
                "convention: the factor of {} belongs to engine power; here it multiplies a {site} figure, as shops do",
                card.designation
            ));
        }
        trail.steps.push(Step {
            what,
            plug_in: card.id,
            inputs: vec![
                Input { what: "station pressure", value: air.station().kilopascals(), unit: "kPa" },
                Input { what: "dry pressure", value: air.dry().kilopascals(), unit: "kPa" },
                Input { what: "intake air temperature", value: air.temperature().celsius(), unit: "°C" },
                Input { what: "correction factor", value: f, unit: "1" },
            ],
            factor: multiplier,
            result_si: result,
            source: format!(
                "{} {}: {}; {}",
                card.designation,
                card.edition,
                card.formula,
                card.grade().words()
            ),
        });
        Ok(result)
    }

    /// From site to site, observed.
    fn across(&self, v: f64, point: &Point, trail: &mut Trail) -> Result<f64, RestateError> {
        let at_tyre = |s: Site| if s == Site::Hub { Site::Wheel } else { s };
        let mut v = v;
        if self.from == self.to {
            return Ok(v);
        }
        if self.from == Site::Hub {
            v = self.tyre(v, false, point, trail)?;
        }
        if at_tyre(self.from) != at_tyre(self.to) {
            v = self.loss(v, point, trail)?;
        }
        if self.to == Site::Hub {
            v = self.tyre(v, true, point, trail)?;
        }
        Ok(v)
    }

    fn tyre(&self, v: f64, to_hub: bool, point: &Point, trail: &mut Trail) -> Result<f64, RestateError> {
        let share = self.tyre.at(point[4]);
        TYRE.check(share).map_err(|e| at("tyre")(e.into()))?;
        let keep = 1.0 - share;
        let factor = if to_hub { 1.0 / keep } else { keep };
        if !trail.words {
            return Ok(v * factor);
        }
        let what =
            if to_hub { "observed at the wheel to the hub" } else { "observed at the hub to the wheel" };
        trail.steps.push(Step {
            what: what.to_owned(),
            plug_in: "",
            inputs: vec![Input { what: TYRE.what, value: share, unit: "1" }],
            factor,
            result_si: v * factor,
            source: "P_wheel = P_hub (1 - s): slip and rolling loss of the tyre".to_owned(),
        });
        Ok(v * factor)
    }

    fn loss(&self, v: f64, point: &Point, trail: &mut Trail) -> Result<f64, RestateError> {
        let model = self.loss.ok_or(RestateError::NoLoss {
            from: self.from.word(),
            to: self.to.word(),
            why: Vec::new(),
        })?;
        let card = model.card();
        let z = point[3];
        let omega = self.torque_at.unwrap_or(1.0);
        let watts = v * omega;
        let (out, answer, what) = if self.from == Site::Crank {
            let crank = |w| PowerAtCrank::from_watts(w);
            let (mut wheels, mut answer) =
                model.to_wheels(crank(watts), &self.point, &self.driveline).map_err(at(card.title))?;
            if z != 0.0 {
                let shifted = watts - answer.uncertainty * z;
                (wheels, answer) =
                    model.to_wheels(crank(shifted), &self.point, &self.driveline).map_err(at(card.title))?;
            }
            // No loss is negative, however the draw falls.
            let w = wheels.watts();
            (if w < watts { w } else { watts }, answer, "observed at the crank to the wheel")
        } else {
            let wheels = PowerAtWheels::from_watts(watts);
            let answer = model.to_crank(wheels, &self.point, &self.driveline).map_err(at(card.title))?;
            let c = answer.power.watts() + answer.uncertainty * z;
            (if c > watts { c } else { watts }, answer, "observed at the wheel to the crank")
        };
        trail.loss_uncertainty = answer.uncertainty;
        if !trail.words {
            return Ok(out / omega);
        }
        for n in answer.notices.iter() {
            trail.strained |= matches!(n, Notice::Extrapolated { .. });
            trail.notice(format!("{}: {n}", card.title));
        }
        let mut inputs = vec![Input { what: "power before the step", value: watts, unit: "W" }];
        inputs.push(Input {
            what: "standard uncertainty of the model",
            value: answer.uncertainty,
            unit: "W",
        });
        trail.steps.push(Step {
            what: what.to_owned(),
            plug_in: card.id,
            inputs,
            factor: if watts > 0.0 { out / watts } else { 1.0 },
            result_si: out / omega,
            source: format!("{}; {}, {}", card.formula, card.cite(), card.grade().words()),
        });
        Ok(out / omega)
    }

    /// The middle point in the coordinates that [`Path::run`] reads: no deviation of the loss.
    pub(crate) fn middle() -> Point {
        let mut point = MIDDLE;
        point[3] = 0.0;
        point[5] = 0.0;
        point
    }
}
