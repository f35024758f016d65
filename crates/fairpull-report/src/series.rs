//! What a chart is made of: series, levels, axes.

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
