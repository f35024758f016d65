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

/// Strips under the normal density.
const STRIPS: usize = 128;
/// Where the lowest strip turns into the tail, and the area of each (Marsaglia and Tsang, J. Stat. Softw. 5(8), 2000).
const TAIL: f64 = 3.442_619_855_899;
const AREA: f64 = 9.912_563_035_262_17e-3;

/// Standard normal draws by strips of equal area (Marsaglia and Tsang, J. Stat. Softw. 5(8), 2000), several times faster
/// than [`Random::normal`], to steps of 2⁻²⁴ of a strip: for many draws whose quantiles are asked for.
#[derive(Clone, Debug)]
pub struct Normals {
    /// Right ends of the strips from the lowest up, and the density there.
    ends: [f64; STRIPS + 1],
    heights: [f64; STRIPS + 1],
}

impl Normals {
    /// The strips.
    #[must_use]
    pub fn new() -> Self {
        let density = |x: f64| libm::exp(-0.5 * x * x);
        let mut ends = [0.0; STRIPS + 1];
        // the lowest strip with its tail is as large as a strip that ends here
        ends[0] = AREA / density(TAIL);
        ends[1] = TAIL;
        for i in 2..STRIPS {
            ends[i] = libm::sqrt(-2.0 * libm::log(AREA / ends[i - 1] + density(ends[i - 1])));
        }
        Self { ends, heights: ends.map(density) }
    }

    /// One draw.
    pub fn draw(&self, random: &mut Random) -> f64 {
        loop {
            // strip, sign and place come from different bits
            let bits = random.bits();
            let i = (bits & 127) as usize;
            let sign = if bits & 128 == 0 { 1.0 } else { -1.0 };
            let x = (f64::from(bits >> 8) + 0.5) / 16_777_216.0 * self.ends[i];
            if x < self.ends[i + 1] {
                return sign * x;
            }
            if i == 0 {
                return sign * tail(random);
            }
            let height = self.heights[i] + random.uniform() * (self.heights[i + 1] - self.heights[i]);
            if height < libm::exp(-0.5 * x * x) {
                return sign * x;
            }
        }
    }
}

impl Default for Normals {
    fn default() -> Self {
        Self::new()
    }
}

/// A draw beyond [`TAIL`] (Marsaglia, Technometrics 6, 1964).
fn tail(random: &mut Random) -> f64 {
    loop {
        let x = -libm::log(random.uniform()) / TAIL;
        if -2.0 * libm::log(random.uniform()) > x * x {
            return TAIL + x;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::special::normal_cdf;

    /// Counts below each of many places against the normal distribution: within five standard deviations of a count.
    #[test]
    fn strips_make_a_normal_distribution() {
        let (normals, mut random) = (Normals::new(), Random::new(3));
        let draws: Vec<f64> = (0..1_000_000).map(|_| normals.draw(&mut random)).collect();
        for k in -9..=9 {
            let at = 0.45 * f64::from(k);
            let share = draws.iter().filter(|x| **x < at).count() as f64 / draws.len() as f64;
            let p = normal_cdf(at);
            let sd = libm::sqrt(p * (1.0 - p) / draws.len() as f64);
            assert!(libm::fabs(share - p) < 5.0 * sd, "{at}: {share} {p}");
        }
        let square = draws.iter().map(|x| x * x).sum::<f64>() / draws.len() as f64;
        assert!(libm::fabs(square - 1.0) < 5.0 * libm::sqrt(2.0 / draws.len() as f64), "{square}");
        let lagged = draws.windows(2).map(|w| w[0] * w[1]).sum::<f64>() / draws.len() as f64;
        assert!(libm::fabs(lagged) < 5e-3, "{lagged}");
    }
}
