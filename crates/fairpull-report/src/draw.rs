//! Drawing of a chart: where things go and in which order.

use crate::digits::number;
use crate::draw_text::{end_labels, end_names, mark_text, rule, shapes};
use crate::escape::xml;
use crate::label::{Placer, width_of};
use crate::svg::{Chart, Mark, Series, Span, dash, head, slot};
use crate::ticks::Ticks;
use std::fmt::Write as _;

/// How much wider bold type is.
pub(crate) const BOLD: f64 = 1.12;

/// Inner rectangle and the two scales.
pub(crate) struct Plot {
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
    pub(crate) x: (f64, f64),
    pub(crate) y: (f64, f64),
}

impl Plot {
    pub(crate) fn px(&self, x: f64) -> f64 {
        self.left + (x - self.x.0) / (self.x.1 - self.x.0) * (self.right - self.left)
    }
    pub(crate) fn py(&self, y: f64) -> f64 {
        self.bottom - (y - self.y.0) / (self.y.1 - self.y.0) * (self.bottom - self.top)
    }
    pub(crate) fn point(&self, x: f64, y: f64) -> Option<(f64, f64)> {
        let (px, py) = (self.px(x), self.py(y));
        (px.is_finite() && py.is_finite()).then_some((px, py))
    }
}

/// The whole chart.
pub(crate) fn chart(c: &Chart) -> String {
    let (xt, yt) = (c.x_ticks(), c.y_ticks());
    let style = c.style;
    let y_labels: Vec<String> = yt.at.iter().map(|v| number(*v, yt.decimals, style)).collect();
    let t = c.text_px;
    let widest = y_labels.iter().map(|l| width_of(l, t)).fold(0.0, f64::max);
    let names = end_names(c);
    let right = names.iter().flat_map(|n| &n.2).map(|l| width_of(l, t)).fold(0.0, f64::max);
    let last = xt.at.last().map_or(0.0, |v| width_of(&number(*v, xt.decimals, style), t));
    let plot = Plot {
        left: widest + 12.0,
        right: c.size.0 - if right > 0.0 { right * BOLD + 16.0 } else { last / 2.0 + 2.0 },
        top: t * 2.2,
        bottom: c.size.1 - t * 3.2,
        x: (xt.low, xt.high),
        y: (yt.low, yt.high),
    };
    let mut out = head(&c.id, &c.title, &c.desc, c.size);
    axes(&mut out, c, &plot, &xt, &yt, &y_labels);
    for s in &c.series {
        area(&mut out, &plot, s);
    }
    let mut placer = Placer::new(plot.left, plot.right, plot.top - t * 0.3, plot.bottom);
    for s in &c.series {
        let edges = s.band.iter().flat_map(|b| [(b.x, b.low), (b.x, b.high)]);
        for p in s.line.iter().copied().chain(edges) {
            if let Some((x, y)) = plot.point(p.0, p.1) {
                placer.keep_clear(x, y);
            }
        }
    }
    for r in &c.rules {
        let (from, to) = r.over.unwrap_or(plot.x);
        for k in 0..=40 {
            if let Some((x, y)) = plot.point(from + (to - from) * f64::from(k) / 40.0, r.y) {
                placer.keep_clear(x, y);
            }
        }
    }
    for r in &c.rules {
        rule(&mut out, &plot, r, t, &mut placer);
    }
    for s in &c.series {
        edges(&mut out, &plot, s);
    }
    for s in &c.series {
        line(&mut out, &plot, s);
        shapes(&mut out, &plot, s, &mut placer);
    }
    // The highest mark takes its label first, which goes above it; lower ones then find room below.
    let mut texts: Vec<(usize, &Mark)> = Vec::new();
    for s in &c.series {
        for m in s.marks.iter().filter(|m| !m.text.is_empty()) {
            let place = texts.iter().position(|(_, other)| other.y.total_cmp(&m.y).is_lt());
            texts.insert(place.unwrap_or(texts.len()), (s.slot, m));
        }
    }
    for (rank, (number, m)) in texts.into_iter().enumerate() {
        mark_text(&mut out, &plot, number, m, t, &mut placer, rank > 0);
    }
    end_labels(&mut out, &plot, &names, t);
    out.push_str("</svg>");
    out
}

