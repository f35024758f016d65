//! The draws of a request: coordinates, and the factors of a standard at them.

use crate::path::Path;
use crate::prior::Ranges;
use crate::sample::{DIMENSIONS, Point, column, normal};
use crate::{Knowledge, RestateError};
use fairpull_core::{CorrectionStandard, Engine};
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// Which coordinates are uncertain.
pub(crate) type Open = [bool; DIMENSIONS];

/// Factors kept at the most, 16 bytes each.
const KEPT: usize = 1 << 19;

/// The draws of one or more requests that differ in anything but seed, number and catalogue; a coordinate is made when
/// the first path asks for it.
pub(crate) struct Draws {
    pub(crate) seed: u64,
    pub(crate) count: usize,
    columns: [OnceCell<Vec<f64>>; DIMENSIONS],
    factors: RefCell<Vec<(Key, Rc<[Drawn]>)>>,
}

/// A factor at one draw; the value is NaN where the standard refuses or there is no such air.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drawn {
    pub(crate) value: f64,
    /// What the formula alone gives.
    pub(crate) blind: f64,
}

/// All that the factors of a column depend on beside the draws and the catalogue.
#[derive(Clone, Copy, PartialEq)]
struct Key {
    standard: &'static str,
    engine: Engine,
    air: Ranges,
    open: [bool; 3],
    count: usize,
}

impl Draws {
    pub(crate) fn new(knowledge: &Knowledge<'_>) -> Result<Self, RestateError> {
        let count = knowledge.draws;
        if (64..=65_536).contains(&count) {
            let (columns, factors) = Default::default();
            Ok(Self { seed: knowledge.seed, count, columns, factors })
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
    pub(crate) fn points(&self, count: usize, open: &Open) -> impl Iterator<Item = Point> {
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

    /// The factors of a standard at the first `count` points. They are nearly all of the work, and neither the figure
    /// nor a loss model changes them, so they are kept for the next path or request.
    pub(crate) fn factors(
        &self,
        standard: &dyn CorrectionStandard,
        engine: &Engine,
        air: &Ranges,
        count: usize,
        open: &Open,
    ) -> Rc<[Drawn]> {
        let [p, t, h, ..] = *open;
        let key = Key { standard: standard.card().id, engine: *engine, air: *air, open: [p, t, h], count };
        let mut kept = self.factors.borrow_mut();
        if let Some((_, known)) = kept.iter().find(|(k, _)| *k == key) {
            return known.clone();
        }
        let none = Drawn { value: f64::NAN, blind: f64::NAN };
        let at = |point: &Point| {
            let factor = air.at(point).ok().and_then(|a| standard.factor(&a, engine).ok());
            let drawn = factor.map(|f| Drawn { value: f.value(), blind: f.blind() });
            drawn.filter(|d| d.value.is_finite() && d.value > 0.0).unwrap_or(none)
        };
        let count = count.min(self.count);
        let new: Rc<[Drawn]> = if p || t || h {
            self.points(count, &[p, t, h, false, false, false]).map(|point| at(&point)).collect()
        } else {
            vec![at(&Path::middle()); count].into()
        };
        if kept.iter().map(|(_, k)| k.len()).sum::<usize>() + new.len() > KEPT {
            kept.clear();
        }
        kept.push((key, new.clone()));
        new
    }
}
