//! Texts of a result in the language of the page.
//!
//! A result is English wherever it is read. A language that has its counterpart of a text says it; what it does not
//! know stays English and is marked as English, so that a screen reader speaks it right.
//!
//! A phrase is an English pattern and its counterpart. Slots of the English side: `{n}` takes a number, which is
//! written in the reader's style; `{p}` a part that is a text of its own; `{e}` a part that stays English, such as a
//! citation; `{u}` one word, such as a unit; `{}` anything, as it is, such as the name of a file. The other side fills them as [`crate::text::fill`] does.

use crate::digits::{Style, rewritten};
use crate::text::{Piece, Words, slots};
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

/// Words that a number keeps on its line.
const UNITS: &str = " % kW PS hp kPa hPa bar mbar K °C ° s ms min h km/h m/s m/s² 1/min kg kg·m² N N·m Nm kN lbf·ft mm cm³ m ON OZ ";

/// `text` as print sets it: blanks that do not break between a number and its unit and around `±`, and true minus
/// signs.
pub(crate) fn bound(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        push_signed(&mut out, word);
        let Some(next) = words.peek() else { break };
        let core = next.split([',', ';', '(', ')']).next().unwrap_or_default().trim_end_matches('.');
        let unit = !core.is_empty() && UNITS.contains(&format!(" {core} "));
        let number = word.ends_with(|c: char| c.is_ascii_digit() || c == ')');
        let spread = word.ends_with('±') || next.starts_with('±');
        out.push(if (number && unit) || spread { '\u{a0}' } else { ' ' });
    }
    out
}

/// A word; a number's hyphen becomes a minus sign.
fn push_signed(out: &mut String, word: &str) {
    let (open, rest) = word.strip_prefix('(').map_or(("", word), |r| ("(", r));
    match rest.strip_prefix('-') {
        Some(digits) if takes(Slot::Number, digits.trim_end_matches([',', ';', ')', '.'])) => {
            out.push_str(open);
            out.push('−');
            out.push_str(digits);
        }
        _ => out.push_str(word),
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

/// True for a pattern that says something by itself.
fn has_words(pattern: &str) -> bool {
    let mut any = false;
    slots(pattern, &mut |piece| any |= matches!(piece, Piece::Text(t) if t.chars().any(char::is_alphabetic)));
    any
}

/// What a slot takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Slot {
    Any,
    Number,
    Word,
    Part,
    English,
}

/// What the slots of a pattern take of a text; `None` where it does not fit.
pub(crate) fn parts<'t>(text: &'t str, pattern: &str) -> Option<Vec<(Slot, &'t str)>> {
    let mut found = Vec::new();
    fit(text, pattern, &mut found).then_some(found)
}

fn fit<'t>(text: &'t str, pattern: &str, found: &mut Vec<(Slot, &'t str)>) -> bool {
    let Some((before, (slot, after))) =
        pattern.split_once('{').and_then(|(b, r)| Some((b, r.split_once('}')?)))
    else {
        return text == pattern;
    };
    let Some(rest) = text.strip_prefix(before) else { return false };
    let slot = match slot {
        "n" => Slot::Number,
        "u" => Slot::Word,
        "p" => Slot::Part,
        "e" => Slot::English,
        _ => Slot::Any,
    };
    let next = after.split('{').next().unwrap_or_default();
    if next.is_empty() {
        found.push((slot, rest));
        return after.is_empty() && takes(slot, rest);
    }
    for (at, _) in rest.match_indices(next) {
        let Some((taken, left)) = rest.split_at_checked(at) else { continue };
        if takes(slot, taken) {
            let before = found.len();
            found.push((slot, taken));
            if fit(left, after, found) {
                return true;
            }
            found.truncate(before);
        }
    }
    false
}

fn takes(slot: Slot, text: &str) -> bool {
    match slot {
        Slot::Any | Slot::Part | Slot::English => return !text.is_empty(),
        Slot::Word => return !text.is_empty() && !text.contains(char::is_whitespace),
        Slot::Number => {}
    }
    let digits = text.strip_prefix(['+', '-', '−']).unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    [whole, part].iter().all(|d| !d.is_empty() && d.bytes().all(|b| b.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Language;

    #[test]
    fn slots_take_what_they_are_for() {
        assert_eq!(
            parts("before-1.csv at 5600 1/min", "{} at {n} 1/min"),
            Some(vec![(Slot::Any, "before-1.csv"), (Slot::Number, "5600")])
        );
        assert_eq!(parts("a at b at 5", "{} at {n}"), Some(vec![(Slot::Any, "a at b"), (Slot::Number, "5")]));
        for (text, pattern) in
            [("x at y", "{} at {n}"), (" at 5", "{} at {n}"), ("1.", "{n}"), ("-", "{n}"), ("x 5", "y {n}")]
        {
            assert_eq!(parts(text, pattern), None, "{text} {pattern}");
        }
    }

    #[test]
    fn a_number_keeps_its_unit_its_spread_and_its_sign() {
        let cases = [
            ("138 bis 45 km/h in 55,7 s, 2787 Messwerte", "138 bis 45_km/h in 55,7_s, 2787 Messwerte"),
            ("(7,2 ± 0,4) % im Mittel", "(7,2_±_0,4)_% im Mittel"),
            ("at 25 °C. Next", "at 25_°C. Next"),
            ("state 1 before", "state 1 before"),
            ("by -0.20 % a pull (-0.32 to", "by −0.20_% a pull (−0.32 to"),
            ("before -1.csv, -", "before -1.csv, -"),
        ];
        for (text, kept) in cases {
            assert_eq!(bound(text), kept.replace('_', "\u{a0}"));
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
