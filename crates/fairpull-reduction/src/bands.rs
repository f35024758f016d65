//! Whole-curve bands and the Monte Carlo check of the pointwise intervals, from seeded draws.

use fairpull_uncertainty::{Normals, Random, nth, probabilistically_symmetric};

/// Parts of the error of a curve, all relative, along the curve.
pub(crate) struct Parts {
    /// Index on the grid of each point.
    pub grid: Vec<usize>,
    /// Error of the level: the same everywhere.
    pub level: f64,
    /// Errors that decorrelate along the curve: shape scatter of the mean and smoothing bias together.
    pub shape: Vec<f64>,
    /// One curve for each rig source: its effect at one standard uncertainty.
    pub rig: Vec<Vec<f64>>,
    /// Half widths of the 95 % interval of each point.
    pub pointwise: Vec<f64>,
    /// Point whose interval is drawn.
    pub at: usize,
}

/// What the draws say of a curve.
pub(crate) struct Drawn {
    /// Relative half widths that hold for the whole curve at once with 95 %.
    pub whole: Vec<f64>,
    /// Monte Carlo interval of the error at the point asked for.
    pub interval: (f64, f64),
}

/// A multiple of four.
const DRAWS: usize = 2000;
/// Part of an interval, in variance, below which what the rig does is left out of the draws.
const NOTHING: f64 = 1e-6;

/// Draws for several curves on one grid of `points`, whose shape errors decorrelate over `correlation` points and whose
/// levels have `dof` degrees of freedom.
pub(crate) fn drawn(parts: &[Parts], points: usize, correlation: f64, dof: f64, seed: u64) -> Vec<Drawn> {
    let mut curves: Vec<Curve> = parts.iter().map(Curve::new).collect();
    let directions = curves.iter().map(|c| c.each - 2).max().unwrap_or(0);
    let (mut random, normals) = (Random::new(seed), Normals::new());
    let rho = libm::exp(-1.0 / correlation.max(0.1));
    let fresh = libm::sqrt(1.0 - rho * rho);
    let mut four = Four { level: [0.0; 4], z: vec![[0.0; 4]; directions], along: vec![[0.0; 4]; points] };
    for _ in 0..DRAWS / 4 {
        for m in 0..4 {
            four.level[m] = random.student(dof.max(1.0));
            four.z.iter_mut().for_each(|z| z[m] = normals.draw(&mut random));
            let mut g = normals.draw(&mut random);
            for (i, slot) in four.along.iter_mut().enumerate() {
                if i > 0 {
                    g = rho * g + fresh * normals.draw(&mut random);
                }
                slot[m] = g;
            }
        }
        for (curve, p) in curves.iter_mut().zip(parts) {
            curve.draw(p, &four);
        }
    }
    parts.iter().zip(curves).map(|(p, c)| c.finish(p)).collect()
}

/// Four draws side by side: error of the level, of each direction of the rig, and along the grid.
struct Four {
    level: [f64; 4],
    z: Vec<[f64; 4]>,
    along: Vec<[f64; 4]>,
}

/// Errors in units of the pointwise half widths, and what has been drawn of them.
struct Curve {
    /// For each point what it takes of the level, of the error along the grid, and of each direction of the rig.
    takes: Vec<f64>,
    /// How many of them a point has.
    each: usize,
    worst: Vec<f64>,
    here: Vec<f64>,
}

impl Curve {
    fn new(p: &Parts) -> Self {
        let scale: Vec<f64> = p.pointwise.iter().map(|h| if *h > 0.0 { 1.0 / h } else { 0.0 }).collect();
        let rig: Vec<Vec<f64>> =
            p.rig.iter().map(|r| r.iter().zip(&scale).map(|(x, s)| x * s).collect()).collect();
        let rig = independent(&rig);
        let takes = scale.iter().enumerate().flat_map(|(i, s)| {
            [p.level * s, p.shape[i] * s].into_iter().chain(rig.iter().map(move |r| r[i]))
        });
        Self {
            takes: takes.collect(),
            each: 2 + rig.len(),
            worst: Vec::with_capacity(DRAWS),
            here: Vec::with_capacity(DRAWS),
        }
    }