fn axes(out: &mut String, c: &Chart, p: &Plot, xt: &Ticks, yt: &Ticks, y_labels: &[String]) {
    let t = c.text_px;
    let style = c.style;
    for (v, label) in yt.at.iter().zip(y_labels) {
        let y = p.py(*v);
        let _ = write!(
            out,
            "<line class=\"fp-grid\" x1=\"{:.1}\" x2=\"{:.1}\" y1=\"{y:.1}\" y2=\"{y:.1}\" stroke=\"#dde2e7\"/>\
             <text class=\"fp-dim\" x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" font-size=\"{t}\" fill=\"#4d5964\">{}</text>",
            p.left,
            p.right,
            p.left - 8.0,
            y + t * 0.35,
            xml(label)
        );
    }
    for v in &xt.at {
        let x = p.px(*v);
        let _ = write!(
            out,
            "<line class=\"fp-axis\" x1=\"{x:.1}\" x2=\"{x:.1}\" y1=\"{:.1}\" y2=\"{:.1}\" stroke=\"#6b7782\"/>\
             <text class=\"fp-dim\" x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"middle\" font-size=\"{t}\" fill=\"#4d5964\">{}</text>",
            p.bottom,
            p.bottom + 6.0,
            p.bottom + 6.0 + t,
            xml(&number(*v, xt.decimals, style))
        );
    }
    let _ = write!(
        out,
        "<line class=\"fp-axis\" x1=\"{l:.1}\" x2=\"{r:.1}\" y1=\"{b:.1}\" y2=\"{b:.1}\" stroke=\"#6b7782\"/>\
         <text x=\"0\" y=\"{:.1}\" font-size=\"{t}\" font-weight=\"600\">{}</text>\
         <text x=\"{r:.1}\" y=\"{:.1}\" text-anchor=\"end\" font-size=\"{t}\" font-weight=\"600\">{}</text>",
        t,
        xml(&c.y.label),
        c.size.1 - t * 0.5,
        xml(&c.x.label),
        l = p.left,
        r = p.right,
        b = p.bottom
    );
}

fn runs(spans: &[Span]) -> Vec<Vec<Span>> {
    let mut all = vec![Vec::new()];
    for s in spans {
        if s.x.is_finite() && s.low.is_finite() && s.high.is_finite() {
            if let Some(run) = all.last_mut() {
                run.push(*s);
            }
        } else {
            all.push(Vec::new());
        }
    }
    all.retain(|run| run.len() > 1);
    all
}

fn path(p: &Plot, points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut d = String::new();
    let mut pen = 'M';
    for (x, y) in points {
        match p.point(x, y) {
            Some((x, y)) => {
                let _ = write!(d, "{pen}{x:.1} {y:.1}");
                pen = 'L';
            }
            None => pen = 'M',
        }
    }
    d
}

fn area(out: &mut String, p: &Plot, s: &Series) {
    let (n, look) = slot(s.slot);
    for run in runs(&s.interval) {
        let there = run.iter().map(|q| (q.x, q.high));
        let back = run.iter().rev().map(|q| (q.x, q.low));
        let _ = write!(
            out,
            "<path class=\"fp-f{n}\" d=\"{}Z\" fill=\"{}\" fill-opacity=\"0.24\"/>",
            path(p, there.chain(back)),
            look.colour
        );
    }
}

fn edges(out: &mut String, p: &Plot, s: &Series) {
    let (n, look) = slot(s.slot);
    for run in runs(&s.band) {
        for d in [path(p, run.iter().map(|q| (q.x, q.high))), path(p, run.iter().map(|q| (q.x, q.low)))] {
            let _ = write!(
                out,
                "<path class=\"fp-c{n}\" d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"0.9\"/>",
                look.colour
            );
        }
    }
    for b in &s.bars {
        if let (Some((x, top)), Some((_, foot))) = (p.point(b.x, b.high), p.point(b.x, b.low)) {
            let _ = write!(
                out,
                "<path class=\"fp-c{n}\" d=\"M{a:.1} {top:.1}H{z:.1}M{x:.1} {top:.1}V{foot:.1}M{a:.1} {foot:.1}H{z:.1}\" \
                 fill=\"none\" stroke=\"{}\" stroke-width=\"1.4\"/>",
                look.colour,
                a = x - 4.0,
                z = x + 4.0
            );
        }
    }
}

fn line(out: &mut String, p: &Plot, s: &Series) {
    let (n, look) = slot(s.slot);
    let d = path(p, s.line.iter().copied());
    if !d.is_empty() {
        let _ = write!(
            out,
            "<path class=\"fp-c{n}\" d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2.4\" \
             stroke-linejoin=\"round\"{}/>",
            look.colour,
            dash(look)
        );
    }
}
