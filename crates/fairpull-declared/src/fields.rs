//! Reading a table field by field: each reader checks, each failure names file, place, field, value and expectation.

use crate::error::{DeclarationError, place};
use crate::node::{Data, Entry, Node};
use std::cell::RefCell;

/// A table being read. Fields that were never asked for are refused by [`Fields::finish`].
pub(crate) struct Fields<'a> {
    file: &'a str,
    text: &'a str,
    path: String,
    at: Option<usize>,
    entries: &'a [Entry],
    asked: RefCell<Vec<&'static str>>,
}

type Answer<T> = Result<T, DeclarationError>;

impl<'a> Fields<'a> {
    pub(crate) fn root(file: &'a str, text: &'a str, node: &'a Node) -> Answer<Self> {
        let empty =
            Self { file, text, path: String::new(), at: None, entries: &[], asked: RefCell::default() };
        match &node.data {
            Data::Table(entries) => Ok(Self { entries, ..empty }),
            _ => Err(empty.error("", None, format!("{} where a table of fields was expected", node.shown()))),
        }
    }

    fn full(&self, key: &str) -> String {
        match (self.path.is_empty(), key.is_empty()) {
            (true, _) => key.to_owned(),
            (_, true) => self.path.clone(),
            _ => format!("{}.{key}", self.path),
        }
    }

    /// An error at a field of this table.
    pub(crate) fn error(&self, key: &str, at: Option<usize>, message: String) -> DeclarationError {
        let known = self.entries.iter().find(|(k, ..)| k == key).and_then(|(_, _, n)| n.at);
        DeclarationError {
            file: self.file.to_owned(),
            place: at.or(known).or(self.at).map(|o| place(self.text, o)),
            field: self.full(key),
            message,
        }
    }

