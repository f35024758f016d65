//! From a figure and a target to the answer.

use crate::error::at;
use crate::near::nearest;
use crate::outcome::{Alternative, Assumption, Restated};
use crate::path::{Path, Trail};
use crate::prior::{AirBox, air_box};
use crate::sample::{Point, interval95, normal, points};
use crate::{
    Figure, Interval, Knowledge, Quantity, RestateError, Site, Target, Treatment, assume, plausible,
};
use fairpull_core::{Catalogue, Charging, CorrectionStandard, Engine, Ignition, LossModel, Rating, Refusal};
use std::cell::OnceCell;

/// Seed of the draws when the caller gives none.
pub const SEED: u64 = 1;
/// Number of draws when the caller gives none.
pub const DRAWS: usize = 4096;
/// How many draws show what one assumption contributes alone.
const DRAWS_ALONE: usize = 512;

/// The figure on another basis.
///
/// Known air gives the exact value. Unknown air is drawn from what the standard permits, narrowed by what is known;
/// the draws are deterministic for a seed. A figure without site or treatment gives the range over the plausible
/// bases, and says so.
///
/// # Errors
/// [`RestateError`] when an id is unknown, a plug-in refuses (net to gross, outside applicability, fuel delivery
/// missing), or no loss model has its evidence.
pub fn restate(
    figure: &Figure,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
) -> Result<Restated, RestateError> {
    let draws = Draws::new(knowledge)?;
    restate_with(figure, target, catalogue, knowledge, &draws)
}

/// As [`restate`] with draws that were made before.
pub(crate) fn restate_with(
    figure: &Figure,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
) -> Result<Restated, RestateError> {
    match (figure.site, &figure.treatment) {
        (Some(site), Some(treatment)) => known(figure, site, treatment, target, catalogue, knowledge, draws),
        _ => plausible::range(figure, target, catalogue, knowledge, draws),
    }
}

/// The draws of one request, made when the first uncertain path asks for them.
pub(crate) struct Draws {
    seed: u64,
    count: usize,
    points: OnceCell<Vec<Point>>,
}

impl Draws {
    pub(crate) fn new(knowledge: &Knowledge<'_>) -> Result<Self, RestateError> {
        let count = knowledge.draws;
        if (64..=65_536).contains(&count) {
            Ok(Self { seed: knowledge.seed, count, points: OnceCell::new() })
        } else {
            Err(RestateError::Contradiction(format!("{count} draws asked for, outside 64 to 65536")))
        }
    }

    /// The points in the coordinates that a path reads: loss and stated interval as normal deviates.
    fn points(&self) -> &[Point] {
        self.points.get_or_init(|| {
            let deviates = |mut p: Point| {
                p[3] = normal(p[3]);
                p[5] = normal(p[5]);
                p
            };
            points(self.seed, self.count).map(deviates).collect()
        })
    }
}

pub(crate) fn standard<'c>(
    catalogue: &Catalogue<'c>,
    treatment: &Treatment,
) -> Result<Option<&'c dyn CorrectionStandard>, RestateError> {
    match treatment {
        Treatment::Observed => Ok(None),
        Treatment::Corrected(id) => match catalogue.standard(id) {
            Some(s) => Ok(Some(s)),
            None => {
                let ids = catalogue
                    .standards()
                    .iter()
                    .flat_map(|s| std::iter::once(s.card().id).chain(s.card().aliases.iter().map(|a| a.id)));
                Err(RestateError::UnknownStandard { id: id.clone(), nearest: nearest(id, ids) })
            }
        },
    }
}

/// The engine, and what was assumed of it.
pub(crate) fn engine(knowledge: &Knowledge<'_>) -> (Engine, Option<Assumption>) {
    match knowledge.engine {
        Some(e) => (e, None),
        None => (
            Engine::new(Ignition::Spark, Charging::None),
            Some(Assumption {
                what: "engine: spark ignition, naturally aspirated".to_owned(),
                because: "nothing was said of the engine".to_owned(),
                contribution: 0.0,
            }),
        ),
    }
}

