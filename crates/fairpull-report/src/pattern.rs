//! Patterns of sentences: what they take of a text, and how they are filled.

/// Fills the slots of a pattern: `{}` in turn, `{2}` by its place, `{2:one|many}` with the first form where that
/// value is 1 and the second elsewhere.
pub(crate) fn fill(pattern: &str, values: &[&str]) -> String {
    let mut out = String::new();
    slots(pattern, &mut |piece| match piece {
        Piece::Text(text) => out.push_str(text),
        Piece::Value(at) => out.push_str(values.get(at).copied().unwrap_or_default()),
        Piece::Form(at, one, many) => out.push_str(if values.get(at) == Some(&"1") { one } else { many }),
    });
    out
}

/// A piece of a pattern.
pub(crate) enum Piece<'a> {
    /// Text as it stands.
    Text(&'a str),
    /// A value by its place, from 0.
    Value(usize),
    /// One of two forms by a value.
    Form(usize, &'a str, &'a str),
}

/// Walks through the pieces of a pattern.
pub(crate) fn slots<'a>(pattern: &'a str, each: &mut dyn FnMut(Piece<'a>)) {
    let mut turn = 0;
    let mut rest = pattern;
    while let Some((before, (slot, after))) =
        rest.split_once('{').and_then(|(b, r)| Some((b, r.split_once('}')?)))
    {
        each(Piece::Text(before));
        let (place, forms) = slot.split_once(':').unwrap_or((slot, ""));
        let at = place.parse::<usize>().map_or(turn, |n| n.saturating_sub(1));
        match forms.split_once('|') {
            Some((one, many)) => each(Piece::Form(at, one, many)),
            None => each(Piece::Value(at)),
        }
        turn += usize::from(place.is_empty());
        rest = after;
    }
    each(Piece::Text(rest));
}

/// True for a pattern that says something by itself.
pub(crate) fn has_words(pattern: &str) -> bool {
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

pub(crate) fn takes(slot: Slot, text: &str) -> bool {
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

    #[test]
    fn slots_are_filled_in_turn_and_never_read_again() {
        assert_eq!(fill("{} of {}", &["{}", "two"]), "{} of two");
        assert_eq!(fill("{}, {}", &["one"]), "one, ");
        assert_eq!(fill("{2} vor {1}", &["eins", "zwei"]), "zwei vor eins");
    }

    #[test]
    fn forms_follow_their_number() {
        let pattern = "{} {1:Lauf|Läufe}";
        assert_eq!(fill(pattern, &["1"]), "1 Lauf");
        assert_eq!(fill(pattern, &["4"]), "4 Läufe");
        assert_eq!(fill("brace { alone", &[]), "brace { alone");
    }

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
}
