//! Marks, levels and the texts beside them.

use crate::draw::{BOLD, Plot};
use crate::escape::xml;
use crate::label::{Box2, Placer, spread, width_of, wrap};
use crate::svg::{Chart, Mark, Rule, Series, slot};
use std::fmt::Write as _;

fn shape(n: usize, x: f64, y: f64) -> String {
    match n % 3 {
        0 => format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"5\""),
        1 => format!("<path d=\"M{:.1} {:.1}h9v9h-9Z\"", x - 4.5, y - 4.5),
        _ => format!("<path d=\"M{x:.1} {:.1}l5.5 10h-11Z\"", y - 6.5),
    }
}

pub(crate) fn shapes(out: &mut String, p: &Plot, s: &Series, placer: &mut Placer) {
    let (n, look) = slot(s.slot);
    for m in &s.marks {
        let Some((x, y)) = p.point(m.x, m.y) else { continue };
        let _ = write!(
            out,
            "{} class=\"fp-f{n} fp-halo\" fill=\"{}\" stroke=\"#fff\" stroke-width=\"1.5\"/>",
            shape(n, x, y),
            look.colour
        );
        placer.keep_clear(x, y);
    }
}

pub(crate) fn mark_text(
    out: &mut String,
    p: &Plot,
    number: usize,
    m: &Mark,
    t: f64,
    placer: &mut Placer,
    below: bool,
) {
    let (n, look) = slot(number);
    if let Some((x, y)) = p.point(m.x, m.y) {
        let spot = placer.place(x, y, width_of(&m.text, t), t, below);
        label(out, &format!("fp-f{n}"), look.colour, spot, t, &m.text);
    }
}

pub(crate) fn rule(out: &mut String, p: &Plot, r: &Rule, t: f64, placer: &mut Placer) {
    let (from, to) = r.over.unwrap_or(p.x);
    if let (Some((x1, y)), Some((x2, _))) = (p.point(from, r.y), p.point(to, r.y)) {
        let thick = if r.over.is_some() { 1.6 } else { 1.2 };
        let _ = write!(
            out,
            "<line class=\"fp-rule\" x1=\"{x1:.1}\" x2=\"{x2:.1}\" y1=\"{y:.1}\" y2=\"{y:.1}\" stroke=\"#1a222b\" \
             stroke-width=\"{thick}\"/>"
        );
        if r.over.is_some() {
            let _ = write!(
                out,
                "<path class=\"fp-rule\" d=\"M{x1:.1} {a:.1}v10M{x2:.1} {a:.1}v10\" stroke=\"#1a222b\" stroke-width=\"1.6\"/>",
                a = y - 5.0
            );
        }
        if !r.text.is_empty() {
            let w = width_of(&r.text, t);
            let spot = placer.place(x1 + w / 2.0 + 4.0, y, w, t, false);
            label(out, "fp-ink", "#1a222b", spot, t, &r.text);
        }
    }
}

fn label(out: &mut String, class: &str, colour: &str, spot: Box2, t: f64, text: &str) {
    // The halo is a text of its own beneath: a stroke painted around the glyphs themselves would cover them
    // wherever `paint-order` is not known.
    for halo in [true, false] {
        let dress = if halo {
            "class=\"fp-halo\" fill=\"none\" stroke=\"#fff\" stroke-width=\"4\" stroke-linejoin=\"round\" \
             aria-hidden=\"true\""
                .to_owned()
        } else {
            format!("class=\"{class}\" fill=\"{colour}\"")
        };
        let _ = write!(
            out,
            "<text {dress} x=\"{:.1}\" y=\"{:.1}\" font-size=\"{t}\">{}</text>",
            spot.left,
            spot.bottom - t * 0.25,
            xml(text)
        );
    }
}

/// Look, last point, name in lines.
pub(crate) type EndName = (usize, (f64, f64), Vec<String>);

/// Series with a line and a name: the look, the last point, the name in lines short enough for the margin.
pub(crate) fn end_names(c: &Chart) -> Vec<EndName> {
    let room = ((c.size.0 * if c.size.0 < 500.0 { 0.25 } else { 0.19 }) / (c.text_px * 0.58 * BOLD)) as usize;
    let named = c.series.iter().filter(|s| !s.name.is_empty());
    named
        .filter_map(|s| {
            let last = s.line.iter().rev().find(|p| p.0.is_finite() && p.1.is_finite())?;
            Some((s.slot, *last, wrap(&s.name, room.max(6), 3)))
        })
        .collect()
}

pub(crate) fn end_labels(out: &mut String, p: &Plot, names: &[EndName], t: f64) {
    let line_height = t * 1.15;
    let wanted: Vec<(f64, f64)> =
        names.iter().map(|(_, at, l)| (p.py(at.1), line_height * l.len() as f64 + 4.0)).collect();
    for ((number, at, lines), centre) in names.iter().zip(spread(&wanted, p.top, p.bottom)) {
        let (n, look) = slot(*number);
        let (x, y) = (p.px(at.0), p.py(at.1));
        let text_x = p.right + 14.0;
        let _ = write!(
            out,
            "<path class=\"fp-c{n}\" d=\"M{:.1} {y:.1}L{:.1} {centre:.1}\" fill=\"none\" stroke=\"{}\" stroke-width=\"0.8\"/>",
            x + 2.0,
            text_x - 3.0,
            look.colour
        );
        let first = centre - line_height * (lines.len() as f64 - 1.0) / 2.0 + t * 0.35;
        let _ = write!(
            out,
            "<text class=\"fp-f{n}\" font-size=\"{t}\" font-weight=\"600\" fill=\"{}\">",
            look.colour
        );
        for (i, l) in lines.iter().enumerate() {
            let y = first + line_height * i as f64;
            let _ = write!(out, "<tspan x=\"{text_x:.1}\" y=\"{y:.1}\">{}</tspan>", xml(l));
        }
        out.push_str("</text>");
    }
}
