//! Many values on one basis: where the value is only multiplied, the draws are made once for all of them.

use crate::draws::{Drawn, Draws};
use crate::path::{FIGURE, Path};
use crate::prior::Ranges;
use crate::sample::tail95;
use crate::setting::Setting;
use crate::{Figure, Knowledge, Target};
use fairpull_core::{Catalogue, CorrectionStandard};
use fairpull_uncertainty::nth;
use fairpull_units::Unit;

/// What a change of standard at one site does to every value, with the draws of an unknown air made once: see
/// [`Restater::scaling`](crate::Restater::scaling).
///
/// ```
/// use fairpull_core::Catalogue;
/// use fairpull_restate::{Figure, Knowledge, Restater, Target, restate};
/// let catalogue = Catalogue::new(fairpull_iso_1585::ALL, &[], &[])?;
/// let figure: Figure = "150 kW; crank; iso-1585; net".parse()?;
/// let (target, knowledge) = (Target::observed_at_crank(), Knowledge::new());
/// let restater = Restater::new(catalogue);
/// let scaling = restater.scaling(&figure, &target, &knowledge).ok_or("the sites differ")?;
/// let one = restate(&figure, &target, &catalogue, &knowledge)?;
/// assert_eq!(scaling.ends(150.0), Some([one.value, one.lo95, one.hi95]));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Scaling {
    unit: &'static Unit,
    middle: Factors,
    /// The draws at the ends of the interval; `None` when nothing is uncertain.
    ends: Option<[Rank; 2]>,
}

/// A value is divided by the one and multiplied by the other.
#[derive(Clone, Copy, Debug)]
struct Factors {
    back: f64,
    forth: f64,
}

impl Factors {
    /// `None` where a standard gives no factor.
    fn of(back: Option<Drawn>, forth: Option<Drawn>) -> Option<Self> {
        let one = |f: Option<Drawn>| f.map_or(1.0, |f| f.value);
        let both = Self { back: one(back), forth: one(forth) };
        (!both.back.is_nan() && !both.forth.is_nan()).then_some(both)
    }

    /// True when no quotient or product with it leaves the range where rounding is relative.
    fn is_sane(&self) -> bool {
        SANE.contains(&self.back) && SANE.contains(&self.forth)
    }

    fn apply(&self, value: f64) -> f64 {
        value / self.back * self.forth
    }
}

/// Factors and values, W or N·m, whose quotients and products round by half a unit in the last place and no more.
const SANE: std::ops::RangeInclusive<f64> = 1e-9..=1e9;

/// The draws that can stand at one place in ascending order, whatever the value.
#[derive(Clone, Debug)]
struct Rank {
    candidates: Vec<Factors>,
    /// Place among the candidates.
    place: usize,
}

impl Rank {
    /// `sorted`: draws by rising quotient. A restated value differs from the value times that quotient by three
    /// roundings at most, so draws whose quotients lie further apart than twice that never change their order.
    fn new(sorted: &[(f64, Factors)], place: usize) -> Option<Self> {
        let quotient = sorted.get(place)?.0;
        let reach = 8.0 * f64::EPSILON;
        let first = sorted.partition_point(|(q, _)| *q < quotient * (1.0 - reach));
        let end = sorted.partition_point(|(q, _)| *q <= quotient * (1.0 + reach));
        let candidates = sorted.get(first..end)?.iter().map(|(_, f)| *f).collect();
        Some(Self { candidates, place: place - first })
    }

    fn value(&self, value: f64) -> f64 {
        match self.candidates.as_slice() {
            [only] => only.apply(value),
            many => nth(&mut many.iter().map(|f| f.apply(value)).collect::<Vec<_>>(), self.place),
        }
    }
}