/// Refuses a stated interval that is none.
fn sound(figure: &Figure) -> Result<(), RestateError> {
    let fits = match figure.interval {
        None => true,
        Some(Interval::Half(h)) => h.is_finite() && h >= 0.0,
        Some(Interval::Ends(low, high)) => crate::Span::new(low, high).is_sound(),
    };
    if fits {
        Ok(())
    } else {
        Err(RestateError::Contradiction(format!(
            "the stated interval of {figure} must have finite ends, the low end first"
        )))
    }
}

/// Net or gross of the figure and of what it becomes; net never becomes gross.
fn rating(
    figure: &Figure,
    a: Option<&dyn CorrectionStandard>,
    b: Option<&dyn CorrectionStandard>,
) -> Result<(Option<Rating>, Option<Assumption>), RestateError> {
    let definite = |r: Rating| (r != Rating::Either).then_some(r);
    let own = a.and_then(|s| definite(s.card().rating));
    let given = figure.rating.and_then(definite);
    if let (Some(from), Some(to), Some(s)) = (given, own, a)
        && from != to
    {
        return Err(at(s.card().designation)(Refusal::RatingDiffers { from, to }));
    }
    let from = given.or(own);
    let to = b.and_then(|s| definite(s.card().rating));
    match (from, to, b) {
        (Some(from), Some(to), Some(s)) if from != to => {
            Err(at(s.card().designation)(Refusal::RatingDiffers { from, to }))
        }
        (None, Some(to), Some(s)) => Ok((
            Some(to),
            Some(Assumption {
                what: format!("rating: {to}"),
                because: format!("nobody said net or gross, and {} rates {to}", s.card().designation),
                contribution: 0.0,
            }),
        )),
        _ => Ok((from, None)),
    }
}

/// Loss models that may be tried, each with a path; the reason for each that cannot.
fn losses<'c>(
    catalogue: &Catalogue<'c>,
    knowledge: &Knowledge<'_>,
) -> Result<Vec<&'c dyn LossModel>, RestateError> {
    match &knowledge.loss {
        None => Ok(catalogue.losses().iter().copied().filter(|l| !l.card().habit).collect()),
        Some(id) => match catalogue.loss(id) {
            Some(l) => Ok(vec![l]),
            None => {
                let ids = catalogue.losses().iter().map(|l| l.card().id);
                Err(RestateError::UnknownLoss { id: id.clone(), nearest: nearest(id, ids) })
            }
        },
    }
}

fn known(
    figure: &Figure,
    site: Site,
    treatment: &Treatment,
    target: &Target,
    catalogue: &Catalogue<'_>,
    knowledge: &Knowledge<'_>,
    draws: &Draws,
) -> Result<Restated, RestateError> {
    sound(figure)?;
    let (a, b) = (standard(catalogue, treatment)?, standard(catalogue, &target.treatment)?);
    let (rated, rating_assumed) = rating(figure, a, b)?;
    let (engine, engine_assumed) = engine(knowledge);
    for s in [a, b].into_iter().flatten() {
        s.card().admit(&engine).map_err(at(s.card().designation))?;
    }
    let mut point = knowledge.point;
    if point.engine_speed.is_none() {
        point.engine_speed = figure.engine_speed_rpm.map(fairpull_core::EngineSpeed::from_rpm);
    }
    let crosses = (site == Site::Crank) != (target.site == Site::Crank);
    let torque_at = match (figure.quantity(), point.engine_speed) {
        (Quantity::Torque, Some(n)) if n.radians_per_second() > 0.0 => Some(n.radians_per_second()),
        (Quantity::Torque, _) if crosses => {
            return Err(at("loss")(Refusal::Missing {
                what: "engine speed",
                mend: "give the engine speed of the torque, e.g. 300 N·m @ 4500 rpm",
                cite: fairpull_core::Cite::new("P = M·ω", "", fairpull_core::Reading::Derived),
            }));
        }
        _ => None,
    };
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
        torque_at,
    };
    let air = match (path.needs_air(), a.or(b)) {
        (true, Some(under)) => Some(air_box(&figure.air, knowledge, under, engine.ignition, catalogue)?),
        _ => None,
    };
    let common = Common { figure, target, knowledge, air, rated, draws, crosses };
    let mut found = Vec::new();
    let mut why = Vec::new();
    let mut first = None;
    if crosses {
        for model in losses(catalogue, knowledge)? {
            match common.evaluate(&Path { loss: Some(model), ..path }) {
                Ok(r) => found.push(r),
                Err(e) => {
                    why.push(format!("{}: {e}", model.card().id));
                    first = first.or(Some(e));
                }
            }
        }
    } else {
        found.push(common.evaluate(&path)?);
    }
    // A model used beyond what it describes ranks behind one that is not; then the narrower one leads.
    found.sort_by(|(strained_x, x), (strained_y, y)| {
        strained_x.cmp(strained_y).then((x.hi95 - x.lo95).total_cmp(&(y.hi95 - y.lo95)))
    });
    let mut found = found.into_iter().map(|(_, r)| r);
    let Some(mut best) = found.next() else {
        return Err(match (first, knowledge.loss.is_some()) {
            (Some(only), true) => only,
            _ => RestateError::NoLoss { from: site.word(), to: target.site.word(), why },
        });
    };
    best.alternatives = found
        .map(|r| Alternative {
            what: format!("loss model {}", r.loss.unwrap_or("none")),
            value: r.value,
            lo95: r.lo95,
            hi95: r.hi95,
        })
        .collect();
    best.assumptions.extend(engine_assumed.filter(|_| path.needs_air()));
    best.assumptions.extend(rating_assumed);
    Ok(best)
}

