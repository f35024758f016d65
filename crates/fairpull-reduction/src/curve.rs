//! Repeats to a curve: level and shape of each pull apart, the scatter of both pooled over all states.

use fairpull_uncertainty::NormalEquations;

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
                let (mut sum, mut count) = (0.0, 0.0);
                for (k, l) in self.logs.iter().enumerate().filter(|(k, _)| self.state[*k] == state) {
                    let e = l[i] - levels[k] - shapes[state][i];
                    if e.is_finite() {
                        sum += e * e;
                        count += 1.0;
                    }
                }
                if count > 1.0 {
                    square[i] += sum;
                    weight[i] += count - 1.0;
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
    let (mut sum, mut count) = (0.0, 0.0);
    for v in x.iter().filter(|v| v.is_finite()) {
        sum += v;
        count += 1.0;
    }
    sum / count
}

/// Peak of a curve: the top of a parabola through the grid points within ±`reach` of the highest, so that the noise
/// of single points does not lift it. `half` is the relative half width of the 95 % interval at each point.
pub(crate) fn peak(x: &[f64], y: &[f64], half: &[f64], reach: f64) -> PeakOutcome {
    let best = (0..y.len()).filter(|i| y[*i].is_finite()).max_by(|a, b| y[*a].total_cmp(&y[*b]));
    let Some(best) = best else {
        return PeakOutcome { value: Bounded::absolute(f64::NAN, f64::NAN), rpm: f64::NAN, at_edge: true };
    };
    let near = || (0..x.len()).filter(|i| (x[*i] - x[best]).abs() <= reach && y[*i].is_finite());
    let at_edge = near().next() == Some(best) || near().next_back() == Some(best);
    let (mut rpm, mut value) = (x[best], y[best]);
    if !at_edge && near().count() >= 4 {
        let mut parabola = NormalEquations::new();
        for i in near() {
            let u = (x[i] - x[best]) / reach;
            parabola.push(&[1.0, u, u * u], y[i]);
        }
        if let Some(found) = parabola.solve() {
            let [a, b, c] = found.coefficients;
            let u = -0.5 * b / c;
            if c < 0.0 && u.abs() <= 1.0 {
                rpm = x[best] + u * reach;
                value = a + u * (b + u * c);
            }
        }
    }
    PeakOutcome { value: Bounded::relative(value, half[best]), rpm, at_edge }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64) {
        assert!((got - expected).abs() <= 1e-9 * expected.abs(), "{got} {expected}");
    }

    /// The top of a parabola lies where it lies, between the points; the half width is that of the highest point.
    #[test]
    fn the_top_of_a_parabola() {
        let x: Vec<f64> = (10..60).map(|i| 100.0 * f64::from(i)).collect();
        let half: Vec<f64> = x.iter().map(|x| 1e-6 * x).collect();
        for top in [3210.0, 4049.0, 5430.0] {
            let y: Vec<f64> = x.iter().map(|x| 9e4 - 2e-3 * (x - top) * (x - top)).collect();
            let p = peak(&x, &y, &half, 350.0);
            near(p.rpm, top);
            near(p.value.value, 9e4);
            let best = 100.0 * libm::round(top / 100.0);
            near(p.value.high / p.value.value - 1.0, 1e-6 * best);
            assert!(!p.at_edge);
        }
        // what lies beyond the reach has no say
        let bent: Vec<f64> = x
            .iter()
            .map(|x| if (x - 4000.0).abs() > 350.0 { 1e4 } else { 9e4 - 2e-3 * (x - 4020.0) * (x - 4020.0) })
            .collect();
        near(peak(&x, &bent, &half, 350.0).rpm, 4020.0);
    }

    #[test]
    fn a_top_at_the_edge_or_of_few_points_is_a_point() {
        let x: Vec<f64> = (0..30).map(|i| 100.0 * f64::from(i)).collect();
        let half = vec![0.01; 30];
        let rising: Vec<f64> = x.iter().map(|x| x * x).collect();
        let p = peak(&x, &rising, &half, 350.0);
        assert_eq!((p.rpm, p.value.value, p.at_edge), (2900.0, 2900.0 * 2900.0, true));
        let falling: Vec<f64> = x.iter().map(|x| 5e4 - x).collect();
        let p = peak(&x, &falling, &half, 350.0);
        assert_eq!((p.rpm, p.value.value, p.at_edge), (0.0, 5e4, true));
        // three points within the reach
        let few: Vec<f64> = x.iter().map(|x| 9e4 - (x - 1020.0) * (x - 1020.0)).collect();
        let p = peak(&x, &few, &half, 150.0);
        assert_eq!((p.rpm, p.at_edge), (1000.0, false));
        // and four
        let mut one_missing = few.clone();
        one_missing[7] = f64::NAN;
        assert_eq!(
            peak(&x, &one_missing, &half, 250.0).rpm,
            peak(&x, &few, &half, 250.0).rpm.clamp(1019.9, 1020.1)
        );
        let p = peak(&x, &[f64::NAN; 30], &half, 350.0);
        assert!(p.rpm.is_nan() && p.value.value.is_nan() && p.at_edge);
        // a spike between slopes that rise away from it: no parabola with a top fits, the point stands
        let valley: Vec<f64> = x
            .iter()
            .map(|x| if *x == 1000.0 { 9e4 } else { 200.0 * (x - 1000.0).abs().min(400.0) })
            .collect();
        let p = peak(&x, &valley, &half, 350.0);
        assert_eq!((p.rpm, p.value.value, p.at_edge), (1000.0, 9e4, false));
    }

    fn family() -> Family {
        // two pulls of the first state, four of the second; the third point of one pull is missing
        let log = |level: f64, shape: [f64; 5]| shape.iter().map(|s| level + s).collect::<Vec<f64>>();
        let mut logs = vec![
            log(1.0, [0.1, 0.0, 0.0, 0.0, -0.1]),
            log(1.2, [0.3, 0.0, 0.0, 0.0, -0.1]),
            log(2.0, [0.0, 0.01, 0.0, -0.01, 0.5]),
            log(2.0, [0.0, -0.01, 0.0, 0.01, 0.5]),
            log(2.1, [0.0, 0.02, 0.0, -0.02, 0.5]),
            log(2.1, [0.0, -0.02, 0.0, 0.02, 0.5]),
        ];
        logs[5][4] = f64::NAN;
        logs[4][0] = f64::NAN;
        logs[5][0] = f64::NAN;
        Family { logs, state: vec![0, 0, 1, 1, 1, 1], states: 2, band: 1..4 }
    }

    #[test]
    fn levels_shapes_and_their_scatter() {
        let f = family();
        let levels = f.levels();
        for (got, expected) in levels.iter().zip([1.0, 1.2, 2.0, 2.0, 2.1, 2.1]) {
            near(*got, expected);
        }
        let (first, counts) = f.shape(0, &levels);
        assert_eq!(counts, [2; 5]);
        near(first[0], 0.2);
        near(first[4], -0.1);
        let (second, counts) = f.shape(1, &levels);
        assert_eq!(counts, [2, 4, 4, 4, 3]);
        // three of four are enough, two are not
        assert!(second[0].is_nan());
        near(second[4], 0.5);
        let shapes = [first, second];
        let s = f.shape_scatter(&levels, &shapes, 0);
        // first state: ±0.1 at the first point on one degree of freedom, nothing of the second state there
        near(s[0], libm::sqrt(0.02));
        near(s[1], libm::sqrt(2.0 * (1e-4 + 4e-4) / 4.0));
        assert!(s[2] < 1e-9 && s[4] < 1e-9);
        let wide = f.shape_scatter(&levels, &shapes, 1);
        near(wide[0], libm::sqrt((0.02 + 1e-3) / 5.0));
        near(wide[4], libm::sqrt(1e-3 / 7.0));
        let alone = Family { logs: vec![vec![1.0; 5]], state: vec![0], states: 1, band: 0..5 };
        assert_eq!(alone.shape_scatter(&[1.0], &[vec![0.0; 5]], 2), [0.0; 5]);
        assert!(mean(&[]).is_nan());
        near(mean(&[1.0, f64::NAN, 3.0]), 2.0);
    }
}
