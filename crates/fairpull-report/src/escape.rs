//! Text from a file is data: it never becomes markup, a terminal command or a turn of reading direction.

/// A character that must not reach a page or a terminal: controls, and the marks that turn or hide text.
fn unfit(c: char) -> bool {
    matches!(c,
        '\u{0}'..='\u{8}' | '\u{b}'..='\u{1f}' | '\u{7f}'..='\u{9f}'
        | '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}'
        | '\u{feff}' | '\u{fffe}' | '\u{ffff}' | '\u{e0000}'..='\u{e007f}')
}

/// `text` with unfit characters replaced by U+FFFD; line feeds and tabs stay.
#[must_use]
pub fn clean(text: &str) -> String {
    text.replace(unfit, "\u{fffd}")
}

/// One line of cleaned text: line feeds and tabs become blanks.
#[must_use]
pub fn clean_line(text: &str) -> String {
    clean(text).replace(['\n', '\t'], " ")
}

/// `text` for XML: cleaned, with the five reserved characters written as entities.
#[must_use]
pub fn xml(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c if unfit(c) => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_and_controls_lose_their_power() {
        assert_eq!(xml("<a href='x'>&\"\0"), "&lt;a href=&#39;x&#39;&gt;&amp;&quot;\u{fffd}");
        assert_eq!(clean_line("red\u{1b}[31m\r\nnext\u{202e}"), "red\u{fffd}[31m\u{fffd} next\u{fffd}");
        assert_eq!(clean_line("a\u{2028}b\u{61c}c\u{e0041}"), "a\u{fffd}b\u{fffd}c\u{fffd}");
        assert_eq!(clean("Zündung 5 °C\n"), "Zündung 5 °C\n");
    }
}
