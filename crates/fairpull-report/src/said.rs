//! Texts of a result in the language of the page.
//!
//! A result is English wherever it is read. A language that has its counterpart of a text says it; what it does not
//! know stays English and is marked as English, so that a screen reader speaks it right.
//!
//! A phrase is an English pattern and its counterpart. Slots of the English side: `{n}` takes a number, which is
//! written in the reader's style; `{p}` a part that is a text of its own; `{e}` a part that stays English, such as a
//! citation; `{u}` one word, such as a unit; `{}` anything, as it is, such as the name of a file. The other side fills them as [`crate::pattern::fill`] does.

use crate::binding::bound;
use crate::digits::{Style, rewritten};
use crate::pattern::{Piece, Slot, has_words, parts, slots};
use crate::text::Words;
use maud::{Markup, html};

/// How deep texts may stand inside texts.
const DEPTH: usize = 4;

/// Whose words a part is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tongue {
    /// The reader's, or nobody's.
    Own,
    /// English by its nature: a citation.
    Cited,
    /// English for want of a counterpart.
    Unknown,
}

/// A text in parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Said(Vec<(String, Tongue)>);

impl Said {
    fn one(text: &str, tongue: Tongue) -> Self {
        Self(vec![(text.to_owned(), tongue)])
    }

    fn is_known(&self) -> bool {
        self.0.iter().all(|p| p.1 != Tongue::Unknown)
    }

    fn push(&mut self, text: &str, tongue: Tongue) {
        match self.0.last_mut() {
            Some((last, t)) if *t == tongue => last.push_str(text),
            _ if text.is_empty() => {}
            _ => self.0.push((text.to_owned(), tongue)),
        }
    }

    /// This and another behind it.
    pub(crate) fn then(mut self, other: Self) -> Self {
        self.extend(other);
        self
    }

    fn extend(&mut self, other: Self) {
        for (text, tongue) in other.0 {
            self.push(&text, tongue);
        }
    }

    /// The same beginning with a capital, as a row or a sentence of a list does.
    pub(crate) fn capital(mut self) -> Self {
        if let Some((text, Tongue::Own)) = self.0.first_mut()
            && let Some(first) = text.get_mut(..1)
        {
            first.make_ascii_uppercase();
        }
        self
    }

    /// The text when no part of it is English for want of a counterpart.
    pub(crate) fn known(self) -> Option<String> {
        self.is_known().then(|| self.text())
    }

    /// The text without marks, for a terminal or a drawing.
    pub(crate) fn text(self) -> String {
        self.0.into_iter().map(|p| p.0).collect()
    }

    /// The text with its English parts marked.
    pub(crate) fn markup(&self) -> Markup {
        html! {
            @for (text, tongue) in &self.0 {
                @if *tongue == Tongue::Own { (bound(text)) } @else { span lang="en" { (bound(text)) } }
            }
        }
    }
}

/// A text of a result in the language of these words.
pub(crate) fn say(words: &Words, text: &str) -> Said {
    if words.phrases.is_empty() || text.is_empty() {
        return Said::one(text, Tongue::Own);
    }
    Speaker { words, style: Style { decimal: words.decimal, minus: '−', group: words.group } }
        .say(text, DEPTH)
}

/// A text in the reader's language already.
pub(crate) fn own(text: &str) -> Said {
    Said::one(text, Tongue::Own)
}

/// A part that stays English whatever the language, such as a citation.
pub(crate) fn cited(words: &Words, text: &str) -> Said {
    Said::one(text, if words.phrases.is_empty() { Tongue::Own } else { Tongue::Cited })
}

struct Speaker<'a> {
    words: &'a Words,
    style: Style,
}

