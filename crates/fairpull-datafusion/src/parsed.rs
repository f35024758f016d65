//! Texts turned into what they mean: once a batch for a constant, once for each distinct text of a column.

use std::collections::HashMap;

use crate::arguments::Texts;

/// How a text is read; the error is for a person.
pub(crate) type Read<T> = fn(&str) -> Result<T, String>;

/// The meaning of a text argument, row by row.
pub(crate) struct Parsed<'a, T> {
    texts: Texts<'a>,
    read: Read<T>,
    constant: Option<Result<T, String>>,
    last: Option<(&'a str, T)>,
    seen: HashMap<&'a str, Result<T, String>>,
}

impl<'a, T: Clone> Parsed<'a, T> {
    pub(crate) fn new(texts: Texts<'a>, read: Read<T>) -> Self {
        let constant = match texts {
            Texts::Constant(Some(text)) => Some(read(text)),
            Texts::Constant(None) | Texts::Column(_) => None,
        };
        Self { texts, read, constant, last: None, seen: HashMap::new() }
    }

    /// The text of a row; `None` for NULL.
    pub(crate) fn text(&self, row: usize) -> Option<&'a str> {
        self.texts.at(row)
    }

    /// What the text of a row means; `None` for NULL.
    pub(crate) fn at(&mut self, row: usize) -> Option<Result<T, String>> {
        if self.constant.is_some() {
            return self.constant.clone();
        }
        let text = self.texts.at(row)?;
        if let Some((last, meaning)) = &self.last
            && *last == text
        {
            return Some(Ok(meaning.clone()));
        }
        let meaning = self.seen.entry(text).or_insert_with(|| (self.read)(text)).clone();
        if let Ok(m) = &meaning {
            self.last = Some((text, m.clone()));
        }
        Some(meaning)
    }
}
