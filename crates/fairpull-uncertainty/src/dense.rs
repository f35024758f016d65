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
