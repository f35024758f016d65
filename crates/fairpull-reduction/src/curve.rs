//! Repeats to a curve: level and shape of each pull apart, the scatter of both pooled over all states.

use crate::outcome::Bounded;
use crate::outcome::PeakOutcome;

/// Logarithmic curves of the pulls of a job on one grid.
pub(crate) struct Family {
    /// ln W of each pull on the grid; NaN where not reached.
    pub logs: Vec<Vec<f64>>,
    /// State of each pull.
    pub state: Vec<usize>,
    pub states: usize,
    /// Grid indices that every pull covers.
    pub band: core::ops::Range<usize>,
}

impl Family {
    /// Mean of a pull's logarithmic curve over the band.
    pub(crate) fn levels(&self) -> Vec<f64> {
        self.logs.iter().map(|l| mean(&l[self.band.clone()])).collect()
    }

    /// Shape of a state: mean over its pulls of the curve less its level; NaN where fewer than `least` pulls reach.
    pub(crate) fn shape(&self, state: usize, levels: &[f64]) -> (Vec<f64>, Vec<usize>) {
        let own = self.state.iter().filter(|s| **s == state).count();
        let least = (3 * own).div_ceil(4);
        let n = self.logs.first().map_or(0, Vec::len);
        let mut shape = Vec::with_capacity(n);
        let mut counts = Vec::with_capacity(n);
        for i in 0..n {
            let (mut sum, mut count) = (0.0, 0);
            for (k, l) in self.logs.iter().enumerate() {
                if self.state[k] == state && l[i].is_finite() {
                    sum += l[i] - levels[k];
                    count += 1;
                }
            }
            counts.push(count);
            shape.push(if count >= least.max(1) { sum / count as f64 } else { f64::NAN });
        }
        (shape, counts)
    }

    /// Standard deviation of one pull's shape about its state's, along the grid, pooled over all pulls and over
    /// `wide` neighbours to both sides. Zero without repeats.
    pub(crate) fn shape_scatter(&self, levels: &[f64], shapes: &[Vec<f64>], wide: usize) -> Vec<f64> {
        let n = self.logs.first().map_or(0, Vec::len);
        let mut square = vec![0.0; n];
        let mut weight = vec![0.0; n];
        for state in 0..self.states {
            for i in 0..n {
                let here: Vec<f64> = self
                    .logs
                    .iter()
                    .enumerate()
                    .filter(|(k, l)| self.state[*k] == state && l[i].is_finite())
                    .map(|(k, l)| l[i] - levels[k] - shapes[state][i])
                    .filter(|e| e.is_finite())
                    .collect();
                if here.len() > 1 {
                    square[i] += here.iter().map(|e| e * e).sum::<f64>();
                    weight[i] += here.len() as f64 - 1.0;
                }
            }
        }
        (0..n)
            .map(|i| {
                let (a, b) = (i.saturating_sub(wide), (i + wide + 1).min(n));
                let w: f64 = weight[a..b].iter().sum();
                if w > 0.0 { libm::sqrt(square[a..b].iter().sum::<f64>() / w) } else { 0.0 }
            })
            .collect()
    }
}

pub(crate) fn mean(x: &[f64]) -> f64 {
    let kept: Vec<f64> = x.iter().copied().filter(|v| v.is_finite()).collect();
    kept.iter().sum::<f64>() / kept.len() as f64
}

/// Peak of a curve: the top of a parabola through the grid points within ±`reach` of the highest, so that the noise
/// of single points does not lift it. `half` is the relative half width of the 95 % interval at each point.
pub(crate) fn peak(x: &[f64], y: &[f64], half: &[f64], reach: f64) -> PeakOutcome {
    let best = (0..y.len()).filter(|i| y[*i].is_finite()).max_by(|a, b| y[*a].total_cmp(&y[*b]));
    let Some(best) = best else {
        return PeakOutcome { value: Bounded::absolute(f64::NAN, f64::NAN), rpm: f64::NAN, at_edge: true };
    };
    let near: Vec<usize> =
        (0..x.len()).filter(|i| (x[*i] - x[best]).abs() <= reach && y[*i].is_finite()).collect();
    let at_edge = best == near[0] || best == near[near.len() - 1];
    let (mut rpm, mut value) = (x[best], y[best]);
    if near.len() >= 4 && !at_edge {
        let rows: Vec<Vec<f64>> = near
            .iter()
            .map(|i| {
                let u = (x[*i] - x[best]) / reach;
                vec![1.0, u, u * u]
            })
            .collect();
        let right: Vec<f64> = near.iter().map(|i| y[*i]).collect();
        if let Ok(ls) = fairpull_uncertainty::least_squares(&rows, &right, &vec![1.0; right.len()]) {
            let [a, b, c] = [ls.coefficients[0], ls.coefficients[1], ls.coefficients[2]];
            let u = -0.5 * b / c;
            if c < 0.0 && u.abs() <= 1.0 {
                rpm = x[best] + u * reach;
                value = a + u * (b + u * c);
            }
        }
    }
    PeakOutcome { value: Bounded::relative(value, half[best]), rpm, at_edge }
}
