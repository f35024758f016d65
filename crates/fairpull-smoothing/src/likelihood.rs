//! The weight of the penalty by restricted maximum likelihood, for six problems side by side.

use crate::banded::{BAND, Band};
use crate::equations::{Equations, ORDER, TRIED};
use crate::penalised::Soft;

/// Logarithms of the weight between which the best is looked for, and the step of the coarse scan. The heaviest stays
/// where double precision still resolves the parabola.
const LIGHTEST: f64 = -14.0;
const STEP: f64 = 34.0 / 11.0;
const POINTS: usize = 12;
/// Parabolas end when a step is less than this, but not before the third: the first start from far away. The criterion is
/// then known to 0.01, where differences of 2 decide.
const NEAR: f64 = 0.02;
/// What parabolas cannot take off the criterion at the best place of the scan: that falls by about ten at most.
const HOPE: f64 = 40.0;
/// Most parabolas.
const STEPS: usize = 12;
/// Distance of the six points from which the last step is taken.
const FINE: f64 = 0.1;

/// Lanes that are worked through together: one alone mostly waits for its own last result. Two of them fill a register
/// of the smallest vector unit there is.
const LANES: usize = 6;
type Pair = [f64; 2];
const PAIRS: usize = LANES / 2;

/// Equations and penalty of a row: elements (i, i − k), and the right side.
#[derive(Clone, Copy, Default)]
struct Given {
    gram: [Pair; BAND + 1],
    penalty: [Pair; BAND + 1],
    right: Pair,
}

/// A row of the factors L D Lᵀ (the diagonal of the former replaced by 1/D), and of L⁻¹ b.
#[derive(Clone, Copy, Default)]
struct Row {
    l: [Pair; BAND + 1],
    z: Pair,
}

/// A weight (its logarithm) with the criterion there.
type At = (f64, f64);

/// Up to six problems: a kind of noise and an ease of the penalty each.
pub(crate) struct Likelihood<'a> {
    equations: &'a Equations,
    kinds: [usize; LANES],
    given: Vec<[Given; PAIRS]>,
    rows: Vec<[Row; PAIRS]>,
}

impl<'a> Likelihood<'a> {
    fn new(equations: &'a Equations, kinds: [usize; LANES], penalties: [&Band; LANES]) -> Self {
        let mut given = vec![[Given::default(); PAIRS]; equations.right.len()];
        for m in 0..LANES {
            let (pair, side, kind, penalty) = (m / 2, m % 2, kinds[m], penalties[m]);
            for (i, out) in given.iter_mut().enumerate() {
                let out = &mut out[pair];
                out.right[side] = equations.right[i][kind];
                for k in 0..=BAND {
                    out.gram[k][side] = equations.gram[i][k][kind];
                    out.penalty[k][side] = penalty[i][k];
                }
            }
        }
        // rows of zeros before the first, so that none is a special case
        let rows = vec![[Row::default(); PAIRS]; given.len() + BAND];
        Self { equations, kinds, given, rows }
    }