    fn find(&self, key: &'static str) -> Option<&'a Node> {
        self.asked.borrow_mut().push(key);
        self.entries.iter().find(|(k, ..)| k == key).map(|(_, _, n)| n)
    }

    fn need(&self, key: &'static str, expected: &str) -> Answer<&'a Node> {
        self.find(key).ok_or_else(|| {
            let near = self.entries.iter().find(|(k, ..)| edits(k, key) <= 2);
            let (at, hint) = match near {
                Some((k, at, _)) => (*at, format!("; is {k} a slip of the pen?")),
                None => (None, String::new()),
            };
            self.error(key, at, format!("missing: give {expected}{hint}"))
        })
    }

    fn wrong<T>(&self, key: &str, node: &Node, expected: &str) -> Answer<T> {
        Err(self.error(key, node.at, format!("{} where {expected} was expected", node.shown())))
    }

    fn as_text(&self, key: &'static str, node: &'a Node, expected: &str) -> Answer<&'a str> {
        match &node.data {
            Data::Text(t) if !t.trim().is_empty() => Ok(t.trim()),
            _ => self.wrong(key, node, expected),
        }
    }

    /// A text that is not blank.
    pub(crate) fn text(&self, key: &'static str, expected: &str) -> Answer<&'a str> {
        self.as_text(key, self.need(key, expected)?, expected)
    }

    /// A text, or nothing when the field is absent.
    pub(crate) fn text_or_none(&self, key: &'static str, expected: &str) -> Answer<Option<&'a str>> {
        self.find(key).map(|n| self.as_text(key, n, expected)).transpose()
    }

    fn as_number(&self, key: &'static str, node: &Node, (low, high): (f64, f64), unit: &str) -> Answer<f64> {
        match node.data {
            Data::Number(n) if n >= low && n <= high => Ok(n),
            _ => self.wrong(key, node, &format!("a number from {low} to {high}{unit}")),
        }
    }

    /// A number in a range; `unit` begins with a blank.
    pub(crate) fn number(&self, key: &'static str, range: (f64, f64), unit: &str) -> Answer<f64> {
        let node = self.need(key, &format!("a number from {} to {}{unit}", range.0, range.1))?;
        self.as_number(key, node, range, unit)
    }

    /// A number in a range, or nothing when the field is absent.
    pub(crate) fn number_or_none(
        &self,
        key: &'static str,
        range: (f64, f64),
        unit: &str,
    ) -> Answer<Option<f64>> {
        self.find(key).map(|n| self.as_number(key, n, range, unit)).transpose()
    }

    fn as_pair(&self, key: &'static str, node: &Node, range: (f64, f64), what: &str) -> Answer<[f64; 2]> {
        match &node.data {
            Data::List(items) => match items.as_slice() {
                [a, b] => Ok([self.as_number(key, a, range, "")?, self.as_number(key, b, range, "")?]),
                _ => self.wrong(key, node, what),
            },
            _ => self.wrong(key, node, what),
        }
    }

    /// Two numbers.
    pub(crate) fn pair(&self, key: &'static str, range: (f64, f64), what: &str) -> Answer<[f64; 2]> {
        self.as_pair(key, self.need(key, what)?, range, what)
    }

    /// Low and high, low not above high, or nothing when the field is absent.
    pub(crate) fn range_or_none(&self, key: &'static str, range: (f64, f64)) -> Answer<Option<[f64; 2]>> {
        let Some(node) = self.find(key) else { return Ok(None) };
        let [low, high] = self.as_pair(key, node, range, "a pair [low, high]")?;
        if low <= high {
            Ok(Some([low, high]))
        } else {
            Err(self.error(key, node.at, format!("[{low}, {high}] where low must not be above high")))
        }
    }

    /// `true` or `false`.
    pub(crate) fn truth(&self, key: &'static str) -> Answer<bool> {
        match self.need(key, "true or false")? {
            Node { data: Data::Truth(b), .. } => Ok(*b),
            other => self.wrong(key, other, "true or false"),
        }
    }

    /// `true` or `false`, or the given value when the field is absent.
    pub(crate) fn truth_or(&self, key: &'static str, otherwise: bool) -> Answer<bool> {
        if self.entries.iter().any(|(k, ..)| k == key) { self.truth(key) } else { self.skip(key, otherwise) }
    }

    fn skip<T>(&self, key: &'static str, value: T) -> Answer<T> {
        self.asked.borrow_mut().push(key);
        Ok(value)
    }

    /// One of a list of words.
    pub(crate) fn choice<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Answer<T> {
        let list = words.iter().map(|(w, _)| *w).collect::<Vec<_>>().join(", ");
        let expected = format!("one of {list}");
        let node = self.need(key, &expected)?;
        let word = self.as_text(key, node, &expected)?;
        match words.iter().find(|(w, _)| *w == word) {
            Some((_, value)) => Ok(*value),
            None => self.wrong(key, node, &expected),
        }
    }

    fn inner(&self, key: &'static str, index: Option<usize>, node: &'a Node, what: &str) -> Answer<Self> {
        let path = match index {
            Some(i) => format!("{}[{}]", self.full(key), i + 1),
            None => self.full(key),
        };
        match &node.data {
            Data::Table(entries) => Ok(Self {
                file: self.file,
                text: self.text,
                path,
                at: node.at,
                entries,
                asked: RefCell::default(),
            }),
            _ => self.wrong(key, node, what),
        }
    }

    /// A table.
    pub(crate) fn table(&self, key: &'static str, what: &str) -> Answer<Self> {
        self.inner(key, None, self.need(key, what)?, what)
    }

    /// A table, or nothing when the field is absent.
    pub(crate) fn table_or_none(&self, key: &'static str, what: &str) -> Answer<Option<Self>> {
        self.find(key).map(|n| self.inner(key, None, n, what)).transpose()
    }

    /// A list of tables, empty when the field is absent.
    pub(crate) fn tables(&self, key: &'static str, what: &str) -> Answer<Vec<Self>> {
        match self.find(key) {
            None => Ok(Vec::new()),
            Some(Node { data: Data::List(items), .. }) => {
                items.iter().enumerate().map(|(i, n)| self.inner(key, Some(i), n, what)).collect()
            }
            Some(other) => self.wrong(key, other, &format!("a list, each {what}")),
        }
    }

    /// A list of texts, empty when the field is absent.
    pub(crate) fn texts(&self, key: &'static str) -> Answer<Vec<&'a str>> {
        match self.find(key) {
            None => Ok(Vec::new()),
            Some(Node { data: Data::List(items), .. }) => {
                items.iter().map(|n| self.as_text(key, n, "a text")).collect()
            }
            Some(other) => self.wrong(key, other, "a list of texts"),
        }
    }

    /// Refuses fields that nobody asked for.
    pub(crate) fn finish(&self) -> Answer<()> {
        let asked = self.asked.borrow();
        let Some((key, at, _)) = self.entries.iter().find(|(k, ..)| !asked.contains(&k.as_str())) else {
            return Ok(());
        };
        let near = asked.iter().map(|a| (edits(key, a), a)).min().filter(|(d, _)| *d <= 3);
        let hint = near.map_or_else(String::new, |(_, a)| format!(": did you mean {a}?"));
        let mut known = asked.clone();
        known.sort_unstable();
        known.dedup();
        let message = format!("unknown field{hint} (known here: {})", known.join(", "));
        Err(self.error(key, *at, message))
    }
}

/// Levenshtein distance.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().take(64).enumerate() {
        let (mut diagonal, mut left) = (i, i + 1);
        for (cb, cell) in b.iter().zip(row.iter_mut().skip(1)) {
            let here = (diagonal + usize::from(ca != *cb)).min(left + 1).min(*cell + 1);
            diagonal = *cell;
            *cell = here;
            left = here;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or(usize::MAX)
}