    fn draw(&mut self, p: &Parts, four: &Four) {
        let mut worst = [0.0; 4];
        for (i, (takes, at)) in self.takes.chunks_exact(self.each).zip(&p.grid).enumerate() {
            let [whole, shape, rig @ ..] = takes else { continue };
            let along = four.along[*at];
            let mut error: [f64; 4] = core::array::from_fn(|m| whole * four.level[m] + shape * along[m]);
            for (take, z) in rig.iter().zip(&four.z) {
                for m in 0..4 {
                    error[m] += take * z[m];
                }
            }
            if i == p.at {
                self.here.extend(error.map(|e| e * p.pointwise[i]));
            }
            for m in 0..4 {
                let size = libm::fabs(error[m]);
                worst[m] = if size > worst[m] { size } else { worst[m] };
            }
        }
        self.worst.extend(worst);
    }

    fn finish(mut self, p: &Parts) -> Drawn {
        let factor = nth(&mut self.worst, (0.95 * DRAWS as f64) as usize).max(1.0);
        let interval = probabilistically_symmetric(&mut self.here, 0.95);
        Drawn {
            whole: p.pointwise.iter().map(|h| h * factor).collect(),
            interval: interval.map_or((f64::NAN, f64::NAN), |c| (c.low, c.high)),
        }
    }
}

/// Fewer curves with the same covariance along the grid as all together, most of which have nearly the same shape:
/// Cholesky's factor of the covariance, its largest diagonal first, as far as the rest is next to nothing (Higham, in
/// Reliable Numerical Computation, 1990; from memory).
fn independent(all: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = all.first().map_or(0, Vec::len);
    let mut left: Vec<f64> = (0..n).map(|i| all.iter().map(|c| c[i] * c[i]).sum()).collect();
    let mut out: Vec<Vec<f64>> = Vec::new();
    while out.len() < all.len() {
        let mut top = 0;
        for i in 1..n {
            if left[i] > left[top] {
                top = i;
            }
        }
        if !(n > 0 && left[top] > NOTHING) {
            break;
        }
        let root = libm::sqrt(left[top]);
        let mut next = vec![0.0; n];
        for i in 0..n {
            let whole: f64 = all.iter().map(|c| c[i] * c[top]).sum();
            let done: f64 = out.iter().map(|c| c[i] * c[top]).sum();
            next[i] = (whole - done) / root;
            left[i] -= next[i] * next[i];
        }
        out.push(next);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fewer_curves_have_the_same_covariance() {
        let all: Vec<Vec<f64>> = (0..12)
            .map(|k| (0..40).map(|i| libm::sin(f64::from(k)) + 0.02 * f64::from(i * (k % 3))).collect())
            .collect();
        let few = independent(&all);
        assert_eq!(few.len(), 2);
        for i in 0..40 {
            for j in 0..40 {
                let covariance = |c: &[Vec<f64>]| c.iter().map(|c| c[i] * c[j]).sum::<f64>();
                assert!(libm::fabs(covariance(&all) - covariance(&few)) < 1e-5);
            }
        }
    }

    /// Points that leave out one in the middle draw the same errors as the whole stretch.
    #[test]
    fn points_need_not_be_neighbours() {
        let parts = |grid: Vec<usize>| Parts {
            level: 0.002,
            shape: vec![0.004; grid.len()],
            rig: Vec::new(),
            pointwise: vec![0.01; grid.len()],
            at: grid.len() - 1,
            grid,
        };
        let both = drawn(&[parts(vec![2, 3, 4, 5]), parts(vec![2, 3, 5])], 7, 3.0, 9.0, 4);
        assert_eq!(both[0].interval, both[1].interval);
    }

    /// A level alone: the band is no wider than the points, and the interval is that of Student's t.
    #[test]
    fn an_error_of_the_level_alone() {
        let half = fairpull_uncertainty::coverage_factor(6.0) * 0.004;
        let parts = Parts {
            grid: vec![3, 4, 5],
            level: 0.004,
            shape: vec![0.0; 3],
            rig: Vec::new(),
            pointwise: vec![half; 3],
            at: 1,
        };
        let got = &drawn(&[parts], 9, 6.0, 6.0, 1)[0];
        assert!(got.whole.iter().all(|w| *w < 1.08 * half), "{:?}", got.whole);
        assert!(libm::fabs(got.interval.1 / half - 1.0) < 0.08, "{:?}", got.interval);
        assert!(libm::fabs(got.interval.0 / half + 1.0) < 0.08, "{:?}", got.interval);
    }
}
