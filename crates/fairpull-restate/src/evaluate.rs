//! One path, evaluated: the middle, the draws, the share of each assumption.

use crate::outcome::{Assumption, Restated};
use crate::path::{Path, Trail};
use crate::prior::AirBox;
use crate::sample::{DIMENSIONS, Point, column, interval95, normal};
use crate::{Figure, Interval, Knowledge, RestateError, Site, Target};
use fairpull_core::Rating;
use std::cell::OnceCell;

/// How many draws show what one assumption contributes alone.
const DRAWS_ALONE: usize = 512;

/// The draws of one request; a coordinate is made when the first path asks for it.
pub(crate) struct Draws {
    seed: u64,
    count: usize,
    columns: [OnceCell<Vec<f64>>; DIMENSIONS],
}

impl Draws {
    pub(crate) fn new(knowledge: &Knowledge<'_>) -> Result<Self, RestateError> {
        let count = knowledge.draws;
        if (64..=65_536).contains(&count) {
            Ok(Self { seed: knowledge.seed, count, columns: Default::default() })
        } else {
            Err(RestateError::Contradiction(format!("{count} draws asked for, outside 64 to 65536")))
        }
    }

    /// A coordinate as a path reads it: loss and stated interval as normal deviates.
    fn column(&self, dimension: usize) -> &[f64] {
        let make = || {
            let mut shares = column(self.seed, self.count, dimension);
            if matches!(dimension, 3 | 5) {
                shares.iter_mut().for_each(|x| *x = normal(*x));
            }
            shares
        };
        self.columns.get(dimension).map_or(&[], |c| c.get_or_init(make).as_slice())
    }

    /// The first `count` points; the coordinates that are not open stay in the middle.
    fn points(&self, count: usize, open: &Point6) -> impl Iterator<Item = Point> {
        let columns: [Option<&[f64]>; DIMENSIONS] =
            std::array::from_fn(|d| open.get(d).copied().unwrap_or(false).then(|| self.column(d)));
        (0..count.min(self.count)).map(move |i| {
            let mut point = Path::middle();
            for (x, column) in point.iter_mut().zip(columns) {
                if let Some(y) = column.and_then(|c| c.get(i)) {
                    *x = *y;
                }
            }
            point
        })
    }
}

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
    /// The value at a point, W or N·m.
    fn at(&self, path: &Path<'_>, point: &Point, trail: &mut Trail) -> Result<f64, RestateError> {
        let air = self.air.as_ref().map(|b| b.at(point)).transpose()?;
        let value = self.figure.si() + point[5] * self.figure.standard_uncertainty();
        path.run(value, air.as_ref(), point, trail)
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

    /// False for a draw that is left out because the factor is known to have stayed in its range.
    fn permitted(&self, path: &Path<'_>, point: &Point) -> bool {
        let Some(under) = path.a.or(path.b).filter(|_| self.knowledge.factor_in_range) else { return true };
        let Some(Ok(air)) = self.air.as_ref().map(|b| b.at(point)) else { return true };
        match (under.card().window(path.engine.ignition).factor, under.factor(&air, &path.engine)) {
            (Some(limit), Ok(f)) => limit.check(f.blind()).is_ok(),
            _ => true,
        }
    }

    /// The answer along one path, and whether a loss model was used beyond what it describes.
    pub(crate) fn evaluate(&self, path: &Path<'_>) -> Result<(bool, Restated), RestateError> {
        let unit = self.figure.unit;
        let mut trail = Trail::in_words();
        let middle = Path::middle();
        let si = self.at(path, &middle, &mut trail)?;
        let open = self.open(path, trail.loss_uncertainty > 0.0);
        let (mut low, mut high, mut u, mut used) = (si, si, 0.0, 0);
        let ratio = if self.figure.si() == 0.0 { 1.0 } else { si / self.figure.si() };
        if open == STATED_ONLY && !self.crosses {
            // A known factor scales the stated interval; nothing needs drawing.
            (low, high) = self.stated(ratio);
            u = self.figure.standard_uncertainty() * ratio;
        } else if open.iter().any(|o| *o) {
            let mut values = Vec::with_capacity(self.draws.count);
            for point in self.draws.points(self.draws.count, &open).filter(|p| self.permitted(path, p)) {
                if let Ok(v) = self.at(path, &point, &mut Trail::default()) {
                    values.push(v);
                }
            }
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
    fn open(&self, path: &Path<'_>, loss: bool) -> Point6 {
        let mut open = [false; 6];
        if let Some(air) = &self.air {
            for (o, a) in open.iter_mut().zip(air.open()) {
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
        let si = self.at(path, &Path::middle(), &mut trail)?;
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
            let values: Vec<f64> = self
                .draws
                .points(DRAWS_ALONE, &alone)
                .filter_map(|p| self.at(path, &p, &mut Trail::default()).ok())
                .collect();
            Assumption { what, because, contribution: self.figure.unit.step_from_si(deviation(&values, si)) }
        });
        Ok(shares.collect())
    }
}

type Point6 = [bool; 6];

/// Only the stated interval is uncertain.
const STATED_ONLY: Point6 = [false, false, false, false, false, true];

/// Root mean square deviation from the value, so that a shift counts as well as a spread.
fn deviation(values: &[f64], from: f64) -> f64 {
    let mut sum = 0.0;
    for v in values {
        sum += (v - from) * (v - from);
    }
    if values.is_empty() { 0.0 } else { libm::sqrt(sum / values.len() as f64) }
}