impl Scaling {
    pub(crate) fn of(
        figure: &Figure,
        target: &Target,
        catalogue: &Catalogue<'_>,
        knowledge: &Knowledge<'_>,
        draws: &Draws,
    ) -> Option<Self> {
        let (site, treatment) = (figure.site?, figure.treatment.as_ref()?);
        if site != target.site || figure.interval.is_some() {
            return None;
        }
        let Setting { path, air, .. } =
            Setting::of(figure, (site, treatment), target, catalogue, knowledge).ok()?;
        let air = air?.ranges;
        let closed = [false; 6];
        let at_middle =
            |s: &dyn CorrectionStandard| draws.factors(s, &path.engine, &air, 1, &closed).first().copied();
        let middle =
            Factors::of(path.a.and_then(at_middle), path.b.and_then(at_middle)).filter(Factors::is_sane)?;
        let ends = match air.open() {
            [false, false, false] => None,
            _ => Some(ranks(&path, &air, knowledge, draws)?),
        };
        Some(Self { unit: figure.unit, middle, ends })
    }

    /// Value and ends of the 95 % interval in the unit of the figure: the bits of [`restate`](crate::restate()) for the
    /// figure with this value. `None` for a value that is restated one by one or refused: below 1 nW or 1 nN·m, above
    /// 100 MW or 100 MN·m.
    #[must_use]
    pub fn ends(&self, value: f64) -> Option<[f64; 3]> {
        let si = self.unit.to_si(value);
        if !SANE.contains(&si) || FIGURE.check(si).is_err() {
            return None;
        }
        let middle = self.middle.apply(si);
        let shown = self.unit.from_si(middle);
        let Some([low, high]) = &self.ends else { return Some([shown; 3]) };
        let (low, high) = (low.value(si), high.value(si));
        let low = if low < middle { self.unit.from_si(low) } else { shown };
        let high = if high > middle { self.unit.from_si(high) } else { shown };
        Some([shown, low, high])
    }
}

/// The draws at the two ends of the interval.
fn ranks(path: &Path<'_>, air: &Ranges, knowledge: &Knowledge<'_>, draws: &Draws) -> Option<[Rank; 2]> {
    let [p, t, h] = air.open();
    let open = [p, t, h, false, false, false];
    let factors = |s: &dyn CorrectionStandard| draws.factors(s, &path.engine, air, draws.count, &open);
    let (a, b) = (path.a.map(factors), path.b.map(factors));
    let window = path.a.or(path.b).map(|s| s.card().window(path.engine.ignition));
    let limit = window.and_then(|w| w.factor).filter(|_| knowledge.factor_in_range);
    let mut drawn = Vec::with_capacity(draws.count);
    for i in 0..draws.count {
        let (back, forth) = (a.as_ref().and_then(|f| f.get(i)), b.as_ref().and_then(|f| f.get(i)));
        let permitted = limit.zip(back.or(forth)).is_none_or(|(l, f)| l.check(f.blind).is_ok());
        let Some(f) = Factors::of(back.copied(), forth.copied()).filter(|_| permitted) else { continue };
        if !f.is_sane() {
            return None;
        }
        drawn.push((f.forth / f.back, f));
    }
    if drawn.len() < 64 {
        return None;
    }
    drawn.sort_unstable_by(|x: &(f64, Factors), y| x.0.total_cmp(&y.0));
    let tail = tail95(drawn.len());
    Some([Rank::new(&drawn, tail)?, Rank::new(&drawn, drawn.len() - 1 - tail)?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use fairpull_uncertainty::{Random, ascending};

    /// Quotients that differ by rounding alone change their order from value to value.
    #[test]
    fn a_rank_is_the_place_in_the_order_of_the_values() {
        let mut random = Random::new(3);
        let drawn = |random: &mut Random| {
            let back = 0.9 + 0.2 * random.uniform();
            let forth = back * if random.uniform() < 0.9 { 1.1 } else { 1.0 + 0.2 * random.uniform() };
            (forth / back, Factors { back, forth })
        };
        let mut sorted: Vec<(f64, Factors)> = (0..500).map(|_| drawn(&mut random)).collect();
        sorted.sort_unstable_by(|x, y| x.0.total_cmp(&y.0));
        for _ in 0..200 {
            let value = 1e8 * random.uniform();
            let mut all: Vec<f64> = sorted.iter().map(|(_, f)| f.apply(value)).collect();
            ascending(&mut all);
            for place in [0, 12, 60, 250, 437, 487, 499] {
                let got = Rank::new(&sorted, place).map(|r| r.value(value).to_bits());
                assert_eq!(got, all.get(place).map(|v| v.to_bits()), "{value} at {place}");
            }
        }
    }
}
