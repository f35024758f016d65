//! Text as print sets it.

use crate::pattern::{Slot, takes};

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

#[cfg(test)]
mod tests {
    use super::*;

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
}
