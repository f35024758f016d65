//! Least squares with covariance by orthogonal triangularisation.

/// The system has no unique solution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the equations do not determine the unknowns")]
pub struct Singular;

/// Result of [`least_squares`].
#[derive(Clone, Debug, PartialEq)]
pub struct LeastSquares {
    /// Coefficients.
    pub coefficients: Vec<f64>,
    /// (XᵀWX)⁻¹: multiply by `variance` for the covariance of the coefficients.
    pub unscaled: Vec<Vec<f64>>,
    /// Residual variance: weighted residual sum of squares over degrees of freedom.
    pub variance: f64,
    /// Degrees of freedom.
    pub dof: f64,
}

/// Weighted linear least squares by Householder's orthogonal triangularisation (Golub, Numer. Math. 7, 1965), columns
/// scaled to unit length first; normal equations would lose half of the digits.
///
/// `rows` are the rows of the design matrix; `weights` are 1/variance up to a common factor.
///
/// # Errors
/// [`Singular`] when the columns are linearly dependent (to 1e-13 of their length) or there are fewer rows than
/// columns.
pub fn least_squares(rows: &[Vec<f64>], y: &[f64], weights: &[f64]) -> Result<LeastSquares, Singular> {
    let p = rows.first().map_or(0, Vec::len);
    let n = rows.len();
    if p == 0 || n < p || n != y.len() || n != weights.len() || rows.iter().any(|r| r.len() != p) {
        return Err(Singular);
    }
    let roots: Vec<f64> = weights.iter().map(|w| libm::sqrt(*w)).collect();
    let mut columns: Vec<Vec<f64>> =
        (0..p).map(|j| rows.iter().zip(&roots).map(|(r, w)| w * r[j]).collect()).collect();
    let mut right: Vec<f64> = y.iter().zip(&roots).map(|(y, w)| w * y).collect();
    let mut scale = Vec::with_capacity(p);
    for c in &mut columns {
        let length = libm::sqrt(c.iter().map(|x| x * x).sum());
        if !(length > 0.0 && length.is_finite()) {
            return Err(Singular);
        }
        c.iter_mut().for_each(|x| *x /= length);
        scale.push(length);
    }
    // R above the diagonal of the columns, its diagonal apart
    let mut diagonal = Vec::with_capacity(p);
    for j in 0..p {
        let (done, rest) = columns.split_at_mut(j + 1);
        let pivot = &mut done[j];
        let length = libm::sqrt(pivot[j..].iter().map(|x| x * x).sum());
        if !(length > 1e-13 && length.is_finite()) {
            return Err(Singular);
        }
        let alpha = if pivot[j] > 0.0 { -length } else { length };
        pivot[j] -= alpha;
        let half: f64 = 0.5 * pivot[j..].iter().map(|x| x * x).sum::<f64>();
        for other in rest.iter_mut().chain(core::iter::once(&mut right)) {
            let dot: f64 = pivot[j..].iter().zip(&other[j..]).map(|(a, b)| a * b).sum();
            let by = dot / half;
            for (b, a) in other[j..].iter_mut().zip(&pivot[j..]) {
                *b -= by * a;
            }
        }
        diagonal.push(alpha);
    }
    let back = |b: &[f64]| -> Vec<f64> {
        let mut x = vec![0.0; p];
        for i in (0..p).rev() {
            let dot: f64 = (i + 1..p).map(|k| columns[k][i] * x[k]).sum();
            x[i] = (b[i] - dot) / diagonal[i];
        }
        x
    };
    let coefficients: Vec<f64> = back(&right[..p]).iter().zip(&scale).map(|(b, s)| b / s).collect();
    // (XᵀX)⁻¹ = R⁻¹ R⁻ᵀ
    let inverse: Vec<Vec<f64>> = (0..p)
        .map(|j| {
            let mut e = vec![0.0; p];
            e[j] = 1.0;
            back(&e)
        })
        .collect();
    let unscaled = (0..p)
        .map(|i| {
            (0..p).map(|j| inverse.iter().map(|c| c[i] * c[j]).sum::<f64>() / (scale[i] * scale[j])).collect()
        })
        .collect();
    let rss: f64 = right[p..].iter().map(|e| e * e).sum();
    let dof = (n - p) as f64;
    let variance = if dof > 0.0 { rss / dof } else { f64::NAN };
    Ok(LeastSquares { coefficients, unscaled, variance, dof })
}

