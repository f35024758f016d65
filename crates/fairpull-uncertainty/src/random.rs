//! A small seeded generator, so that every random result can be redone from its seed.

/// Permuted congruential generator (64-bit state, 32-bit output; O'Neill, HMC-CS-2014-0905) with a polar-free
/// normal sampler that uses `libm` only.
#[derive(Clone, Debug)]
pub struct Random {
    state: u64,
}

const MULTIPLIER: u64 = 6_364_136_223_846_793_005;
const INCREMENT: u64 = 1_442_695_040_888_963_407;

impl Random {
    /// A generator from a seed; the same seed gives the same draws on every machine.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        let mut r = Self { state: seed.wrapping_add(INCREMENT) };
        r.advance();
        r
    }

    const fn advance(&mut self) -> u64 {
        let old = self.state;
        self.state = old.wrapping_mul(MULTIPLIER).wrapping_add(INCREMENT);
        old
    }

    /// 32 random bits.
    pub const fn bits(&mut self) -> u32 {
        let old = self.advance();
        let word = (((old >> 18) ^ old) >> 27) as u32;
        word.rotate_right((old >> 59) as u32)
    }

    /// Uniform on the open interval (0, 1), 53 bits.
    pub fn uniform(&mut self) -> f64 {
        let high = u64::from(self.bits()) >> 5;
        let low = u64::from(self.bits()) >> 6;
        ((high * 67_108_864 + low) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Standard normal, by the Box-Muller formula (Ann. Math. Statist. 29, 1958).
    pub fn normal(&mut self) -> f64 {
        let r = libm::sqrt(-2.0 * libm::log(self.uniform()));
        r * libm::cos(2.0 * core::f64::consts::PI * self.uniform())
    }

    /// Student's t with `dof` degrees of freedom (>= 1; fractional allowed), by the gamma sampler of
    /// Marsaglia and Tsang (ACM TOMS 26, 2000).
    pub fn student(&mut self, dof: f64) -> f64 {
        let z = self.normal();
        if dof > 1e6 {
            return z;
        }
        z / libm::sqrt(2.0 * self.gamma(0.5 * dof) / dof)
    }

    fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            let boost = libm::pow(self.uniform(), 1.0 / shape);
            return self.gamma(shape + 1.0) * boost;
        }
        let d = shape - 1.0 / 3.0;
        let c = 1.0 / libm::sqrt(9.0 * d);
        loop {
            let x = self.normal();
            let v = 1.0 + c * x;
            if v <= 0.0 {
                continue;
            }
            let v = v * v * v;
            if libm::log(self.uniform()) < 0.5 * x * x + d - d * v + d * libm::log(v) {
                return d * v;
            }
        }
    }
}
