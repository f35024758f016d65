//! Small dense symmetric systems: Cholesky and least squares with covariance.

/// The system has no unique solution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the equations do not determine the unknowns")]
pub struct Singular;

/// Lower Cholesky factor of a symmetric positive definite matrix given row by row.
///
/// # Errors
/// [`Singular`] when the matrix is not positive definite or not square.
pub fn cholesky(a: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, Singular> {
    let n = a.len();
    let mut l: Vec<Vec<f64>> = Vec::with_capacity(n);
    for (i, row) in a.iter().enumerate() {
        if row.len() != n {
            return Err(Singular);
        }
        let mut new = vec![0.0; n];
        for j in 0..=i {
            let other: &[f64] = if j < i { l.get(j).map_or(&[], Vec::as_slice) } else { &new };
            let dot: f64 = new.iter().zip(other).take(j).map(|(x, y)| x * y).sum();
            let rest = row.get(j).copied().unwrap_or(f64::NAN) - dot;
            let value = if i == j {
                if !(rest > 0.0 && rest.is_finite()) {
                    return Err(Singular);
                }
                libm::sqrt(rest)
            } else {
                rest / other.get(j).copied().unwrap_or(f64::NAN)
            };
            if let Some(slot) = new.get_mut(j) {
                *slot = value;
            }
        }
        l.push(new);
    }
    Ok(l)
}

/// Solves L Lᵀ x = b.
#[must_use]
pub fn cholesky_solve(l: &[Vec<f64>], b: &[f64]) -> Vec<f64> {
    let n = l.len();
    let mut y = vec![0.0; n];
    for i in 0..n {
        let dot: f64 = l[i].iter().zip(&y).take(i).map(|(a, c)| a * c).sum();
        y[i] = (b.get(i).copied().unwrap_or(0.0) - dot) / l[i][i];
    }
    let mut x = vec![0.0; n];
    for i in (0..n).rev() {
        let mut dot = 0.0;
        for k in i + 1..n {
            dot += l[k][i] * x[k];
        }
        x[i] = (y[i] - dot) / l[i][i];
    }
    x
}

/// Inverse of L Lᵀ.
#[must_use]
pub fn cholesky_inverse(l: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = l.len();
    let mut columns: Vec<Vec<f64>> = Vec::with_capacity(n);
    for j in 0..n {
        let mut e = vec![0.0; n];
        e[j] = 1.0;
        columns.push(cholesky_solve(l, &e));
    }
    columns
}

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

/// Weighted linear least squares by the normal equations, columns scaled to unit length first.
///
/// `rows` are the rows of the design matrix; `weights` are 1/variance up to a common factor.
///
/// # Errors
/// [`Singular`] when the columns are linearly dependent or there are fewer rows than columns.
pub fn least_squares(rows: &[Vec<f64>], y: &[f64], weights: &[f64]) -> Result<LeastSquares, Singular> {
    let p = rows.first().map_or(0, Vec::len);
    if p == 0 || rows.len() < p || rows.len() != y.len() || rows.len() != weights.len() {
        return Err(Singular);
    }
    let mut scale = vec![0.0; p];
    for (row, w) in rows.iter().zip(weights) {
        for (s, x) in scale.iter_mut().zip(row) {
            *s += w * x * x;
        }
    }
    for s in &mut scale {
        *s = libm::sqrt(*s);
        if !(*s > 0.0 && s.is_finite()) {
            return Err(Singular);
        }
    }
    let mut normal = vec![vec![0.0; p]; p];
    let mut right = vec![0.0; p];
    for ((row, yi), w) in rows.iter().zip(y).zip(weights) {
        for i in 0..p {
            let xi = w * row[i] / scale[i];
            right[i] += xi * yi;
            for j in 0..=i {
                normal[i][j] += xi * row[j] / scale[j];
            }
        }
    }
    for i in 0..p {
        for j in 0..i {
            normal[j][i] = normal[i][j];
        }
    }
    let l = cholesky(&normal)?;
    let solved = cholesky_solve(&l, &right);
    let coefficients: Vec<f64> = solved.iter().zip(&scale).map(|(b, s)| b / s).collect();
    let mut unscaled = cholesky_inverse(&l);
    for i in 0..p {
        for j in 0..p {
            unscaled[i][j] /= scale[i] * scale[j];
        }
    }
    let mut rss = 0.0;
    for ((row, yi), w) in rows.iter().zip(y).zip(weights) {
        let fit: f64 = row.iter().zip(&coefficients).map(|(x, b)| x * b).sum();
        rss += w * (yi - fit) * (yi - fit);
    }
    let dof = (rows.len() - p) as f64;
    let variance = if dof > 0.0 { rss / dof } else { f64::NAN };
    Ok(LeastSquares { coefficients, unscaled, variance, dof })
}
