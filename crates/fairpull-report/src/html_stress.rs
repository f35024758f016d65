//! Stress figures beside the power, and the knock margin of each fuel.

use crate::digits::{decimals_of, number};
use crate::model::{Comparison, FuelMargin, State, StressChange};
use crate::page::{Col, Page, section, t, table};
use crate::strip;
use maud::{Markup, PreEscaped, html};

/// Change of every stress figure between two states.
pub(crate) fn changes(p: &Page, c: &Comparison) -> Markup {
    if c.stress.is_empty() {
        return html! {};
    }
    let row = |x: &StressChange| {
        let d = decimals_of(x.change);
        vec![
            p.named(&x.name, &x.unit),
            t(number(x.from, d, p.style)),
            t(number(x.to, d, p.style)),
            p.show(x.change, true),
            if x.detectable {
                html! { b { (p.w.yes) } }
            } else {
                t(p.w.no)
            },
            PreEscaped(strip::cell(x.change, p.slot_of(&c.to))),
        ]
    };
    let cols = [
        Col::Text(p.w.stress_figure),
        Col::Number(p.w.from),
        Col::Number(p.w.to),
        Col::Number(p.w.change),
        Col::Text(p.w.detectable),
        Col::Strip,
    ];
    let rows: Vec<Vec<Markup>> = c.stress.iter().map(row).collect();
    table(&format!("{}: {} → {}", p.w.stress, c.from, c.to), &cols, &rows)
}

/// Stress figures of one state.
pub(crate) fn stats(p: &Page, s: &State) -> Markup {
    if s.stress.is_empty() {
        return html! {};
    }
    let rows: Vec<Vec<Markup>> = s
        .stress
        .iter()
        .map(|x| {
            vec![
                p.named(&x.name, &x.unit),
                p.show(x.value, false),
                p.said(x.remark.as_deref().unwrap_or_default()),
            ]
        })
        .collect();
    let cols = [Col::Text(p.w.stress_figure), Col::Number(p.w.stress_value), Col::Text(p.w.stress_remark)];
    table(&format!("{}: {}", p.w.stress, s.name), &cols, &rows)
}

/// The margin of each fuel in each state, with the caution.
pub(crate) fn margins(p: &Page) -> Markup {
    let with: Vec<&State> = p.m.states.iter().filter(|s| !s.margins.is_empty()).collect();
    if with.is_empty() {
        return html! {};
    }
    let row = |x: &FuelMargin| {
        let margin = x.margin_on.map_or_else(|| t("–"), |i| p.show(i, true));
        vec![p.said(&x.name), margin, p.said(&x.statement)]
    };
    let cols = [Col::Text(p.w.margin_fuel), Col::Number(p.w.margin_value), Col::Text(p.w.verdict)];
    let body = html! {
        @for s in with {
            (table(&format!("{}: {}", p.w.margins, s.name), &cols, &s.margins.iter().map(row).collect::<Vec<_>>()))
        }
        p { b { (p.w.margin_caution) } }
    };
    section("margins", p.w.margins, body)
}

/// The margins in lines of text.
pub(crate) fn margin_lines(p: &Page) -> Vec<String> {
    let mut lines = Vec::new();
    for s in &p.m.states {
        for x in &s.margins {
            let margin =
                x.margin_on.map_or_else(String::new, |i| format!("{}: ", p.say(i, true, p.w.octane)));
            lines.push(format!("{}, {}: {margin}{}", s.name, p.told(&x.name), p.told(&x.statement)));
        }
    }
    lines
}