impl Speaker<'_> {
    /// As sentences in a row, by one phrase or as an enumeration, whichever leaves nothing unknown; else as far as it
    /// goes.
    fn say(&self, text: &str, depth: usize) -> Said {
        let mut second = None;
        for way in [Self::sentences, Self::whole, Self::enumeration] {
            match way(self, text, depth) {
                Some(said) if said.is_known() => return said,
                Some(said) => second = second.or(Some(said)),
                None => {}
            }
        }
        second.unwrap_or_else(|| Said::one(text, Tongue::Unknown))
    }

    /// The whole text by one phrase; one that leaves nothing unknown goes before one that does.
    fn whole(&self, text: &str, depth: usize) -> Option<Said> {
        if text == "1" || parts(text, "{n}").is_some() {
            return Some(Said::one(&rewritten(text, self.style), Tongue::Own));
        }
        let mut second = None;
        for (english, other) in self.words.phrases.iter().flat_map(|p| p.iter()) {
            if !english.contains('{') {
                if text.eq_ignore_ascii_case(english) {
                    return Some(Said::one(other, Tongue::Own));
                }
                continue;
            }
            if depth == 0 {
                continue;
            }
            let Some(found) = parts(text, english) else { continue };
            let said = self.filled(other, &found, depth - 1);
            if said.is_known() {
                return Some(said);
            }
            if has_words(other) {
                second = second.or(Some(said));
            }
        }
        second
    }

    fn filled(&self, pattern: &str, found: &[(Slot, &str)], depth: usize) -> Said {
        let mut out = Said(Vec::new());
        slots(pattern, &mut |piece| match piece {
            Piece::Text(text) => out.push(text, Tongue::Own),
            Piece::Form(at, one, many) => {
                let single = found.get(at).is_some_and(|f| f.1 == "1");
                out.push(if single { one } else { many }, Tongue::Own);
            }
            Piece::Value(at) => match found.get(at) {
                Some((Slot::Number, text)) => out.push(&rewritten(text, self.style), Tongue::Own),
                Some((Slot::Part, text)) => out.extend(self.say(text, depth)),
                Some((Slot::English, text)) => out.push(text, Tongue::Cited),
                Some((Slot::Any | Slot::Word, text)) => out.push(text, Tongue::Own),
                None => {}
            },
        });
        out
    }

    /// Sentences in a row, each by itself; one may hold the separator too.
    fn sentences(&self, text: &str, depth: usize) -> Option<Said> {
        self.listed(text, "; ", depth)
    }

    /// Parts of one sentence between commas, only where every part is known.
    fn enumeration(&self, text: &str, depth: usize) -> Option<Said> {
        let (body, stop) = text.strip_suffix('.').map_or((text, ""), |t| (t, "."));
        let mut said = self.listed(body, ", ", depth).filter(Said::is_known)?;
        said.push(stop, Tongue::Own);
        Some(said)
    }

    /// `None` where no part is known.
    fn listed(&self, text: &str, separator: &str, depth: usize) -> Option<Said> {
        let list: Vec<&str> = text.split(separator).collect();
        if list.len() < 2 || list.len() > 32 || depth == 0 {
            return None;
        }
        let mut out = Said(Vec::new());
        let mut any = false;
        let mut at = 0;
        while let Some(alone) = list.get(at) {
            if at > 0 {
                out.push(separator, Tongue::Own);
            }
            let shortest = (at + 1..=list.len()).find_map(|end| {
                let said = self.whole(&list.get(at..end)?.join(separator), depth - 1)?;
                said.is_known().then_some((said, end))
            });
            any |= shortest.is_some();
            let (said, end) = shortest.unwrap_or_else(|| (Said::one(alone, Tongue::Unknown), at + 1));
            out.extend(said);
            at = end;
        }
        any.then_some(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Language;

    #[test]
    fn a_remark_of_several_pulls_is_known() {
        for text in [
            "outside the standard's range: intake air temperature is 36.5 to 38.25 °C, outside 15 to 35 °C (ISO 1585:1992, 6.1); quote it only with the test conditions",
            "a.csv, b.csv: outside the standard's range: correction is 1.0811 to 1.0904, outside 0.93 to 1.07 (ISO 1585:1992, 5; from memory, believed right); quote it only with the test conditions",
            "a.csv: the rig takes no power in at 5250 to 5500 1/min; what it reads there is left out",
            "factor 1 by ambient compensation (80/1269/EEC); the formula alone would claim 1.0812 to 1.0904",
            "the gain at 1000 to 1250 1/min is left out: next to no power was measured there, and it is not known to within a factor of twenty",
            "the recorded intake temperature is +2.1 to +4.0 K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system",
            "a.csv, b.csv: the recorded intake temperature is +2.1 to +4.0 K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system",
            "a.csv, b.csv: no coast-down of its own (none follows the pull); the mean drag of the other pulls is used",
        ] {
            let said = say(Language::German.words(), text).known();
            assert!(said.as_ref().is_some_and(|s| !s.contains("outside") && !s.contains("the ")), "{said:?}");
        }
    }

    #[test]
    fn what_is_not_known_stays_and_is_marked() {
        let words = Language::German.words();
        let said = say(words, "a text that no table has; none follows the pull");
        let page = said.markup().into_string();
        assert_eq!(page, "<span lang=\"en\">a text that no table has</span>; dem Lauf folgt keiner");
        assert_eq!(Language::German.say("a text that no table has"), None);
        assert_eq!(
            Language::English.say("a text that no table has").as_deref(),
            Some("a text that no table has")
        );
    }
}