    /// −2 log restricted likelihood, up to a constant, of each lane at a weight of its own; infinite where there is no fit.
    fn criteria(&mut self, at: [f64; LANES]) -> [f64; LANES] {
        let weight: [Pair; PAIRS] =
            core::array::from_fn(|p| [libm::exp(at[2 * p]), libm::exp(at[2 * p + 1])]);
        let (mut log_det, mut fitted, mut product) = ([0.0; LANES], [[0.0; 2]; PAIRS], [[1.0; 2]; PAIRS]);
        let mut least = [f64::INFINITY; LANES];
        let n = self.given.len();
        for (i, given) in self.given.iter().enumerate() {
            // near[BAND − k] is row i − k
            let Some([near @ .., now]) = self.rows[i..].first_chunk_mut::<{ BAND + 1 }>() else { break };
            for p in 0..PAIRS {
                let (g, w, now) = (&given[p], weight[p], &mut now[p]);
                let mut raw = [[0.0; 2]; BAND + 1];
                unrolled!(K in [0, 1, 2, 3, 4, 5] {
                    raw[K] = [g.gram[K][0] + w[0] * g.penalty[K][0], g.gram[K][1] + w[1] * g.penalty[K][1]];
                });
                let (mut z, mut d) = (g.right, raw[0]);
                unrolled!(K in [5, 4, 3, 2, 1] {
                    let other = &near[BAND - K][p];
                    unrolled!(Q in [2, 3, 4, 5] {
                        if Q > K {
                            raw[K] = less(raw[K], raw[Q], other.l[Q.saturating_sub(K)]);
                        }
                    });
                    let l = [raw[K][0] * other.l[0][0], raw[K][1] * other.l[0][1]];
                    z = less(z, l, other.z);
                    d = less(d, raw[K], l);
                    now.l[K] = l;
                });
                now.z = z;
                now.l[0] = [1.0 / d[0], 1.0 / d[1]];
                for m in 0..2 {
                    fitted[p][m] += z[m] * z[m] * now.l[0][m];
                    product[p][m] *= d[m];
                    // not a number stays
                    least[2 * p + m] = if d[m] > least[2 * p + m] { least[2 * p + m] } else { d[m] };
                }
            }
            if i % 16 == 15 || i + 1 == n {
                for m in 0..LANES {
                    log_det[m] += libm::log(product[m / 2][m % 2]);
                }
                product = [[1.0; 2]; PAIRS];
            }
        }
        core::array::from_fn(|m| {
            let e = self.equations;
            let variance = e.variance(self.kinds[m], fitted[m / 2][m % 2]);
            let found = e.free * libm::log(variance) + log_det[m] - (n - ORDER) as f64 * at[m]
                + e.log_noise[self.kinds[m]];
            if least[m] > 0.0 && found.is_finite() { found } else { f64::INFINITY }
        })
    }

    /// Looks around the best place so far of each of the first P problems, which have LANES/P lanes each, until it is
    /// enclosed; then the best weight of each with its criterion, by parabolas. A problem that is beyond all hope beside
    /// the best is left as it is.
    fn search<const P: usize>(&mut self, mut scans: [Scan; P], hope: f64) -> [At; P] {
        loop {
            let wanted: [[Option<usize>; 2]; P] = core::array::from_fn(|m| scans[m].around());
            if !wanted.iter().flatten().any(Option::is_some) {
                break;
            }
            let place = |m: usize| {
                let [below, above] = wanted[m % P];
                if m < P { below.or(above) } else { above.or(below) }.unwrap_or(scans[m % P].best())
            };
            let places: [usize; LANES] = core::array::from_fn(place);
            self.look(&mut scans, places);
        }
        let mut three: [[At; 3]; P] = core::array::from_fn(|m| scans[m].three());
        let most =
            three.iter().fold(f64::INFINITY, |least, t| if t[1].1 < least { t[1].1 } else { least }) + hope;
        let mut lowest = three;
        // at an end of the scan there is nothing to enclose
        let mut open = three.map(|[a, b, c]| a.0 < b.0 && b.0 < c.0 && b.1 < most);
        for round in 0..STEPS {
            if !open.contains(&true) {
                break;
            }
            let to: [f64; P] = core::array::from_fn(|m| next(&three[m], &lowest[m]));
            let found = self.criteria(core::array::from_fn(|m| to[m % P]));
            for m in 0..P {
                if open[m] {
                    open[m] = round < 2 || libm::fabs(to[m] - three[m][1].0) > NEAR;
                    enclose(&mut three[m], (to[m], found[m]));
                    replace_highest(&mut lowest[m], (to[m], found[m]));
                }
            }
        }
        three.map(|t| t[1])
    }

    /// The criterion of each lane at a place of the scan.
    fn look<const P: usize>(&mut self, scans: &mut [Scan; P], places: [usize; LANES]) {
        let found = self.criteria(places.map(Scan::at));
        for (m, (place, found)) in places.into_iter().zip(found).enumerate() {
            scans[m % P].found[place] = Some(found);
        }
    }
}

/// The criterion of one problem at the places of the coarse scan that have been looked at.
#[derive(Clone, Copy)]
struct Scan {
    found: [Option<f64>; POINTS],
}

impl Scan {
    const NEW: Self = Self { found: [None; POINTS] };

    fn at(place: usize) -> f64 {
        LIGHTEST + STEP * place as f64
    }

    /// The place nearest to a weight.
    fn near(at: f64) -> usize {
        (((at - LIGHTEST) / STEP + 0.5) as usize).min(POINTS - 1)
    }

