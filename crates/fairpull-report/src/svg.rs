//! Charts as SVG: lines with intervals, readable on screen, on paper, by ear and without colour.
//!
//! Presentation attributes carry the light look, so a file stands alone; a page that includes
//! [`STYLE`] restyles them by class, for dark mode too. Text stays text.

use crate::escape::xml;
use crate::ticks::{Ticks, nice};
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

/// A value over x with an interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Position on the x axis.
    pub x: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// A named mark on a series.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Position on the x axis.
    pub x: f64,
    /// Position on the y axis.
    pub y: f64,
    /// Text beside the mark; empty for none.
    pub text: String,
}

/// One series: a line, what is uncertain about it, marks.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Series {
    pub(crate) name: String,
    pub(crate) slot: usize,
    pub(crate) line: Vec<(f64, f64)>,
    pub(crate) interval: Vec<Span>,
    pub(crate) band: Vec<Span>,
    pub(crate) bars: Vec<Span>,
    pub(crate) marks: Vec<Mark>,
}

impl Series {
    /// A series with its name, written beside the line, and the number of its look.
    #[must_use]
    pub fn new(name: &str, slot: usize) -> Self {
        Self { name: name.to_owned(), slot, ..Self::default() }
    }
    /// Points of the line; a point that is not finite breaks it.
    #[must_use]
    pub fn line(mut self, points: impl IntoIterator<Item = (f64, f64)>) -> Self {
        self.line = points.into_iter().collect();
        self
    }
    /// Interval at each x by itself: filled.
    #[must_use]
    pub fn interval(mut self, spans: impl IntoIterator<Item = Span>) -> Self {
        self.interval = spans.into_iter().collect();
        self
    }
    /// Band that holds for the whole curve at once: two hairlines.
    #[must_use]
    pub fn band(mut self, spans: impl IntoIterator<Item = Span>) -> Self {
        self.band = spans.into_iter().collect();
        self
    }
    /// Upright bars with end strokes at single points.
    #[must_use]
    pub fn bars(mut self, spans: impl IntoIterator<Item = Span>) -> Self {
        self.bars = spans.into_iter().collect();
        self
    }
    /// A mark, shaped by the look of the series.
    #[must_use]
    pub fn mark(mut self, x: f64, y: f64, text: &str) -> Self {
        self.marks.push(Mark { x, y, text: text.to_owned() });
        self
    }
}

/// A level drawn over a stretch of x or, without one, over the whole width.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    pub(crate) y: f64,
    pub(crate) over: Option<(f64, f64)>,
    pub(crate) text: String,
}

/// What an axis shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Axis {
    pub(crate) label: String,
    pub(crate) range: Option<(f64, f64)>,
    pub(crate) zero: bool,
}

impl Axis {
    /// An axis with its label, unit included; its range follows the data.
    #[must_use]
    pub fn new(label: &str) -> Self {
        Self { label: label.to_owned(), ..Self::default() }
    }
    /// Range that the axis must cover at least.
    #[must_use]
    pub fn covering(mut self, low: f64, high: f64) -> Self {
        self.range = Some((low, high));
        self
    }
    /// Zero belongs on the axis.
    #[must_use]
    pub fn with_zero(mut self) -> Self {
        self.zero = true;
        self
    }
}

/// A chart. Nothing is drawn until [`Chart::render`].
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    pub(crate) id: String,
    pub(crate) title: String,
    pub(crate) desc: String,
    pub(crate) size: (f64, f64),
    pub(crate) text_px: f64,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) whole_x: bool,
    pub(crate) decimal: char,
    pub(crate) series: Vec<Series>,
    pub(crate) rules: Vec<Rule>,
}

