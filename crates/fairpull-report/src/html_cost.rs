//! What the power costs the engine: the channels beside it.

use crate::digits::{decimals_of, number, signed};
use crate::html_stress;
use crate::model::{ChannelChange, ChannelStat, Comparison, State};
use crate::page::{Col, Page, section, t, table};
use crate::pattern::fill;
use crate::said::{Said, own, say};
use crate::strip;
use maud::{Markup, PreEscaped, html};

pub(crate) fn cost(p: &Page) -> Markup {
    let compared: Vec<&Comparison> = p.m.comparisons.iter().filter(|c| !c.channels.is_empty()).collect();
    let recorded: Vec<&State> = p.m.states.iter().filter(|s| !s.channels.is_empty()).collect();
    if p.m.states.is_empty() {
        return html! {};
    }
    let body = html! {
        @if recorded.is_empty() && compared.is_empty() { p { (p.w.cost_none) } }
        @for c in compared { (changes(p, c)) (html_stress::changes(p, c)) }
        @for s in recorded { (stats(p, s)) }
        @for s in &p.m.states { (html_stress::stats(p, s)) }
    };
    section("cost", p.w.cost, body)
}

/// Power first, then every channel that moved, in one line each: `pre-turbine pressure −0.35 bar ± 0.05`.
pub(crate) fn lines(p: &Page, c: &Comparison) -> Vec<Said> {
    let gain = p.say(c.mean_gain_percent, true, "%");
    let power = match c.verdict.as_str() {
        "no-detectable-change" => format!("{} ({gain})", p.w.no_change_inside),
        _ => gain,
    };
    let first = if c.cost.is_empty() { own(&fill(p.w.cost_power, &[&power])) } else { say(p.w, &c.cost) };
    let mut lines = vec![first];
    lines.extend(c.channels.iter().filter(|x| x.detectable).map(|x| {
        let unit = p.told(shown_unit(&x.unit));
        let change = format!(": {}.", p.say(x.change, true, &unit).trim_end());
        say(p.w, &x.name).capital().then(own(&change))
    }));
    if c.channels.iter().any(|x| !x.detectable) {
        lines.push(own(p.w.cost_quiet));
    }
    lines
}

/// A ratio has no unit to show.
fn shown_unit(unit: &str) -> &str {
    if unit == "1" { "" } else { unit }
}

fn changes(p: &Page, c: &Comparison) -> Markup {
    let power = p.main_power();
    let mean = |name: &str| {
        let curve = p.m.states.iter().find(|s| s.name == name).map(|s| &s.curve);
        let band = c.band_rpm[0]..=c.band_rpm[1];
        let inside: Vec<f64> = curve
            .into_iter()
            .flatten()
            .filter(|q| band.contains(&q.engine_speed_rpm))
            .map(|q| q.crank_power_kw.value)
            .collect();
        let change = crate::page::in_unit(c.mean_gain_kw, power);
        number(power.of(inside.iter().sum::<f64>() / inside.len() as f64), decimals_of(change), p.style)
    };
    let yes_no = |yes: bool| {
        if yes {
            html! { b { (p.w.yes) } }
        } else {
            t(p.w.no)
        }
    };
    let mut rows = vec![vec![
        html! { (p.w.power_curve) ", " (power.word) },
        t(mean(&c.from)),
        t(mean(&c.to)),
        p.show(crate::page::in_unit(c.mean_gain_kw, power), true),
        yes_no(c.verdict != "no-detectable-change"),
        PreEscaped(strip::cell(c.mean_gain_kw, p.slot_of(&c.to))),
    ]];
    rows.extend(c.channels.iter().map(|x| row(p, c, x, &yes_no)));
    let cols = [
        Col::Text(p.w.channel),
        Col::Number(p.w.from),
        Col::Number(p.w.to),
        Col::Number(p.w.change),
        Col::Text(p.w.detectable),
        Col::Strip,
    ];
    html! {
        ul.costs { @for l in lines(p, c) { li { (l.markup()) } } }
        (table(&format!("{} → {}", c.from, c.to), &cols, &rows))
    }
}

fn row(p: &Page, c: &Comparison, x: &ChannelChange, yes_no: &dyn Fn(bool) -> Markup) -> Vec<Markup> {
    let d = decimals_of(x.change);
    vec![
        p.named(&x.name, &x.unit),
        t(number(x.from, d, p.style)),
        t(number(x.to, d, p.style)),
        p.show(x.change, true),
        yes_no(x.detectable),
        PreEscaped(strip::cell(x.change, p.slot_of(&c.to))),
    ]
}

fn stats(p: &Page, s: &State) -> Markup {
    let row = |x: &ChannelStat| {
        let d = decimals_of(x.mean);
        vec![
            p.named(&x.name, &x.unit),
            p.show(x.mean, false),
            x.at_peak_power.map_or_else(|| t("–"), |i| p.show(i, false)),
            t(number(x.smallest, d, p.style)),
            t(number(x.largest, d, p.style)),
        ]
    };
    let cols = [
        Col::Text(p.w.channel),
        Col::Number(p.w.mean),
        Col::Number(p.w.at_peak_power),
        Col::Number(p.w.smallest),
        Col::Number(p.w.largest),
    ];
    table(&format!("{}: {}", p.w.channels, s.name), &cols, &s.channels.iter().map(row).collect::<Vec<_>>())
}

/// A change with its sign, for a line of text.
pub(crate) fn change_text(p: &Page, value: f64) -> String {
    signed(value, 1, p.style)
}
