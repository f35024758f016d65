//! What a failed check says.

use core::fmt;

/// A broken promise: who, which one, on what inputs, expected, got, and the tolerance with its reason.
///
/// `Debug` prints the same text as `Display`, so that a test returning it reads well.
#[derive(Clone, PartialEq, Eq)]
pub struct Failure {
    /// Id of the plug-in.
    pub plugin: &'static str,
    /// Name of the check.
    pub check: &'static str,
    /// The inputs with their units.
    pub inputs: Box<str>,
    /// What the promise asks for.
    pub expected: Box<str>,
    /// What came.
    pub got: Box<str>,
    /// How far the two may differ, and why.
    pub tolerance: &'static str,
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{} breaks {}", self.plugin, self.check)?;
        writeln!(f, "  inputs    {}", self.inputs)?;
        writeln!(f, "  expected  {}", self.expected)?;
        writeln!(f, "  got       {}", self.got)?;
        write!(f, "  tolerance {}", self.tolerance)
    }
}

impl fmt::Debug for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\n{self}")
    }
}

impl std::error::Error for Failure {}

/// No tolerance: the promise holds or it does not.
pub(crate) const EXACT: &str = "none: holds or does not";

/// The maker of failures of one check on one plug-in.
#[derive(Clone, Copy)]
pub(crate) struct Check {
    pub(crate) plugin: &'static str,
    pub(crate) name: &'static str,
    pub(crate) tolerance: &'static str,
}

impl Check {
    /// `Ok` when the promise holds, the failure otherwise.
    pub(crate) fn holds(
        &self,
        holds: bool,
        inputs: impl fmt::Display,
        expected: impl fmt::Display,
        got: impl fmt::Debug,
    ) -> Result<(), Failure> {
        if holds {
            return Ok(());
        }
        Err(Failure {
            plugin: self.plugin,
            check: self.name,
            inputs: inputs.to_string().into(),
            expected: expected.to_string().into(),
            got: format!("{got:?}").into(),
            tolerance: self.tolerance,
        })
    }
}
