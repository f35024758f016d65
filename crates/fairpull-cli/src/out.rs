//! The one way to standard output and standard error. What people read is cleaned here: text of a file or an argument
//! never commands a terminal. Data (JSON, scripts) goes out as it is.

use std::io::{IsTerminal, Write};
use std::path::Path;

use fairpull::report::escape::{clean, clean_line};

use crate::fail::Fail;

/// Writes text, cleaned.
pub fn text(text: &str) -> Result<(), Fail> {
    data(clean(text).as_bytes())
}

/// Writes text, cleaned, and a line end.
pub fn line(text: &str) -> Result<(), Fail> {
    data_line(&clean(text))
}

/// Writes text that has styles of its own where standard output shows them.
pub fn styled(render: impl Fn(bool) -> String) -> Result<(), Fail> {
    data(shown(colour(), render).as_bytes())
}

/// Writes a value as indented JSON.
pub fn json<T: serde::Serialize>(value: &T) -> Result<(), Fail> {
    let text = serde_json::to_string_pretty(value).map_err(|e| Fail::plain(format!("JSON: {e}")))?;
    data_line(&text)
}

/// Writes data for another program as it is, and a line end.
pub fn data_line(text: &str) -> Result<(), Fail> {
    let mut all = text.as_bytes().to_vec();
    all.push(b'\n');
    data(&all)
}

/// Writes data for another program as it is.
pub fn data(all: &[u8]) -> Result<(), Fail> {
    let mut out = std::io::stdout().lock();
    out.write_all(all).and_then(|()| out.flush()).map_err(|e| match e.kind() {
        std::io::ErrorKind::BrokenPipe => Fail::Pipe,
        _ => Fail::plain(format!("standard output: {e}")),
    })
}

/// Writes text and a line end to standard error, cleaned.
pub fn told(text: &str) {
    // nothing is left to do when standard error is closed
    let _ = writeln!(std::io::stderr().lock(), "{}", clean(text));
}

/// As `told`, for text that has styles of its own where standard error shows them.
pub fn told_styled(render: impl Fn(bool) -> String) {
    let colour = std::io::stderr().is_terminal() && wanted();
    let _ = writeln!(std::io::stderr().lock(), "{}", shown(colour, render).trim_end_matches('\n'));
}

/// A path or a name from outside, as one line of a message.
pub fn name(path: &Path) -> String {
    clean_line(&path.display().to_string())
}

/// True when standard output is a terminal that wants colour.
fn colour() -> bool {
    std::io::stdout().is_terminal() && wanted()
}

fn wanted() -> bool {
    std::env::var_os("NO_COLOR").is_none()
}

/// Styles only around text in which nothing has to be cleaned: what is left of controls is then our own.
fn shown(colour: bool, render: impl Fn(bool) -> String) -> String {
    let plain = render(false);
    let safe = clean(&plain);
    if colour && safe == plain { render(true) } else { safe }
}

#[cfg(test)]
mod tests {
    use super::shown;

    #[test]
    fn only_own_styles_reach_a_terminal() {
        let of = |name: &'static str| {
            move |colour: bool| if colour { format!("\u{1b}[1m{name}\u{1b}[0m") } else { name.to_owned() }
        };
        assert_eq!(shown(true, of("demo")), "\u{1b}[1mdemo\u{1b}[0m");
        assert_eq!(shown(false, of("demo")), "demo");
        assert_eq!(shown(true, of("de\u{1b}[31mmo\u{7}")), "de\u{fffd}[31mmo\u{fffd}");
    }
}
