//! Seeded random numbers: the same seed gives the same bits on every machine.

/// PCG-XSH-RR 64/32 (M. E. O'Neill, "PCG: A Family of Simple Fast Space-Efficient Statistically Good Algorithms for
/// Random Number Generation", HMC-CS-2014-0905).
#[derive(Clone, Debug)]
pub struct Random {
    state: u64,
    increment: u64,
}

impl Random {
    /// A generator for a seed and a stream; streams of one seed are independent of each other.
    #[must_use]
    pub fn new(seed: u64, stream: u64) -> Self {
        let mut made = Self { state: 0, increment: (stream << 1) | 1 };
        made.bits();
        made.state = made.state.wrapping_add(seed);
        made.bits();
        made
    }

    /// 32 random bits.
    pub fn bits(&mut self) -> u32 {
        let old = self.state;
        self.state = old.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(self.increment);
        let xorshifted = (((old >> 18) ^ old) >> 27) as u32;
        xorshifted.rotate_right((old >> 59) as u32)
    }

    /// Uniform in the open interval (0, 1).
    pub fn unit(&mut self) -> f64 {
        (f64::from(self.bits()) + 0.5) / 4_294_967_296.0
    }

    /// Uniform between two bounds.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number below `n` (which must not be 0).
    pub fn below(&mut self, n: usize) -> usize {
        let drawn = (self.unit() * n as f64) as usize;
        drawn.min(n - 1)
    }

    /// Standard normal (Box and Muller 1958, the cosine branch).
    pub fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(self.unit()));
        radius * libm::cos(core::f64::consts::TAU * self.unit())
    }

    /// Normal with standard deviation `sd` about 0. Draws even when `sd` is 0, so that a setting does not shift the
    /// numbers that follow.
    pub fn scatter(&mut self, sd: f64) -> f64 {
        sd * self.normal()
    }
}
