//! What was written, as a message shows it.

use core::fmt::{self, Display, Formatter, Write};

/// A longer text is shown up to here: nobody reads on, and a message of a megabyte hides what it says.
const MOST: usize = 60;

/// A text in double quotes, with what a reader could not see or would be misled by as its code: controls, characters
/// without width, turns of reading direction, combining marks that stand first; what is longer than 60 characters ends
/// in `…`. `Debug` does the same for every
/// character that Unicode calls unprintable; its tables weigh some kilobytes in a browser.
///
/// ```
/// let shown = format!("{}", fairpull_units::Quoted("5\u{202e}kW \"net\"\n"));
/// assert_eq!(shown, r#""5\u{202e}kW \"net\"\n""#);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Quoted<'a>(pub &'a str);

impl Display for Quoted<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_char('"')?;
        for (i, c) in self.0.chars().enumerate() {
            if i == MOST {
                f.write_char('…')?;
                break;
            }
            match c {
                '"' | '\\' => write!(f, "\\{c}")?,
                '\n' => f.write_str("\\n")?,
                '\r' => f.write_str("\\r")?,
                '\t' => f.write_str("\\t")?,
                '\0' => f.write_str("\\0")?,
                _ if unseen(c) || (i == 0 && combining(c)) => write!(f, "\\u{{{:x}}}", u32::from(c))?,
                _ => f.write_char(c)?,
            }
        }
        f.write_char('"')
    }
}

const fn unseen(c: char) -> bool {
    matches!(c,
        '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{a0}' | '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{2000}'..='\u{200f}'
        | '\u{2028}'..='\u{202f}' | '\u{205f}'..='\u{206f}' | '\u{3000}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        | '\u{fff0}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}' | '\u{e000}'..='\u{f8ff}' | '\u{e0000}'..='\u{10ffff}')
}

const fn combining(c: char) -> bool {
    matches!(c, '\u{300}'..='\u{36f}' | '\u{483}'..='\u{489}' | '\u{20d0}'..='\u{20f0}' | '\u{fe20}'..='\u{fe2f}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::format;
    use alloc::string::String;

    #[test]
    fn a_long_text_is_cut() {
        let long = "km/h ".repeat(200_000);
        let shown = format!("{}", Quoted(&long));
        assert_eq!(shown, format!("\"{}…\"", "km/h ".repeat(12)));
        let just = "x".repeat(60);
        assert_eq!(format!("{}", Quoted(&just)), format!("\"{just}\""));
    }

    /// The outside: `Debug` of the standard library, in the scripts that units and names are written in.
    #[test]
    fn shown_as_debug_shows_it() {
        let blocks = [
            0_u32..0x378,
            0x400..0x52f,
            0x2000..0x2065,
            0x20a0..0x20c0,
            0x2100..0x218c,
            0x2190..0x2300,
            0xfeff..0xff00,
        ];
        for c in blocks.into_iter().flatten().filter_map(char::from_u32) {
            let text = String::from(c);
            assert_eq!(format!("{}", Quoted(&text)), format!("{text:?}"), "{:x}", u32::from(c));
        }
        for text in ["530 PS", "5 kW \\ \"net\"", "Öltemp. µ ² °C", "温度", "a\u{301}"] {
            assert_eq!(format!("{}", Quoted(text)), format!("\"{}\"", text.escape_debug()));
        }
    }
}
