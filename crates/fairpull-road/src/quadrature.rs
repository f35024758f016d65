//! Gauss-Legendre quadrature, ten points: exact for polynomials up to degree 19.
//! Abscissae and weights: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 25.4, n = 10.

const NODES: [(f64, f64); 5] = [
    (0.148_874_338_981_631_22, 0.295_524_224_714_752_87),
    (0.433_395_394_129_247_2, 0.269_266_719_309_996_35),
    (0.679_409_568_299_024_4, 0.219_086_362_515_982_04),
    (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
    (0.973_906_528_517_171_7, 0.066_671_344_308_688_14),
];

/// Integrals of two functions at once over `a..b`; the order of summation is fixed.
pub(crate) fn pair(a: f64, b: f64, f: impl Fn(f64) -> [f64; 2]) -> [f64; 2] {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    let mut sum = [0.0; 2];
    for (x, w) in NODES {
        let (low, high) = (f(mid - half * x), f(mid + half * x));
        sum[0] += w * (low[0] + high[0]);
        sum[1] += w * (low[1] + high[1]);
    }
    [sum[0] * half, sum[1] * half]
}

/// Integral of one function over `a..b` in `panels` equal panels.
pub(crate) fn one(a: f64, b: f64, panels: usize, f: impl Fn(f64) -> f64) -> f64 {
    let n = panels.max(1);
    let step = (b - a) / n as f64;
    let mut sum = 0.0;
    for i in 0..n {
        let left = a + step * i as f64;
        sum += pair(left, left + step, |x| [f(x), 0.0])[0];
    }
    sum
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_to_degree_nineteen() {
        let got = super::pair(0.0, 1.0, |x| [libm::pow(x, 19.0), libm::pow(x, 18.0)]);
        assert!((got[0] - 1.0 / 20.0).abs() < 1e-15, "{got:?}");
        assert!((got[1] - 1.0 / 19.0).abs() < 1e-15, "{got:?}");
    }
}
