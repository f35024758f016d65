//! One path, evaluated: the middle, the draws, the share of each assumption.

use crate::draws::{Drawn, Draws, Open};
use crate::outcome::{Assumption, Restated};
use crate::path::{Path, Trail};
use crate::prior::AirBox;
use crate::sample::interval95;
use crate::{Figure, Interval, Knowledge, RestateError, Site, Target};
use fairpull_core::{CorrectionStandard, Rating};
use std::rc::Rc;

/// How many draws show what one assumption contributes alone.
const DRAWS_ALONE: usize = 512;

/// What all candidate paths of one request share.
pub(crate) struct Common<'a> {
    pub(crate) figure: &'a Figure,
    pub(crate) target: &'a Target,
    pub(crate) knowledge: &'a Knowledge<'a>,
    pub(crate) air: Option<AirBox>,
    pub(crate) rated: Option<Rating>,
    pub(crate) draws: &'a Draws,
    /// True when the path crosses from crank to tyre or back.
    pub(crate) crosses: bool,
}

impl Common<'_> {
    /// The value in the middle of everything, W or N·m.
    fn middle(&self, path: &Path<'_>, trail: &mut Trail) -> Result<f64, RestateError> {
        let point = Path::middle();
        let air = self.air.as_ref().map(|b| b.ranges.at(&point)).transpose()?;
        path.run(self.figure.si(), air.as_ref(), &point, trail)
    }

    /// The values at the first `count` draws, W or N·m, but for those that give no figure and those left out because
    /// the factor is known to have stayed in its range.
    fn drawn(&self, path: &Path<'_>, count: usize, open: &Open, all: bool) -> Vec<f64> {
        let air = self.air.as_ref().filter(|_| path.needs_air());
        let factors = |s: Option<&dyn CorrectionStandard>| {
            air.zip(s).map(|(a, s)| self.draws.factors(s, &path.engine, &a.ranges, count, open))
        };
        let (a, b) = (factors(path.a), factors(path.b));
        let window = path.a.or(path.b).map(|s| s.card().window(path.engine.ignition));
        let limit = window.and_then(|w| w.factor).filter(|_| self.knowledge.factor_in_range && !all);
        let (si, u) = (self.figure.si(), self.figure.standard_uncertainty());
        let mut trail = Trail::default();
        let mut values = Vec::with_capacity(count);
        for (i, point) in self.draws.points(count, open).enumerate() {
            let at = |column: &Option<Rc<[Drawn]>>| column.as_ref().and_then(|c| c.get(i).copied());
            let (fa, fb) = (at(&a), at(&b));
            let kept = |f: &Drawn| !f.value.is_nan();
            let permitted = |f: &Drawn| limit.is_none_or(|l| l.check(f.blind).is_ok());
            if !(fa.iter().chain(&fb).all(kept) && fa.or(fb).as_ref().is_none_or(permitted)) {
                continue;
            }
            let factor = |f: Option<Drawn>| f.map(|f| f.value);
            values.extend(path.draw(si + point[5] * u, factor(fa), factor(fb), &point, &mut trail));
        }
        values
    }

    /// Ends of the stated interval times a ratio, W or N·m, never on the wrong side of the value.
    fn stated(&self, ratio: f64) -> (f64, f64) {
        let unit = self.figure.unit;
        let si = self.figure.si();
        let (low, high) = match self.figure.interval {
            None => (si, si),
            Some(Interval::Half(h)) => (unit.to_si(self.figure.value - h), unit.to_si(self.figure.value + h)),
            Some(Interval::Ends(low, high)) => (unit.to_si(low), unit.to_si(high)),
        };
        ((if low < si { low } else { si }) * ratio, (if high > si { high } else { si }) * ratio)
    }

    /// The answer along one path, and whether a loss model was used beyond what it describes.
    pub(crate) fn evaluate(&self, path: &Path<'_>) -> Result<(bool, Restated), RestateError> {
        let unit = self.figure.unit;
        let mut trail = Trail::in_words();
        let si = self.middle(path, &mut trail)?;
        let open = self.open(path, trail.loss_uncertainty > 0.0);
        let (mut low, mut high, mut u, mut used) = (si, si, 0.0, 0);
        let ratio = if self.figure.si() == 0.0 { 1.0 } else { si / self.figure.si() };
        if open == STATED_ONLY && !self.crosses {
            // A known factor scales the stated interval; nothing needs drawing.
            (low, high) = self.stated(ratio);
            u = self.figure.standard_uncertainty() * ratio;
        } else if open.iter().any(|o| *o) {
            let mut values = self.drawn(path, self.draws.count, &open, false);
            if values.len() < 64 {
                return Err(RestateError::Air(format!(
                    "only {} of {} draws give a figure: narrow the ranges of the air",
                    values.len(),
                    self.draws.count
                )));
            }
            used = values.len();
            u = deviation(&values, si);
            (low, high) = interval95(&mut values).unwrap_or((si, si));
            low = if si < low { si } else { low };
            high = if si > high { si } else { high };
        }
        let show = |x: f64| unit.from_si(x);
        let same = path.is_identity();
        let value = if same { self.figure.value } else { show(si) };
        let figure = Figure {
            value,
            site: Some(self.target.site),
            treatment: Some(self.target.treatment.clone()),
            rating: self.rated,
            interval: None,
            ..self.figure.clone()
        };
        let mut restated = Restated {
            quantity: self.figure.quantity().word(),
            unit: unit.symbol(),
            value,
            lo95: if low == si { value } else { show(low) },
            hi95: if high == si { value } else { show(high) },
            standard_uncertainty: unit.step_from_si(u),
            ratio,
            exact: !open.iter().any(|o| *o),
            basis_known: true,
            basis: self.target.to_string(),
            loss: path.loss.filter(|_| self.crosses).map(|l| l.card().id),
            steps: trail.steps,
            assumptions: Vec::new(),
            notices: trail.notices,
            alternatives: Vec::new(),
            seed: self.knowledge.seed,
            draws: used,
            figure,
        };
        restated.figure.interval = restated.interval();
        Ok((trail.strained, restated))
    }

    /// Which coordinates are uncertain on this path.
    fn open(&self, path: &Path<'_>, loss: bool) -> Open {
        let mut open = [false; 6];
        if let Some(air) = &self.air {
            for (o, a) in open.iter_mut().zip(air.ranges.open()) {
                *o = a;
            }
        }
        let moves = path.from != path.to;
        let hub = path.from == Site::Hub || path.to == Site::Hub;
        open[3] = loss;
        open[4] = moves && hub && !path.tyre.is_exact();
        open[5] = self.figure.standard_uncertainty() > 0.0;
        open
    }

    /// What was assumed along one path, and what each assumption alone contributes.
    pub(crate) fn assumptions(&self, path: &Path<'_>) -> Result<Vec<Assumption>, RestateError> {
        let mut trail = Trail::default();
        let si = self.middle(path, &mut trail)?;
        let open = self.open(path, trail.loss_uncertainty > 0.0);
        let mut list: Vec<(usize, String, String)> =
            self.air.as_ref().map(|a| a.assumed.clone()).unwrap_or_default();
        if open[3]
            && let Some(l) = path.loss
        {
            let card = l.card();
            list.push((
                3,
                format!("loss: {}", card.title),
                format!("{}, {}", card.cite(), card.grade().words()),
            ));
        }
        if open[4] {
            let why = if self.knowledge.tyre_share.is_some() { "given range" } else { "own judgement, wide" };
            let what = format!("tyre takes {} to {} of hub power", path.tyre.low, path.tyre.high);
            list.push((4, what, why.to_owned()));
        }
        if open[5] {
            let what = match self.figure.interval {
                Some(Interval::Ends(..)) => "stated interval, taken as normal about the value",
                _ => "stated ±, taken as a normal 95 % interval",
            };
            list.push((5, what.to_owned(), "given with the figure".to_owned()));
        }
        let shares = list.into_iter().map(|(d, what, because)| {
            let mut alone = [false; 6];
            if let Some(x) = alone.get_mut(d) {
                *x = true;
            }
            let values = self.drawn(path, DRAWS_ALONE, &alone, true);
            Assumption { what, because, contribution: self.figure.unit.step_from_si(deviation(&values, si)) }
        });
        Ok(shares.collect())
    }
}

/// Only the stated interval is uncertain.
const STATED_ONLY: Open = [false, false, false, false, false, true];

/// Root mean square deviation from the value, so that a shift counts as well as a spread.
fn deviation(values: &[f64], from: f64) -> f64 {
    let mut sum = 0.0;
    for v in values {
        sum += (v - from) * (v - from);
    }
    if values.is_empty() { 0.0 } else { libm::sqrt(sum / values.len() as f64) }
}
