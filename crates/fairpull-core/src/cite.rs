//! Where a number comes from, and how far the text behind it was read.

/// How far the text behind a constant or a clause was read by whoever wrote it down here.
///
/// Ordered from strongest to weakest, so `max` of several grades is the grade of what rests on all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reading {
    /// Defined exactly, or derived here by elementary physics.
    Derived,
    /// The clause itself was read.
    Read,
    /// Not read in the document, but an independent publication agrees.
    Corroborated,
    /// Written from memory and believed right.
    Remembered,
    /// Written from memory with a real chance of being wrong: do not call a result conforming on its strength.
    Doubtful,
}

impl Reading {
    /// The grade in words, as reports print it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Derived => "exact or derived",
            Self::Read => "read in the document",
            Self::Corroborated => "corroborated by an independent publication",
            Self::Remembered => "from memory, believed right",
            Self::Doubtful => "from memory, doubtful",
        }
    }
}

/// A place in a document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cite {
    /// Designation and year of the document, or author, title and year of a paper.
    pub document: &'static str,
    /// Clause, table, equation or page; empty when the whole document is meant.
    pub clause: &'static str,
    /// How far it was read.
    pub reading: Reading,
}

impl Cite {
    /// A citation by document, clause and grade of reading.
    #[must_use]
    pub const fn new(document: &'static str, clause: &'static str, reading: Reading) -> Self {
        Self { document, clause, reading }
    }
}

impl core::fmt::Display for Cite {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.document)?;
        if !self.clause.is_empty() {
            write!(f, ", {}", self.clause)?;
        }
        Ok(())
    }
}

/// One line of a card's list of sources: what was taken, and from where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// What rests on it, e.g. "exponents of the atmospheric factor".
    pub what: &'static str,
    /// The place.
    pub cite: Cite,
}
