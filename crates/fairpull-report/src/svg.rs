//! Charts as SVG: lines with intervals, readable on screen, on paper, by ear and without colour.
//!
//! Presentation attributes carry the light look, so a file stands alone; a page that includes
//! [`STYLE`] restyles them by class, for dark mode too. Text stays text.

pub use crate::chart::Chart;
use crate::escape::xml;
pub use crate::series::{Axis, Mark, Rule, Series, Span};
use std::fmt::Write as _;

/// Look of one series: colour on white, dash pattern as the second cue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Colour, at least 4.5:1 against white.
    pub colour: &'static str,
    /// Dash pattern; empty for a solid line.
    pub dash: &'static str,
}

/// Looks in the order in which series take them; told apart by hue, lightness and dash.
pub const SLOTS: [Slot; 6] = [
    Slot { colour: "#005ea6", dash: "" },
    Slot { colour: "#b34700", dash: "10 4" },
    Slot { colour: "#00705a", dash: "2 4" },
    Slot { colour: "#7e3f8f", dash: "12 4 2 4" },
    Slot { colour: "#5b5b00", dash: "5 3" },
    Slot { colour: "#4a4f55", dash: "16 6" },
];

/// Rules for a page that holds charts; colours are custom properties of the page.
pub const STYLE: &str = include_str!("chart.css");

/// The look of the series with this number; looks repeat after the last.
#[must_use]
pub fn slot(number: usize) -> (usize, Slot) {
    let n = number % SLOTS.len();
    (n, SLOTS.get(n).copied().unwrap_or(Slot { colour: "#000", dash: "" }))
}

/// A short sample of a series' line, to stand beside its name in running text and tables.
#[must_use]
pub fn swatch(number: usize) -> String {
    let (n, look) = slot(number);
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg class=\"fp-swatch\" width=\"34\" height=\"8\" viewBox=\"0 0 34 8\" aria-hidden=\"true\" \
         focusable=\"false\"><line class=\"fp-c{n}\" x1=\"0\" y1=\"4\" x2=\"34\" y2=\"4\" stroke=\"{}\" \
         stroke-width=\"3\"{}/></svg>",
        look.colour,
        dash(look)
    );
    out
}

pub(crate) fn dash(look: Slot) -> String {
    if look.dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", look.dash) }
}

pub(crate) fn head(id: &str, title: &str, desc: &str, size: (f64, f64)) -> String {
    let id = xml(id);
    format!(
        "<svg class=\"fp-chart\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\" viewBox=\"0 0 {w} {h}\" \
         width=\"{w}\" height=\"{h}\" font-family=\"system-ui, sans-serif\" fill=\"#1a222b\">\
         <title id=\"{id}-t\">{}</title><desc id=\"{id}-d\">{}</desc>",
        xml(title),
        xml(desc),
        w = size.0,
        h = size.1
    )
}
