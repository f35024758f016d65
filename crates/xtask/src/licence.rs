//! Licence expressions as manifests write them: names joined by AND, OR (or a slash), in brackets.

/// The names that an expression is used under when all that it asks for are let through; `None` when it cannot be.
pub fn allows(expression: &str, let_through: &[String]) -> Option<Vec<String>> {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut reader = Reader { words: &words, let_through };
    let used = reader.either()?;
    reader.words.is_empty().then_some(used?)
}

struct Reader<'a> {
    words: &'a [&'a str],
    let_through: &'a [String],
}

/// Outside: the text is no expression. Inside: what it asks for is not let through.
type Answer = Option<Option<Vec<String>>>;

impl Reader<'_> {
    fn take(&mut self, word: &str) -> bool {
        let found = self.words.first() == Some(&word);
        if found {
            self.words = &self.words[1..];
        }
        found
    }

    fn either(&mut self) -> Answer {
        let mut all = vec![self.both()?];
        while self.take("OR") {
            all.push(self.both()?);
        }
        Some(all.into_iter().flatten().next())
    }

    fn both(&mut self) -> Answer {
        let mut used = self.one()?;
        while self.take("AND") {
            let more = self.one()?;
            used = used.zip(more).map(|(mut a, b)| {
                a.extend(b);
                a
            });
        }
        Some(used)
    }

    fn one(&mut self) -> Answer {
        if self.take("(") {
            let inner = self.either()?;
            return self.take(")").then_some(inner);
        }
        let (name, rest) = self.words.split_first()?;
        if [")", "AND", "OR", "WITH"].contains(name) {
            return None;
        }
        self.words = rest;
        let mut name = (*name).to_owned();
        if self.take("WITH") {
            let (exception, rest) = self.words.split_first()?;
            name = format!("{name} WITH {exception}");
            self.words = rest;
        }
        let known = self.let_through.contains(&name);
        Some(known.then(|| vec![name]))
    }
}

#[cfg(test)]
mod tests {
    use super::allows;

    fn used(expression: &str) -> Option<String> {
        let list = ["MIT", "Apache-2.0", "Unicode-3.0"].map(String::from);
        allows(expression, &list).map(|u| u.join("+"))
    }

    #[test]
    fn expressions() {
        assert_eq!(used("MIT").as_deref(), Some("MIT"));
        assert_eq!(used("GPL-3.0 OR MIT").as_deref(), Some("MIT"));
        assert_eq!(used("Unlicense/MIT").as_deref(), Some("MIT"));
        assert_eq!(used("(MIT OR Apache-2.0) AND Unicode-3.0").as_deref(), Some("MIT+Unicode-3.0"));
        assert_eq!(used("Apache-2.0 WITH LLVM-exception OR MIT").as_deref(), Some("MIT"));
    }

    #[test]
    fn refused() {
        for no in [
            "",
            "GPL-3.0",
            "MIT AND GPL-3.0",
            "Apache-2.0 WITH LLVM-exception",
            "(MIT",
            "MIT)",
            "MIT MIT",
            "OR",
        ] {
            assert_eq!(used(no), None, "{no:?}");
        }
    }
}