    fn criterion(&self, place: usize) -> f64 {
        self.found[place].unwrap_or(f64::INFINITY)
    }

    fn best(&self) -> usize {
        let mut best = 0;
        for i in 1..POINTS {
            if self.criterion(i) < self.criterion(best) {
                best = i;
            }
        }
        best
    }

    /// Neighbours of the best place that have not been looked at.
    fn around(&self) -> [Option<usize>; 2] {
        let best = self.best();
        let unseen = |place: usize| (place < POINTS && self.found[place].is_none()).then_some(place);
        [best.checked_sub(1).and_then(unseen), unseen(best + 1)]
    }

    /// Before, at and after the best.
    fn three(&self) -> [At; 3] {
        let best = self.best();
        [best.saturating_sub(1), best, (best + 1).min(POINTS - 1)].map(|i| (Self::at(i), self.criterion(i)))
    }
}

/// The best weight for one kind of noise and one penalty, from a good guess: where the derivative of the polynomial
/// through six points around the guess is nothing.
pub(crate) fn settled(equations: &Equations, penalty: &Band, kind: usize, guess: f64) -> f64 {
    let mut all = Likelihood::new(equations, [kind; LANES], [penalty; LANES]);
    let places: [f64; LANES] = core::array::from_fn(|m| m as f64 - 2.5);
    let f = all.criteria(places.map(|x| guess + FINE * x));
    // odd part over x and even part are parabolas in x², known at 1/4, 9/4 and 25/4: value and slope at nothing
    let at_nothing = |[a, b, c]: [f64; 3]| {
        let (first, second) = ((b - a) / 2.0, (c - b) / 4.0);
        let bend = (second - first) / 6.0;
        (a - 0.25 * first + 0.5625 * bend, first - 2.5 * bend)
    };
    let pairs = [(2, 3), (1, 4), (0, 5)];
    let (slope, third) = at_nothing(pairs.map(|(i, j)| (f[j] - f[i]) / (2.0 * places[j])));
    let (_, half_bend) = at_nothing(pairs.map(|(i, j)| 0.5 * (f[i] + f[j])));
    let step = -slope / (2.0 * half_bend);
    let step = -(slope + 3.0 * third * step * step) / (2.0 * half_bend);
    if half_bend > 0.0 && libm::fabs(step) < 2.5 { guess + FINE * step } else { guess }
}

/// The best weight for each kind of noise under an even penalty: every other place of the scan, then around the best. A
/// kind that is hopeless is not looked at closely.
pub(crate) fn even(equations: &Equations, soft: &Soft) -> [At; TRIED] {
    let penalty = soft.differences(0);
    let mut all = Likelihood::new(equations, core::array::from_fn(|m| m), [&penalty; LANES]);
    let mut scans = [Scan::NEW; TRIED];
    for place in (0..POINTS).step_by(2) {
        all.look(&mut scans, [place; LANES]);
    }
    all.search(scans, HOPE)
}

/// The best weight for one kind of noise under each ease of the penalty; `near` is that of the even one.
pub(crate) fn eased(
    equations: &Equations,
    soft: &Soft,
    kind: usize,
    eases: [usize; 3],
    near: f64,
) -> [At; 3] {
    let [a, b, c] = &eases.map(|times| soft.differences(times));
    let mut all = Likelihood::new(equations, [kind; LANES], [a, b, c, a, b, c]);
    let mut scans = [Scan::NEW; 3];
    let first = Scan::near(near).min(POINTS - 2);
    all.look(&mut scans, [first, first, first, first + 1, first + 1, first + 1]);
    all.search(scans, f64::INFINITY)
}

/// a − b·c.
fn less(a: Pair, b: Pair, c: Pair) -> Pair {
    [a[0] - b[0] * c[0], a[1] - b[1] * c[1]]
}

/// Where the parabola through the three lowest points so far is lowest; the golden section of the longer side where that
/// is outside of the three that enclose the best.
fn next(&[low, best, high]: &[At; 3], &[(a, fa), (b, fb), (c, fc)]: &[At; 3]) -> f64 {
    let (p, q) = ((b - a) * (fb - fc), (b - c) * (fb - fa));
    let x = b - 0.5 * ((b - a) * p - (b - c) * q) / (p - q);
    if x > low.0 && x < high.0 && x != best.0 {
        return x;
    }
    let (left, right) = (low.0 - best.0, high.0 - best.0);
    best.0 + 0.381_966_011_250_105_1 * if right > -left { right } else { left }
}

