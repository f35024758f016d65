//! A chart in the making, and how far its axes reach.

use crate::digits::Style;
use crate::series::{Axis, Rule, Series};
use crate::ticks::{Ticks, nice};

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
    pub(crate) style: Style,
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
            style: Style { decimal: '.', minus: '−', group: None },
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
    /// Writing of the tick labels.
    #[must_use]
    pub fn style(mut self, style: Style) -> Self {
        self.style = style;
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
