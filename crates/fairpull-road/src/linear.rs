//! Weighted linear least squares with a handful of coefficients, with covariance.

/// Coefficients, their covariance before scaling by the residual variance, and the weighted sum of squared residuals.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fit<const N: usize> {
    pub(crate) coefficients: [f64; N],
    pub(crate) inverse: [[f64; N]; N],
    pub(crate) rss: f64,
}

/// Solves min Σ w (y − row·c)²; `None` when the normal matrix is singular.
pub(crate) fn least_squares<const N: usize>(
    rows: &[[f64; N]],
    y: &[f64],
    w: Option<&[f64]>,
) -> Option<Fit<N>> {
    let weight = |i: usize| w.map_or(1.0, |w| w.get(i).copied().unwrap_or(0.0));
    let mut a = [[0.0; N]; N];
    let mut b = [0.0; N];
    for (k, (row, value)) in rows.iter().zip(y).enumerate() {
        for i in 0..N {
            b[i] += weight(k) * row[i] * value;
            for j in 0..N {
                a[i][j] += weight(k) * row[i] * row[j];
            }
        }
    }
    let inverse = invert(a)?;
    let mut c = [0.0; N];
    for i in 0..N {
        for j in 0..N {
            c[i] += inverse[i][j] * b[j];
        }
    }
    let mut rss = 0.0;
    for (k, (row, value)) in rows.iter().zip(y).enumerate() {
        let mut r = *value;
        for i in 0..N {
            r -= row[i] * c[i];
        }
        rss += weight(k) * r * r;
    }
    Some(Fit { coefficients: c, inverse, rss })
}

/// Inverse by Gauss-Jordan elimination with scaling and partial pivoting.
pub(crate) fn invert<const N: usize>(mut a: [[f64; N]; N]) -> Option<[[f64; N]; N]> {
    // Scale to a unit diagonal: the columns of a road-load fit differ by powers of the speed.
    let mut scale = [0.0; N];
    for i in 0..N {
        scale[i] = libm::sqrt(libm::fabs(a[i][i]));
        if !(scale[i] > 0.0 && scale[i].is_finite()) {
            return None;
        }
    }
    for i in 0..N {
        for j in 0..N {
            a[i][j] /= scale[i] * scale[j];
        }
    }
    let mut inverse = [[0.0; N]; N];
    for (i, row) in inverse.iter_mut().enumerate() {
        row[i] = 1.0;
    }
    for col in 0..N {
        let mut pivot = col;
        for row in col + 1..N {
            if libm::fabs(a[row][col]) > libm::fabs(a[pivot][col]) {
                pivot = row;
            }
        }
        if libm::fabs(a[pivot][col]) < 1e-13 {
            return None;
        }
        a.swap(col, pivot);
        inverse.swap(col, pivot);
        let lead = a[col][col];
        for j in 0..N {
            a[col][j] /= lead;
            inverse[col][j] /= lead;
        }
        for row in 0..N {
            if row != col {
                let factor = a[row][col];
                for j in 0..N {
                    a[row][j] -= factor * a[col][j];
                    inverse[row][j] -= factor * inverse[col][j];
                }
            }
        }
    }
    for i in 0..N {
        for j in 0..N {
            inverse[i][j] /= scale[i] * scale[j];
        }
    }
    Some(inverse)
}