/// Puts a new point in the place of the highest of three.
fn replace_highest(three: &mut [At; 3], new: At) {
    let mut highest = 0;
    for i in 1..3 {
        if three[i].1 > three[highest].1 {
            highest = i;
        }
    }
    three[highest] = new;
}

/// Keeps the best of four points and its neighbours.
fn enclose(three: &mut [At; 3], new: At) {
    let [a, b, c] = *three;
    *three = match (new.0 < b.0, new.1 < b.1) {
        (true, true) => [a, new, b],
        (false, true) => [b, new, c],
        (true, false) => [new, b, c],
        (false, false) => [a, b, new],
    };
}

#[cfg(test)]
#[path = "likelihood_edges.rs"]
mod edges;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parabolas_find_the_lowest_point() {
        let f = |x: f64| libm::cosh(0.4 * (x - 0.7)) + 0.05 * libm::sin(x);
        let mut three = [-1.0, 1.0, 3.0].map(|x| (x, f(x)));
        let mut lowest = three;
        for _ in 0..6 {
            let x = next(&three, &lowest);
            enclose(&mut three, (x, f(x)));
            replace_highest(&mut lowest, (x, f(x)));
        }
        let (best, lowest) = three[1];
        for i in -100..=100 {
            assert!(f(best + 0.01 * f64::from(i)) >= lowest - 1e-9);
        }
        // where a parabola says nothing, the longer side is divided
        let three = [(0.0, 1.0), (1.0, 1.0), (5.0, f64::INFINITY)];
        assert!(next(&three, &three) > 1.0);
    }

    /// Against a scan in steps of 0.01 over all weights.
    #[test]
    fn the_search_finds_what_a_fine_scan_finds() {
        let t: Vec<f64> = (0..240).map(|i| 0.02 * f64::from(i)).collect();
        let noise = |t: f64| 0.02 * libm::sin(1e5 * t * t);
        let y: Vec<f64> = t.iter().map(|t| libm::sin(2.0 * t) + noise(*t)).collect();
        let basis = crate::basis::Basis { start: 0.0, width: 4.78 / 47.0, intervals: 47 };
        let equations = Equations::new(&basis, &t, &y);
        let soft = Soft::new(basis.len() - ORDER);
        let scan = |kinds: [usize; LANES], eases: [usize; LANES]| {
            let penalties = eases.map(|times| soft.differences(times));
            let mut all = Likelihood::new(&equations, kinds, penalties.each_ref());
            let mut best = [(0.0, f64::INFINITY); LANES];
            for i in 0..3400 {
                let at = LIGHTEST + 0.01 * f64::from(i);
                for (best, found) in best.iter_mut().zip(all.criteria([at; LANES])) {
                    if found < best.1 {
                        *best = (at, found);
                    }
                }
            }
            best
        };
        let fine = scan([0, 1, 2, 3, 4, 5], [0; LANES]);
        let best = fine.iter().fold(f64::INFINITY, |least, f| if f.1 < least { f.1 } else { least });
        let found = even(&equations, &soft);
        for (m, (at, lowest)) in found.into_iter().enumerate() {
            if fine[m].1 > best + HOPE - 12.0 {
                assert!(lowest < fine[m].1 + 12.0 && lowest >= fine[m].1 - 0.01);
                continue;
            }
            assert!(libm::fabs(lowest - fine[m].1) < 0.01, "{m}: {lowest} {:?}", fine[m]);
            let settled = settled(&equations, &soft.differences(0), m, at);
            assert!(libm::fabs(settled - fine[m].0) < 0.006, "{m}: {settled} {:?}", fine[m]);
        }
        let fine = scan([1; LANES], [1, 2, 3, 1, 2, 3]);
        for (m, (at, lowest)) in eased(&equations, &soft, 1, [1, 2, 3], found[1].0).into_iter().enumerate() {
            assert!(libm::fabs(lowest - fine[m].1) < 0.01, "{m}: {lowest} {:?}", fine[m]);
            assert!(libm::fabs(at - fine[m].0) < 0.1, "{m}: {at} {:?}", fine[m]);
        }
    }
}