impl Chart {
    /// A chart with an id unique on its page, a title and a description for those who cannot see it.
    #[must_use]
    pub fn new(id: &str, title: &str, desc: &str) -> Self {
        Self {
            id: id.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-').collect(),
            title: title.to_owned(),
            desc: desc.to_owned(),
            size: (880.0, 460.0),
            text_px: 14.0,
            x: Axis::default(),
            y: Axis::default(),
            whole_x: false,
            decimal: '.',
            series: Vec::new(),
            rules: Vec::new(),
        }
    }
    /// Width and height in CSS pixels; at least 160 by 120.
    #[must_use]
    pub fn size(mut self, width: f64, height: f64) -> Self {
        let tame = |v: f64, least: f64| if v.is_finite() { v.clamp(least, 10_000.0) } else { least };
        self.size = (tame(width, 160.0), tame(height, 120.0));
        self
    }
    /// Size of all text in CSS pixels, 6 to 60.
    #[must_use]
    pub fn text(mut self, px: f64) -> Self {
        self.text_px = if px.is_finite() { px.clamp(6.0, 60.0) } else { 14.0 };
        self
    }
    /// The x axis.
    #[must_use]
    pub fn x(mut self, axis: Axis) -> Self {
        self.x = axis;
        self
    }
    /// The y axis.
    #[must_use]
    pub fn y(mut self, axis: Axis) -> Self {
        self.y = axis;
        self
    }
    /// x counts things: marks at whole numbers only.
    #[must_use]
    pub fn counting_x(mut self) -> Self {
        self.whole_x = true;
        self
    }
    /// Decimal mark of the tick labels.
    #[must_use]
    pub fn decimal(mut self, mark: char) -> Self {
        self.decimal = mark;
        self
    }
    /// One more series.
    #[must_use]
    pub fn series(mut self, series: Series) -> Self {
        self.series.push(series);
        self
    }
    /// A level over the whole width.
    #[must_use]
    pub fn rule(mut self, y: f64, text: &str) -> Self {
        self.rules.push(Rule { y, over: None, text: text.to_owned() });
        self
    }
    /// A level over a stretch of x.
    #[must_use]
    pub fn rule_over(mut self, y: f64, from: f64, to: f64, text: &str) -> Self {
        self.rules.push(Rule { y, over: Some((from, to)), text: text.to_owned() });
        self
    }
    /// True when the y axis begins elsewhere than at zero, which a caption should say.
    #[must_use]
    pub fn leaves_out_zero(&self) -> bool {
        let t = self.y_ticks();
        t.low > 0.0 || t.high < 0.0
    }
    /// The SVG element.
    #[must_use]
    pub fn render(&self) -> String {
        crate::draw::chart(self)
    }
    /// A document of its own, to be saved as a file.
    #[must_use]
    pub fn document(&self) -> String {
        let body = self.render();
        let rest = body.strip_prefix("<svg").unwrap_or(&body);
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"{rest}\n"
        )
    }

    pub(crate) fn x_ticks(&self) -> Ticks {
        let wanted = (self.size.0 / 80.0) as usize;
        let mut ticks = nice_for(&self.x, self.xs(), wanted.clamp(2, 12), 0.0);
        if self.whole_x {
            let (low, high) = bounds(self.xs());
            let low = libm::floor(low) - 0.5;
            let high = libm::ceil(high).min(low + 200.0) + 0.5;
            let count = (high - low).max(1.0) as usize;
            let stride = count.div_ceil(20);
            let at = (0..count).step_by(stride).map(|i| low + 0.5 + i as f64).collect();
            ticks = Ticks { low, high, decimals: 0, at };
        }
        ticks
    }

    pub(crate) fn y_ticks(&self) -> Ticks {
        nice_for(&self.y, self.ys(), (self.size.1 / 68.0) as usize, 0.04)
    }

    fn xs(&self) -> Vec<f64> {
        let series = self.series.iter().flat_map(|s| {
            let spans = s.interval.iter().chain(&s.band).chain(&s.bars).map(|p| p.x);
            s.line.iter().map(|p| p.0).chain(spans).chain(s.marks.iter().map(|m| m.x))
        });
        let rules = self.rules.iter().filter_map(|r| r.over).flat_map(|(a, b)| [a, b]);
        series.chain(rules).collect()
    }

    fn ys(&self) -> Vec<f64> {
        let series = self.series.iter().flat_map(|s| {
            let spans = s.interval.iter().chain(&s.band).chain(&s.bars).flat_map(|p| [p.low, p.high]);
            s.line.iter().map(|p| p.1).chain(spans).chain(s.marks.iter().map(|m| m.y))
        });
        series.chain(self.rules.iter().map(|r| r.y)).collect()
    }
}

fn bounds(values: impl IntoIterator<Item = f64>) -> (f64, f64) {
    let finite = values.into_iter().filter(|v| v.is_finite());
    let (low, high) = finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
    if low <= high { (low, high) } else { (0.0, 1.0) }
}

fn nice_for(axis: &Axis, mut values: Vec<f64>, want: usize, pad: f64) -> Ticks {
    values.extend(axis.range.into_iter().flat_map(|(a, b)| [a, b]));
    if axis.zero {
        values.push(0.0);
    }
    let (low, high) = bounds(values);
    let pad = (high - low) * pad;
    nice(low - pad, high + pad, want).trimmed(low - pad, high + pad)
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