/// What all candidate paths of one request share.
struct Common<'a> {
    figure: &'a Figure,
    target: &'a Target,
    knowledge: &'a Knowledge<'a>,
    air: Option<AirBox>,
    rated: Option<Rating>,
    draws: &'a Draws,
    crosses: bool,
}

impl Common<'_> {
    /// The value at a point; `None` in `in_range` when the draw is to be left out.
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

    fn permitted(&self, path: &Path<'_>, point: &Point) -> bool {
        let Some(under) = path.a.or(path.b).filter(|_| self.knowledge.factor_in_range) else { return true };
        let Some(Ok(air)) = self.air.as_ref().map(|b| b.at(point)) else { return true };
        match (under.card().window(path.engine.ignition).factor, under.factor(&air, &path.engine)) {
            (Some(limit), Ok(f)) => limit.check(f.blind()).is_ok(),
            _ => true,
        }
    }

    fn evaluate(&self, path: &Path<'_>) -> Result<(bool, Restated), RestateError> {
        let unit = self.figure.unit;
        let mut trail = Trail::default();
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
            for point in self.draws.points().iter().filter(|p| self.permitted(path, p)) {
                if let Ok(v) = self.at(path, &only(point, &open), &mut Trail::default()) {
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
        let assumptions = self.assumptions(path, si, &open);
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
            assumptions,
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

    fn assumptions(&self, path: &Path<'_>, si: f64, open: &Point6) -> Vec<Assumption> {
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
        list.into_iter()
            .map(|(d, what, because)| {
                let mut alone = [false; 6];
                if let Some(x) = alone.get_mut(d) {
                    *x = true;
                }
                let values: Vec<f64> = self
                    .draws
                    .points()
                    .iter()
                    .take(DRAWS_ALONE)
                    .filter_map(|p| self.at(path, &only(p, &alone), &mut Trail::default()).ok())
                    .collect();
                Assumption {
                    what,
                    because,
                    contribution: self.figure.unit.step_from_si(deviation(&values, si)),
                }
            })
            .collect()
    }
}

type Point6 = [bool; 6];

/// Only the stated interval is uncertain.
const STATED_ONLY: Point6 = [false, false, false, false, false, true];

/// The point with the coordinates that are not open put back to the middle.
fn only(point: &Point, open: &Point6) -> Point {
    let mut p = Path::middle();
    for ((x, y), o) in p.iter_mut().zip(point).zip(open) {
        if *o {
            *x = *y;
        }
    }
    p
}

/// Root mean square deviation from the value, so that a shift counts as well as a spread.
fn deviation(values: &[f64], from: f64) -> f64 {
    let mut sum = 0.0;
    for v in values {
        sum += (v - from) * (v - from);
    }
    if values.is_empty() { 0.0 } else { libm::sqrt(sum / values.len() as f64) }
}
