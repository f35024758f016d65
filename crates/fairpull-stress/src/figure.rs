//! A value with its standard uncertainty, and how uncertainties pass through a formula.

use serde::{Deserialize, Serialize};

/// A value with standard uncertainty, in the unit its field names.
///
/// In data either a bare number (taken as exact) or `{ value = 220.0, uncertainty = 1.0 }`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "Written")]
pub struct Figure {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty, same unit.
    pub uncertainty: f64,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Written {
    Bare(f64),
    Full(Full),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Full {
    value: f64,
    uncertainty: f64,
}

impl From<Written> for Figure {
    fn from(written: Written) -> Self {
        match written {
            Written::Bare(value) => Self::exact(value),
            Written::Full(f) => Self::new(f.value, f.uncertainty),
        }
    }
}

impl Figure {
    /// A value with standard uncertainty.
    #[must_use]
    pub const fn new(value: f64, uncertainty: f64) -> Self {
        Self { value, uncertainty }
    }

    /// A value taken as exact.
    #[must_use]
    pub const fn exact(value: f64) -> Self {
        Self { value, uncertainty: 0.0 }
    }

    /// Limits of the 95 % interval, normal distribution: value ± 1.96 u (JCGM 100:2008, 6.3 and table G.1).
    #[must_use]
    pub fn interval(&self) -> [f64; 2] {
        let half = 1.959_963_984_540_054 * self.uncertainty;
        [self.value - half, self.value + half]
    }

    /// The figure in another unit: both parts times an exact factor.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        Self { value: self.value * by, uncertainty: libm::fabs(self.uncertainty * by) }
    }

    /// Change from an earlier figure. `correlation` is that of the two errors: 1 where both come from the same
    /// sensor with a fixed error, 0 where nothing is shared (JCGM 100:2008, equation 16).
    #[must_use]
    pub fn less(&self, earlier: &Self, correlation: f64) -> Self {
        let (a, b) = (self.uncertainty, earlier.uncertainty);
        let square = a * a + b * b - 2.0 * correlation.clamp(-1.0, 1.0) * a * b;
        Self { value: self.value - earlier.value, uncertainty: libm::sqrt(libm::fmax(square, 0.0)) }
    }
}

/// A formula of independent inputs: u² = Σ [(f(x + u) − f(x − u))/2]² (JCGM 100:2008, 5.1.3, note 2).
///
/// An input at the edge of the formula's domain whose step leaves it contributes its one-sided difference.
pub(crate) fn propagate<const N: usize>(inputs: [Figure; N], f: impl Fn(&[f64; N]) -> f64) -> Figure {
    spread(inputs, &f)
}

/// One function for all formulas of so many inputs.
fn spread<const N: usize>(inputs: [Figure; N], f: &dyn Fn(&[f64; N]) -> f64) -> Figure {
    let centre = inputs.map(|i| i.value);
    let value = f(&centre);
    let mut square = 0.0;
    for (i, input) in inputs.iter().enumerate() {
        if input.uncertainty == 0.0 {
            continue;
        }
        let moved = |by: f64| {
            let mut x = centre;
            if let Some(slot) = x.get_mut(i) {
                *slot += by;
            }
            f(&x)
        };
        let (up, down) = (moved(input.uncertainty), moved(-input.uncertainty));
        let half = match (up.is_finite(), down.is_finite()) {
            (true, true) => 0.5 * (up - down),
            (true, false) => up - value,
            (false, true) => value - down,
            (false, false) => f64::INFINITY,
        };
        square += half * half;
    }
    Figure { value, uncertainty: libm::sqrt(square) }
}
