//! What a sceptic asks for: uncertainty, trail, repairs, vehicle, rig, cautions, notices.

use crate::model::{BudgetLine, Fact, Step};
use crate::page::{Col, Page, quiet_table, section, t, table};
use crate::strip;
use maud::{Markup, PreEscaped, html};

pub(crate) fn budget(p: &Page) -> Markup {
    if p.m.states.iter().all(|s| s.budget.is_empty()) {
        return html! {};
    }
    let row = |b: &BudgetLine| {
        let part = match b.part.as_str() {
            "run" => p.w.part_run,
            "rig" => p.w.part_rig,
            "method" => p.w.part_method,
            other => other,
        };
        vec![
            p.headed(&b.source),
            t(part),
            p.said(&b.input),
            t(p.fixed(b.percent, 2)),
            t(p.fixed(b.share_percent, 0)),
            PreEscaped(strip::share(b.share_percent)),
            p.said(&b.remedy),
        ]
    };
    let cols = [
        Col::Text(p.w.source),
        Col::Text(p.w.part),
        Col::Text(p.w.input),
        Col::Number(p.w.adds),
        Col::Number(p.w.share),
        Col::Strip,
        Col::Text(p.w.remedy),
    ];
    let body = html! {
        p.small { (p.w.budget_note) }
        @for s in p.m.states.iter().filter(|s| !s.budget.is_empty()) {
            (table(&s.name, &cols, &s.budget.iter().map(row).collect::<Vec<_>>()))
        }
    };
    section("budget", p.w.budget, body)
}

pub(crate) fn trail(p: &Page) -> Markup {
    if p.m.trail.is_empty() {
        return html! {};
    }
    let step = |s: &Step| {
        let parts = [
            (p.w.formula, p.said(&s.formula)),
            (p.w.inputs, p.said(&s.inputs)),
            (p.w.output, p.said(&s.output)),
            (p.w.source, p.cited(&s.source)),
            (p.w.reading, p.said(&s.reading)),
        ];
        html! {
            li {
                b { (p.headed(&s.what)) }
                dl {
                    @for (label, text) in &parts { @if !text.0.is_empty() { dt { (label) } dd { (text) } } }
                }
            }
        }
    };
    let body = html! {
        p.small { (p.w.trail_note) }
        ol.trail { @for s in &p.m.trail { (step(s)) } }
        p.small { (p.w.seed) ": " (p.m.seed) }
    };
    section("trail", p.w.trail, body)
}

pub(crate) fn repairs(p: &Page) -> Markup {
    let pulls = || p.m.states.iter().flat_map(|s| &s.pulls);
    let rows: Vec<Vec<Markup>> = pulls()
        .flat_map(|q| {
            q.repairs.iter().map(|r| {
                vec![
                    html! { bdi { (p.pull(q)) } },
                    p.said(&r.what),
                    t(r.count.to_string()),
                    t(r.first_line.to_string()),
                ]
            })
        })
        .collect();
    let cols =
        [Col::Text(p.w.pull), Col::Text(p.w.what), Col::Number(p.w.count), Col::Number(p.w.first_line)];
    let body = html! {
        @if rows.is_empty() { p { (p.w.repairs_none) } } @else { (quiet_table(p.w.repairs, &cols, &rows)) }
    };
    if pulls().next().is_none() {
        html! {}
    } else {
        section("repairs", p.w.repairs, body)
    }
}

/// Facts whose value stands in the job as its author wrote it.
const WRITTEN: [&str; 2] = ["Vehicle", "Name"];

pub(crate) fn facts(p: &Page) -> Markup {
    let list = |heading: &str, facts: &[Fact]| {
        html! {
            @if !facts.is_empty() {
                h3 { (heading) }
                dl.facts { @for f in facts {
                    dt { (p.said(&f.label)) }
                    dd { @if WRITTEN.contains(&f.label.as_str()) { (f.value) } @else { (p.said(&f.value)) } }
                } }
            }
        }
    };
    let b = &p.m.basis;
    let basis = [
        (p.w.standard, t(format!("{} ({})", b.designation, b.standard))),
        (p.w.standing, p.said(&b.status)),
        (p.w.reference, p.said(&b.reference)),
        (p.w.rating, p.said(&b.rating)),
        (p.w.site, p.said(&b.site)),
        (p.w.losses, p.said(&b.loss_model)),
        (p.w.reading, p.said(&b.reading)),
    ];
    let body = html! {
        (list(p.w.vehicle, &p.m.vehicle))
        (list(p.w.rig, &p.m.rig))
        h3 { (p.w.basis) }
        dl.facts {
            @for (label, text) in &basis { @if !text.0.is_empty() { dt { (label) } dd { (text) } } }
            @for s in &p.m.states { @if let Some(fuel) = &s.fuel { dt { (p.w.fuel) ", " bdi { (s.name) } } dd { (fuel) } } }
        }
    };
    section("facts", p.w.facts, body)
}

pub(crate) fn cautions(p: &Page) -> Markup {
    let standing = p.language.cautions();
    let body = html! {
        p.small { (p.w.cautions_note) }
        ul {
            @for c in standing { li { (c) } }
            @for c in p.m.cautions.iter().filter(|c| !standing.contains(&c.as_str())) { li { (p.said(c)) } }
        }
    };
    section("cautions", p.w.cautions, body)
}

pub(crate) fn notices(p: &Page) -> Markup {
    let body = html! {
        @if p.m.notices.is_empty() { p { (p.w.notices_none) } }
        @else { ul { @for n in &p.m.notices { li { (p.said(n)) } } } }
    };
    section("notices", p.w.notices, body)
}
