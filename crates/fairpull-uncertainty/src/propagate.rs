//! The law of propagation of uncertainty (JCGM 100:2008, 5.1 and 5.2) and effective degrees of freedom (G.4).

/// u_c² = Σ_i Σ_j c_i c_j u_i u_j r_ij with sensitivity coefficients `c`, standard uncertainties `u` and the
/// correlation `r(i, j)`, which is only asked for i < j (JCGM 100:2008, equation 16).
#[must_use]
pub fn combined_variance(c: &[f64], u: &[f64], r: impl Fn(usize, usize) -> f64) -> f64 {
    let parts: Vec<f64> = c.iter().zip(u).map(|(c, u)| c * u).collect();
    let mut sum = 0.0;
    for (i, a) in parts.iter().enumerate() {
        sum += a * a;
        for (j, b) in parts.iter().enumerate().skip(i + 1) {
            sum += 2.0 * a * b * r(i, j);
        }
    }
    sum
}

/// Welch-Satterthwaite: u_c⁴ / Σ (c_i u_i)⁴/ν_i for contributions `c_i u_i` with degrees of freedom ν_i
/// (JCGM 100:2008, equation G.2b). Infinite when nothing has finite degrees of freedom.
#[must_use]
pub fn effective_dof(contributions: &[(f64, f64)]) -> f64 {
    let mut total = 0.0;
    let mut below = 0.0;
    for (part, dof) in contributions {
        let square = part * part;
        total += square;
        if dof.is_finite() {
            below += square * square / dof;
        }
    }
    if below > 0.0 { total * total / below } else { f64::INFINITY }
}
