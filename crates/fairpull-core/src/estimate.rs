//! A value with its standard uncertainty, kept in two parts.

/// A value with standard uncertainty: what varies from run to run, and what the rig shares between all runs.
///
/// The run part shrinks with repeats and stays in a before/after difference; the rig part (calibration, inertia,
/// weather station) does neither: it is common to both states of one rig and cancels in their ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Best value, in the unit the holder states.
    pub value: f64,
    /// Standard uncertainty of the run part, same unit.
    pub run: f64,
    /// Standard uncertainty of the rig part, same unit.
    pub rig: f64,
    /// Effective degrees of freedom of the run part; infinite when it is known rather than estimated.
    pub run_dof: f64,
}

impl Estimate {
    /// A value without uncertainty (a definition, or a figure whose uncertainty is stated to be unknown).
    #[must_use]
    pub const fn exact(value: f64) -> Self {
        Self { value, run: 0.0, rig: 0.0, run_dof: f64::INFINITY }
    }

    /// Combined standard uncertainty: root of the sum of squares (JCGM 100:2008, 5.1.2).
    #[must_use]
    pub fn combined(&self) -> f64 {
        libm::hypot(self.run, self.rig)
    }

    /// Effective degrees of freedom of the combined uncertainty (JCGM 100:2008, G.4.1, equation G.2b), the rig
    /// part being a stated one with infinite degrees of freedom.
    #[must_use]
    pub fn dof(&self) -> f64 {
        let run2 = self.run * self.run;
        if run2 == 0.0 {
            return f64::INFINITY;
        }
        let total2 = run2 + self.rig * self.rig;
        total2 * total2 / (run2 * run2 / self.run_dof)
    }

    /// Multiplied by an exact number.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        let size = libm::fabs(by);
        Self { value: self.value * by, run: self.run * size, rig: self.rig * size, run_dof: self.run_dof }
    }
}
