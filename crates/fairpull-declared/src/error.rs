//! Why a declaration was refused.

/// A declaration that cannot be used, and where and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeclarationError {
    /// Name of the file as the caller gave it.
    pub file: String,
    /// Line and column, from 1, where they are known.
    pub place: Option<(usize, usize)>,
    /// Path of the field, e.g. `compression.engine-factor.from`; empty for the file as a whole.
    pub field: String,
    /// What was found and what was expected.
    pub message: String,
}

impl std::fmt::Display for DeclarationError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.file)?;
        if let Some((line, column)) = self.place {
            write!(f, ":{line}:{column}")?;
        }
        f.write_str(": ")?;
        if !self.field.is_empty() {
            write!(f, "{}: ", self.field)?;
        }
        f.write_str(&self.message)
    }
}

impl std::error::Error for DeclarationError {}

/// Line and column, from 1, of a byte offset; columns count characters.
pub(crate) fn place(text: &str, offset: usize) -> (usize, usize) {
    let mut end = offset.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let before = text.get(..end).unwrap_or("");
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (line, column)
}