/// Rows of a design matrix, the right side as their last column, taken in one by one and kept as a triangle: R of the
/// orthogonal triangularisation so far, which asks the same least-squares question as all rows together.
///
/// For many rows and few columns, or where a few more rows change and the many do not. Columns are not scaled.
#[derive(Clone, Debug)]
pub struct Triangle<const P: usize> {
    rows: Vec<[f64; P]>,
}

impl<const P: usize> Triangle<P> {
    /// Rows that are taken in together.
    const BLOCK: usize = 48;

    /// No rows.
    #[must_use]
    pub fn new() -> Self {
        Self { rows: Vec::with_capacity(P + Self::BLOCK) }
    }

    /// Takes in a row.
    pub fn push(&mut self, row: [f64; P]) {
        if self.rows.len() == P + Self::BLOCK {
            self.reduce();
        }
        self.rows.push(row);
    }

    /// Householder's reflections, as in [`least_squares`].
    fn reduce(&mut self) {
        for j in 0..P.min(self.rows.len()) {
            let length = libm::sqrt(self.rows[j..].iter().map(|r| r[j] * r[j]).sum());
            if !(length > 0.0) {
                continue;
            }
            let alpha = if self.rows[j][j] > 0.0 { -length } else { length };
            self.rows[j][j] -= alpha;
            let (mut dots, mut half) = ([0.0; P], 0.0);
            for row in &self.rows[j..] {
                half += 0.5 * row[j] * row[j];
                for k in 0..P {
                    dots[k] += row[j] * row[k];
                }
            }
            for dot in &mut dots {
                *dot /= half;
            }
            for row in &mut self.rows[j..] {
                let by = row[j];
                for k in j + 1..P {
                    row[k] -= by * dots[k];
                }
                row[j] = 0.0;
            }
            self.rows[j][j] = alpha;
        }
        self.rows.truncate(P);
    }

    /// The triangle: rows of coefficients and right side that stand for all rows taken in.
    #[must_use]
    pub fn finish(mut self) -> (Vec<Vec<f64>>, Vec<f64>) {
        self.reduce();
        self.rows.iter().map(|r| (r[..P - 1].to_vec(), r[P - 1])).unzip()
    }
}

impl<const P: usize> Default for Triangle<P> {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_triangle_asks_the_same_question() {
        let mut triangle = Triangle::<4>::new();
        let (mut rows, mut y) = (Vec::new(), Vec::new());
        for i in 0..501 {
            let x = 0.01 * f64::from(i);
            let value = 1.0 + 2.0 * x - 0.3 * x * x + 0.1 * libm::sin(40.0 * x);
            triangle.push([1.0, x, x * x, value]);
            rows.push(vec![1.0, x, x * x]);
            y.push(value);
        }
        let all = least_squares(&rows, &y, &vec![1.0; y.len()]).unwrap();
        let (rows, y) = triangle.finish();
        let few = least_squares(&rows, &y, &[1.0; 4]).unwrap();
        for i in 0..3 {
            approx::assert_relative_eq!(few.coefficients[i], all.coefficients[i], max_relative = 1e-12);
            for j in 0..3 {
                approx::assert_relative_eq!(few.unscaled[i][j], all.unscaled[i][j], max_relative = 1e-10);
            }
        }
        approx::assert_relative_eq!(few.variance * few.dof, all.variance * all.dof, max_relative = 1e-11);
    }

    #[test]
    fn few_rows_stay_a_triangle() {
        let mut triangle = Triangle::<3>::new();
        triangle.push([3.0, 1.0, 2.0]);
        triangle.push([4.0, 1.0, 2.0]);
        let (rows, y) = triangle.finish();
        assert_eq!((rows.len(), y.len(), rows[1][0]), (2, 2, 0.0));
        approx::assert_relative_eq!(libm::fabs(rows[0][0]), 5.0);
    }
}
