//! Small letters of Latin, Greek and Cyrillic: what column names are written in. Letters of other scripts stay as they
//! are. The tables of the standard library cover every script there is, which is 20 kB of every browser module.

/// The small form of a letter.
pub(crate) const fn small(c: char) -> char {
    let code = c as u32;
    let shift = match c {
        'A'..='Z' | 'À'..='Ö' | 'Ø'..='Þ' | 'Α'..='Ρ' | 'Σ'..='Ϋ' | 'А'..='Я' => 32,
        'Ѐ'..='Џ' => 80,
        'Ā'..='Į' | 'Ĳ'..='Ķ' | 'Ŋ'..='Ŷ' | 'Ѡ'..='Ҁ' | 'Ḁ'..='Ẕ' | 'Ạ'..='Ỿ' => 1 - code % 2,
        'Ĺ'..='Ň' | 'Ź'..='Ž' => code % 2,
        'Ÿ' => return 'ÿ',
        'ẞ' => return 'ß',
        '\u{2126}' => return 'ω', // the ohm sign
        '\u{212a}' => return 'k', // the kelvin sign
        '\u{212b}' => return 'å', // the angstrom sign
        _ => 0,
    };
    match char::from_u32(code + shift) {
        Some(small) => small,
        None => c,
    }
}

/// A text in small letters.
pub(crate) fn lower(text: &str) -> String {
    text.chars().map(small).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The outside: the Unicode tables of the standard library.
    #[test]
    fn letters_agree_with_unicode() {
        let blocks =
            [0_u32..0x180, 0x391..0x3cb, 0x400..0x482, 0x1e00..0x1e96, 0x1ea0..0x1eff, 0x2126..0x212c];
        // `İ` becomes two characters there, and no column is called by it
        for c in blocks.into_iter().flatten().filter_map(char::from_u32).filter(|c| *c != 'İ') {
            assert_eq!(String::from(small(c)), c.to_lowercase().to_string(), "{c} {:x}", u32::from(c));
        }
        assert_eq!(lower("ÖLDRUCK ΔT [Ω]"), "öldruck δt [ω]");
        assert_eq!(lower("温度"), "温度");
    }
}
