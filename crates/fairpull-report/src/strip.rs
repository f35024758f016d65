//! Small strips that show an interval against zero: the eye sees what "detectable" means.

use crate::digits::{Style, number};
use crate::escape::xml;
use crate::label::width_of;
use crate::model::Interval;
use crate::svg::{head, slot};
use crate::ticks::nice;
use std::fmt::Write as _;

/// A strip for a table cell: zero in the middle, the interval as a bar, the value as a stroke. The numbers stand
/// beside it, so it is hidden from assistive tools.
#[must_use]
pub fn cell(i: Interval, number: usize) -> String {
    let (w, h) = (150.0, 16.0);
    let reach = i.lo95.abs().max(i.hi95.abs()).max(f64::MIN_POSITIVE);
    let (n, look) = slot(number);
    if !(i.value.is_finite() && reach.is_finite()) {
        return String::new();
    }
    let px = |v: f64| w / 2.0 + v / reach * (w / 2.0 - 4.0);
    let (a, b, v) = (px(i.lo95), px(i.hi95), px(i.value));
    format!(
        "<svg class=\"fp-strip\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\" aria-hidden=\"true\" \
         focusable=\"false\"><path class=\"fp-axis\" d=\"M0 8H{w}\" stroke=\"#6b7782\" stroke-width=\"0.8\"/>\
         <path class=\"fp-rule\" d=\"M75 0V16\" stroke=\"#1a222b\" stroke-width=\"1.4\"/>\
         <rect class=\"fp-f{n}\" x=\"{a:.1}\" y=\"5\" width=\"{:.1}\" height=\"6\" fill=\"{c}\" fill-opacity=\"0.55\"/>\
         <path class=\"fp-c{n}\" d=\"M{v:.1} 2V14\" stroke=\"{c}\" stroke-width=\"2.4\"/></svg>",
        (b - a).max(1.0),
        c = look.colour
    )
}

/// A share of a whole, 0 to 100, as a bar for a table cell.
#[must_use]
pub fn share(percent: f64) -> String {
    let long = if percent.is_finite() { percent.clamp(0.0, 100.0) } else { 0.0 };
    format!(
        "<svg class=\"fp-strip\" width=\"80\" height=\"16\" viewBox=\"0 0 80 16\" aria-hidden=\"true\" focusable=\"false\">\
         <path class=\"fp-axis\" d=\"M0 13.5H80\" stroke=\"#6b7782\" stroke-width=\"0.8\"/>\
         <rect class=\"fp-f5\" x=\"0\" y=\"3\" width=\"{:.1}\" height=\"10\" fill=\"#4a4f55\"/></svg>",
        long * 0.8
    )
}

/// A change in percent on a ruler: zero, the interval, and on either side of zero the smallest change the
/// measurement would have found.
#[derive(Clone, Debug, PartialEq)]
pub struct Ruler<'a> {
    /// Id, unique on the page.
    pub id: &'a str,
    /// Title for those who cannot see it.
    pub title: &'a str,
    /// Description for those who cannot see it.
    pub desc: &'a str,
    /// The change.
    pub change: Interval,
    /// Smallest detectable change.
    pub detectable: f64,
    /// Words beneath the hatched zone around zero.
    pub zone: &'a str,
    /// Width in CSS pixels.
    pub width: f64,
    /// Writing of numbers.
    pub style: Style,
}

impl Ruler<'_> {
    /// The SVG element.
    #[must_use]
    pub fn render(&self) -> String {
        let (w, h, t) = (self.width, 84.0, 14.0);
        let c = self.change;
        let zone = if self.detectable.is_finite() { self.detectable.abs() } else { 0.0 };
        let finite = |v: f64| if v.is_finite() { v } else { 0.0 };
        let low = finite(c.lo95).min(-zone);
        let high = finite(c.hi95).max(zone);
        let pad = (high - low) * 0.06;
        let ticks = nice(low - pad, high + pad, (w / 80.0) as usize);
        let px = |v: f64| 18.0 + (v - ticks.low) / (ticks.high - ticks.low) * (w - 38.0);
        let mut out = head(self.id, self.title, self.desc, (w, h));
        let base = 54.0;
        let _ = write!(
            out,
            "<rect class=\"fp-zone\" x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"22\" fill=\"#e6eaee\"/>",
            px(-zone),
            base - 22.0,
            (px(zone) - px(-zone)).max(0.0)
        );
        self.scale(&mut out, &ticks.at, ticks.decimals, base, &px);
        if let [lo, value, hi] = [c.lo95, c.value, c.hi95].map(px)
            && lo.is_finite()
            && value.is_finite()
            && hi.is_finite()
        {
            let _ = write!(
                out,
                "<rect class=\"fp-f0\" x=\"{lo:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"10\" fill=\"#005ea6\" \
                 fill-opacity=\"0.6\"/><path class=\"fp-c0\" d=\"M{value:.1} {:.1}v22\" stroke=\"#005ea6\" stroke-width=\"4\"/>",
                base - 16.0,
                (hi - lo).max(1.0),
                base - 22.0
            );
        }
        let half = width_of(self.zone, t) / 2.0;
        let middle = px(0.0).min(w - half).max(half);
        let _ = write!(
            out,
            "<text class=\"fp-dim\" x=\"{middle:.1}\" y=\"{:.1}\" text-anchor=\"middle\" font-size=\"{t}\" fill=\"#4d5964\">{}</text></svg>",
            base - 30.0,
            xml(self.zone)
        );
        out
    }

    fn scale(&self, out: &mut String, at: &[f64], decimals: i32, base: f64, px: &dyn Fn(f64) -> f64) {
        let _ = write!(
            out,
            "<path class=\"fp-axis\" d=\"M0 {base}H{}\" stroke=\"#6b7782\"/><path class=\"fp-rule\" d=\"M{z:.1} {:.1}V{:.1}\" \
             stroke=\"#1a222b\" stroke-width=\"2\"/>",
            self.width,
            base - 26.0,
            base + 8.0,
            z = px(0.0)
        );
        for pair in at.windows(2) {
            let (Some(a), Some(b)) = (pair.first(), pair.last()) else { continue };
            for k in 1..10 {
                let x = px(a + (b - a) * f64::from(k) / 10.0);
                let deep = if k == 5 { 6.0 } else { 3.5 };
                let _ = write!(
                    out,
                    "<path class=\"fp-axis\" d=\"M{x:.1} {base}v{deep}\" stroke=\"#6b7782\" stroke-width=\"0.7\"/>"
                );
            }
        }
        for v in at {
            let unit = if at.last() == Some(v) { " %" } else { "" };
            let text = format!("{}{unit}", number(*v, decimals, self.style));
            let x = px(*v);
            let _ = write!(
                out,
                "<path class=\"fp-axis\" d=\"M{x:.1} {base}v9\" stroke=\"#6b7782\"/><text x=\"{x:.1}\" y=\"{:.1}\" \
                 text-anchor=\"middle\" font-size=\"14\">{text}</text>",
                base + 25.0
            );
        }
    }
}
