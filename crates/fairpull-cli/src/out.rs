//! Standard output that ends quietly when its reader does.

use std::io::{IsTerminal, Write};

use crate::fail::Fail;

/// Writes text and a line end.
pub fn line(text: &str) -> Result<(), Fail> {
    let mut all = text.as_bytes().to_vec();
    all.push(b'\n');
    bytes(&all)
}

/// Writes bytes.
pub fn bytes(all: &[u8]) -> Result<(), Fail> {
    let mut out = std::io::stdout().lock();
    out.write_all(all).and_then(|()| out.flush()).map_err(|e| match e.kind() {
        std::io::ErrorKind::BrokenPipe => Fail::Pipe,
        _ => Fail::plain(format!("standard output: {e}")),
    })
}

/// Writes a value as indented JSON.
pub fn json<T: serde::Serialize>(value: &T) -> Result<(), Fail> {
    let text = serde_json::to_string_pretty(value).map_err(|e| Fail::plain(format!("JSON: {e}")))?;
    line(&text)
}

/// True when standard output is a terminal that wants colour.
pub fn colour() -> bool {
    std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// Text with its styles where standard output shows them.
pub fn styled(text: &clap::builder::StyledStr) -> String {
    if colour() { text.ansi().to_string() } else { text.to_string() }
}
