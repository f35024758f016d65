//! A message that can be read: what came from outside is cut where nobody reads on, a number has the digits that tell
//! something. Results are not written here, only messages and the cells of tables.

/// Characters of a quoted text that are shown.
const QUOTED: usize = 60;
/// Characters of a word that are shown whole: a path may be long, and is wanted to the end.
const WORD: usize = 1000;
/// Digits and point of a number that nobody wrote by hand have more.
const DIGITS: usize = 15;

/// Text in quotes or backticks cut at 60 characters, numbers made short.
pub fn message(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(['"', '`']) {
        let (before, quoted) = rest.split_at(at);
        let Some(end) = closing(quoted) else { break };
        let (inside, after) = quoted.split_at(end);
        out += &numbers(before);
        out += &cut(inside, QUOTED + 1);
        let (quote, next) = after.split_at(1);
        out += quote;
        rest = next;
    }
    out += &numbers(rest);
    out
}

/// Bytes up to the closing quote, which is not escaped.
fn closing(quoted: &str) -> Option<usize> {
    let quote = quoted.chars().next()?;
    let mut escaped = false;
    quoted.char_indices().skip(1).find_map(|(i, c)| {
        let ends = c == quote && !escaped;
        escaped = c == '\\' && !escaped;
        ends.then_some(i)
    })
}

fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((i, _)) => format!("{}…", text.get(..i).unwrap_or(text)),
        None => text.to_owned(),
    }
}

/// Numbers made short, and words that no line can hold.
pub fn numbers(text: &str) -> String {
    if text.len() <= DIGITS {
        return text.to_owned();
    }
    text.split_inclusive(char::is_whitespace)
        .map(|word| {
            let ends = word.trim_end_matches(char::is_whitespace);
            let space = word.get(ends.len()..).unwrap_or("");
            format!("{}{space}", cut(&number_in(ends), WORD))
        })
        .collect()
}

/// A word that is a number with more digits than tell something; a sign of punctuation may follow it.
fn number_in(word: &str) -> String {
    let number = word.trim_end_matches([',', ';', ':', ')', '.']);
    let after = word.get(number.len()..).unwrap_or("");
    let (open, number) = number.strip_prefix('(').map_or(("", number), |n| ("(", n));
    let digits = number.strip_prefix(['-', '+', '±']).unwrap_or(number);
    let plain = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if digits.len() <= DIGITS || !plain {
        return word.to_owned();
    }
    match number.parse::<f64>() {
        Ok(x) => format!("{open}{}{after}", short(x)),
        Err(_) => word.to_owned(),
    }
}

/// At most twelve digits, in powers of ten where it would be long.
pub fn short(x: f64) -> String {
    let size = x.abs();
    let rounded: f64 = format!("{x:.11e}").parse().unwrap_or(x);
    if size == 0.0 || (1e-6..1e15).contains(&size) { format!("{rounded}") } else { format!("{rounded:e}") }
}

#[cfg(test)]
mod tests {
    use super::{message, numbers, short};

    #[test]
    fn what_is_long_is_cut_and_the_rest_stays() {
        let said = "figure \"400kW\": no column \"Rolls\" (did you mean \"Roller [km/h]\"?); 12.5 to 4294967296 bytes";
        assert_eq!(message(said), said);
        let long = "x".repeat(1_000_000);
        let shown =
            message(&format!("basis.standard: \"{long}\" is not in the catalogue; nearest: `{long}`"));
        let head = "x".repeat(60);
        assert_eq!(shown, format!("basis.standard: \"{head}…\" is not in the catalogue; nearest: `{head}…`"));
        assert_eq!(message(&format!("say {long}")).chars().count(), 4 + 1001);
        // an escaped quote does not end the text, an open one begins none
        let said = format!("\"a \\\" {head}{head}\" of 12\"");
        assert_eq!(message(&said), format!("\"a \\\" {}…\" of 12\"", "x".repeat(55)));
    }

    #[test]
    fn numbers_have_the_digits_that_tell_something() {
        assert_eq!(
            numbers("speed is 120.00000000000001 km/h; expected 0 to 120"),
            "speed is 120 km/h; expected 0 to 120"
        );
        assert_eq!(numbers("3999.9999999999995 1/min"), "4000 1/min");
        assert_eq!(numbers("390.06419396263931 ± 0.00000000000017"), "390.064193963 ± 1.7e-13");
        let huge = format!("{}", 1e308);
        assert_eq!(numbers(&format!("mass is {huge} kg, (-{huge}).")), "mass is 1e308 kg, (-1e308).");
        assert_eq!(numbers(&format!("value {}", 5e-324)), "value 5e-324");
        assert_eq!(
            numbers("a name like 1234567890123456789x stays"),
            "a name like 1234567890123456789x stays"
        );
        assert_eq!((short(0.0), short(-0.25), short(1e15)), ("0".into(), "-0.25".into(), "1e15".into()));
    }
}
