//! Top of the page: what was found, and on which basis.

use crate::binding::bound;
use crate::digits::{decimals_for, interval, number};
use crate::model::Comparison;
use crate::page::{Page, in_unit, section};
use crate::pattern::fill;
use crate::strip::Ruler;
use maud::{Markup, PreEscaped, html};

pub(crate) fn header(p: &Page) -> Markup {
    html! {
        header {
            p.kind { (p.w.report) }
            h1 { (p.m.title) }
            p.small { (p.w.job) ": " bdi { (p.m.job) } }
            @if let Some(note) = &p.m.note { p.note { (note) } }
        }
    }
}

/// Headline: each comparison or, without one, the peak of each state; then the basis in one sentence.
pub(crate) fn verdicts(p: &Page) -> Markup {
    let body = html! {
        @if p.m.states.is_empty() { p { (p.w.no_states) } }
        @for (i, c) in p.m.comparisons.iter().enumerate() { (comparison(p, i, c)) }
        @if p.m.comparisons.is_empty() {
            @for s in &p.m.states {
                div.found {
                    p.big { (p.say(in_unit(s.peak_power.value, p.main_power()), false, p.main_power().word)) }
                    p { (p.state(&s.name)) ", " (p.w.peak_power) ", " (p.peak_speed(&s.peak_power)) " " (p.w.speed_unit) }
                }
            }
        }
        p { b { (p.w.basis) ". " } (p.said(&p.m.basis.statement)) }
        p.small {
            (p.w.interval_note)
            @if !p.m.notices.is_empty() { " " (fill(p.w.read_with, &[&p.m.notices.len().to_string()])) }
        }
    };
    section("result", p.w.verdict, body)
}

fn verdict_word(p: &Page, verdict: &str) -> String {
    match verdict {
        "gain" => p.w.gain.to_owned(),
        "loss" => p.w.loss.to_owned(),
        "no-detectable-change" => p.w.no_change.to_owned(),
        other => format!("{}: {other}", p.w.unknown_verdict),
    }
}

fn comparison(p: &Page, i: usize, c: &Comparison) -> Markup {
    let shown = interval(c.mean_gain_percent, true, p.style);
    let limit = number(
        c.smallest_detectable_percent,
        decimals_for(c.smallest_detectable_percent).unwrap_or(1).max(1),
        p.style,
    );
    let within = number(c.within_percent, decimals_for(c.within_percent).unwrap_or(1).max(1), p.style);
    let desc = fill(p.w.ruler_desc, &[&shown.value, &shown.low, &shown.high, &limit]);
    let zone = fill(p.w.detectable_zone, &[&limit]);
    let what = fill(
        p.w.mean_gain,
        &[
            &p.speed(c.band_rpm[0]),
            &p.speed(c.band_rpm[1]),
            &fill(p.w.quoted, &[&c.from]),
            &fill(p.w.quoted, &[&c.to]),
        ],
    );
    let ruler = |narrow: bool| {
        let (id, width) =
            if narrow { (format!("ruler-{i}-n"), 350.0) } else { (format!("ruler-{i}"), 640.0) };
        let title = verdict_word(p, &c.verdict);
        Ruler {
            id: &id,
            title: &title,
            desc: &desc,
            change: c.mean_gain_percent,
            detectable: c.smallest_detectable_percent,
            zone: &zone,
            width,
            style: p.style,
        }
        .render()
    };
    let power = p.main_power();
    let peak = format!(
        "{} ({})",
        p.say(in_unit(c.peak_gain_kw, power), true, power.word),
        p.say(c.peak_gain_percent, true, "%")
    );
    html! {
        div.found {
            p.word { (verdict_word(p, &c.verdict)) }
            p.big { (shown.value) " % " span.pm { (shown.spread) } }
            p.what { (bound(&what)) }
            (both(ruler(false), ruler(true)))
            p { (p.said(&c.statement)) }
            ul {
                @if c.verdict == "no-detectable-change" { li { (bound(&fill(p.w.within, &[&within]))) } }
                li { (bound(&fill(p.w.at_peak, &[&peak]))) }
                @if let Some(n) = c.more_pulls { li { (fill(p.w.more_pulls, &[&n.to_string()])) } }
                @for r in &c.remarks { li { (p.headed(r)) } }
            }
        }
    }
}

/// A drawing in two sizes; the style sheet shows one.
pub(crate) fn both(wide: String, narrow: String) -> Markup {
    html! { div.only-wide { (PreEscaped(wide)) } div.only-narrow { (PreEscaped(narrow)) } }
}
