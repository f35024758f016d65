//! What a claim that cannot be read gets: file, place, field, value, what was expected, and how to mend it.

/// Why a claim cannot be read or vetted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}:{column}: {field}: {problem}; {mend}")]
pub struct ClaimError {
    /// File, or `--flags` for values given on the command line.
    pub file: String,
    /// Line, counted from 1; 0 for values that stand in no file.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
    /// Section and key.
    pub field: String,
    /// What is wrong, with the value and its unit.
    pub problem: String,
    /// What to write instead.
    pub mend: String,
}

/// Line and column, both from 1, of a byte of a text.
pub(crate) fn place(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte.min(text.len())).unwrap_or("");
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |i| i + 1);
    (line, before.get(start..).unwrap_or("").chars().count() + 1)
}
