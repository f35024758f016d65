//! The single pulls: repeats, soak, air, factors, and the same peak on other standards.

use crate::binding::bound;
use crate::charts;
use crate::html_cost::change_text;
use crate::html_head::both;
use crate::model::{Pull, Restated, State};
use crate::page::{Col, Page, in_unit, section, t, table};
use crate::pattern::fill;
use maud::{Markup, html};

pub(crate) fn repeats(p: &Page) -> Markup {
    if p.m.states.iter().all(|s| s.pulls.is_empty()) {
        return html! {};
    }
    let scatter: Vec<String> =
        p.m.states
            .iter()
            .map(|s| fill(p.w.scatter, &[&s.name, &p.fixed(s.repeatability_percent, 2)]))
            .collect();
    let flagged: Vec<(&Pull, &String)> = all(p).flat_map(|q| q.flags.iter().map(move |f| (q, f))).collect();
    let body = html! {
        figure { (both(charts::levels(p, false).render(), charts::levels(p, true).render())) }
        p { (bound(&fill(p.w.repeats_note, &[&scatter.join(", ")]))) }
        @for s in &p.m.states {
            @if let Some(soak) = &s.soak {
                p { (p.w.soak) ", " (p.state(&s.name)) ": " (p.said(&soak.statement)) }
            }
        }
        @for s in &p.m.states { (pulls(p, s)) }
        @if !flagged.is_empty() {
            h3 { (p.w.flags) }
            ul { @for (q, f) in flagged { li { bdi { (p.pull(q)) } ": " (p.said(f)) } } }
        }
    };
    section("repeats", p.w.repeats, body)
}

fn all<'a>(p: &'a Page) -> impl Iterator<Item = &'a Pull> {
    p.m.states.iter().flat_map(|s| &s.pulls)
}

fn pulls(p: &Page, s: &State) -> Markup {
    let power = p.main_power();
    let peak_head = format!("{}, {}", p.w.peak_power, power.word);
    let loss_head = fill(p.w.lost, &[power.word]);
    let row = |q: &Pull| {
        vec![
            html! { bdi { (p.pull(q)) } },
            t(format!("{}–{}", p.speed(q.from_rpm), p.speed(q.to_rpm))),
            t(p.fixed(q.duration_s, 1)),
            t(q.samples.to_string()),
            t(p.fixed(power.of(q.peak_power_kw), 1)),
            t(p.speed(q.peak_power_rpm)),
            t(change_text(p, q.level_percent)),
            t(p.fixed(power.of(q.loss_kw), 1)),
            p.said(&q.coast_down),
        ]
    };
    let cols = [
        Col::Text(p.w.pull),
        Col::Number(p.w.range),
        Col::Number(p.w.time),
        Col::Number(p.w.samples),
        Col::Number(&peak_head),
        Col::Number(p.w.at_speed),
        Col::Number(p.w.level),
        Col::Number(&loss_head),
        Col::Text(p.w.coast_down),
    ];
    table(&s.name, &cols, &s.pulls.iter().map(row).collect::<Vec<_>>())
}

pub(crate) fn conditions(p: &Page) -> Markup {
    if all(p).next().is_none() {
        return html! {};
    }
    let blind = all(p).any(|q| q.factor != q.blind_factor);
    let row = |q: &Pull| {
        let mut cells = vec![
            html! { bdi { (p.pull(q)) } },
            t(p.fixed(q.station_pressure_kpa, 2)),
            t(p.fixed(q.temperature_c, 1)),
            t(p.fixed(q.humidity_percent, 0)),
            t(p.fixed(q.vapour_pressure_kpa, 2)),
            t(p.fixed(q.factor, 4)),
        ];
        if blind {
            cells.push(t(p.fixed(q.blind_factor, 4)));
        }
        cells
    };
    let mut cols = vec![
        Col::Text(p.w.pull),
        Col::Number(p.w.pressure),
        Col::Number(p.w.temperature),
        Col::Number(p.w.humidity),
        Col::Number(p.w.vapour),
        Col::Number(p.w.factor_used),
    ];
    if blind {
        cols.push(Col::Number(p.w.factor_blind));
    }
    let body = html! {
        @for s in &p.m.states { (table(&s.name, &cols, &s.pulls.iter().map(row).collect::<Vec<_>>())) }
        p.small { (p.w.conditions_note) }
        @if blind { p { (p.w.blind_note) } }
    };
    section("air", p.w.conditions, body)
}

pub(crate) fn others(p: &Page) -> Markup {
    if p.m.states.iter().all(|s| s.restated.is_empty()) {
        return html! {};
    }
    let status = |r: &Restated| match r.status.as_str() {
        "within" => t(p.w.within_range),
        "outside" => html! { b { (p.w.outside_range) } },
        "no-range-known" => t(p.w.no_range_known),
        "not-applicable" => t(p.w.not_applicable),
        other => t(other),
    };
    let row = |r: &Restated| {
        let mut cells = vec![t(&r.designation), t(r.factor.map_or(String::new(), |f| p.fixed(f, 4)))];
        for u in &p.power {
            cells.push(r.peak_power_kw.map_or_else(|| t(""), |i| p.show(in_unit(i, *u), false)));
        }
        cells.push(status(r));
        cells.push(p.said(&r.why));
        cells
    };
    let mut cols = vec![Col::Text(p.w.standard), Col::Number(p.w.factor)];
    cols.extend(p.power.iter().map(|u| Col::Number(u.word)));
    cols.extend([Col::Text(p.w.status), Col::Text(p.w.why)]);
    let body = html! {
        @for s in p.m.states.iter().filter(|s| !s.restated.is_empty()) {
            (table(&s.name, &cols, &s.restated.iter().map(row).collect::<Vec<_>>()))
        }
        p.small { (p.w.others_note) }
    };
    section("others", p.w.others, body)
}
