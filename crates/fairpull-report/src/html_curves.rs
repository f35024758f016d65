//! Peaks, curves, the change over engine speed, and the curves in numbers.

use crate::charts;
use crate::html_head::both;
use crate::model::{Interval, Peak, State};
use crate::page::{Col, Page, in_unit, section, t, table};
use crate::units::Unit;
use maud::{Markup, html};

pub(crate) fn peaks(p: &Page) -> Markup {
    if p.m.states.is_empty() {
        return html! {};
    }
    let edge = p.m.states.iter().any(|s| s.peak_power.at_edge || s.peak_torque.at_edge);
    let body = html! {
        (peak_table(p, p.w.peak_power, &p.power, |s| &s.peak_power))
        (peak_table(p, p.w.peak_torque, &p.torque, |s| &s.peak_torque))
        @if edge { p.small { (p.w.edge_note) } }
    };
    section("peaks", p.w.peaks, body)
}

fn peak_table(p: &Page, caption: &str, units: &[Unit], of: fn(&State) -> &Peak) -> Markup {
    let mut cols = vec![Col::Text(p.w.state)];
    cols.extend(units.iter().map(|u| Col::Number(u.word)));
    cols.push(Col::Number(p.w.at_speed));
    let row = |s: &State| {
        let peak = of(s);
        let mut cells = vec![p.state(&s.name)];
        cells.extend(units.iter().map(|u| p.show(in_unit(peak.value, *u), false)));
        cells.push(t(p.peak_speed(peak)));
        cells
    };
    table(caption, &cols, &p.m.states.iter().map(row).collect::<Vec<_>>())
}

pub(crate) fn curves(p: &Page) -> Markup {
    if p.m.states.iter().all(|s| s.curve.is_empty()) {
        return html! {};
    }
    let figure = |which: charts::Which| {
        let (wide, narrow) = (charts::curves(p, which, false), charts::curves(p, which, true));
        html! {
            figure {
                (both(wide.render(), narrow.render()))
                figcaption { (p.w.chart_note) @if which == charts::Which::Power { " " (p.w.band_note) } @if wide.leaves_out_zero() { " " (p.w.no_zero) } }
            }
        }
    };
    let body = html! {
        (figure(charts::Which::Power))
        (figure(charts::Which::Torque))
        p.small { (p.w.wheel_note) }
    };
    section("curves", p.w.curves, body)
}

pub(crate) fn gains(p: &Page) -> Markup {
    let drawn: Vec<_> = p.m.comparisons.iter().enumerate().filter(|(_, c)| !c.curve.is_empty()).collect();
    if drawn.is_empty() {
        return html! {};
    }
    let body = html! {
        @for (i, c) in drawn {
            figure {
                p.what { (p.state(&c.from)) " → " (p.state(&c.to)) }
                (both(charts::gain(p, i, c, false).render(), charts::gain(p, i, c, true).render()))
                figcaption { (p.w.chart_note) " " (p.w.band_note) " " (p.w.gain_note) }
            }
        }
    };
    section("gain", p.w.gain_curve, body)
}

/// About a dozen round engine speeds of each curve.
pub(crate) fn numbers(p: &Page) -> Markup {
    let (power, torque) = (p.main_power(), p.main_torque());
    let cols_text = [
        format!("{}, {}", p.w.power_curve, power.word),
        format!("{}, {}", p.w.torque_curve, torque.word),
        crate::pattern::fill(p.w.wheel_power, &[power.word]),
    ];
    let rows = |s: &State| {
        chosen(s)
            .into_iter()
            .filter_map(|i| s.curve.get(i))
            .map(|c| {
                let cell = |i: Interval, u: Unit| p.show(in_unit(i, u), false);
                vec![
                    t(p.fixed(c.engine_speed_rpm, 0)),
                    cell(c.crank_power_kw, power),
                    cell(c.crank_torque_nm, torque),
                    cell(c.wheel_power_kw, power),
                    t(c.pulls.to_string()),
                ]
            })
            .collect::<Vec<_>>()
    };
    if p.m.states.iter().all(|s| s.curve.is_empty()) {
        return html! {};
    }
    let mut cols = vec![Col::Number(p.w.speed_unit)];
    cols.extend(cols_text.iter().map(|c| Col::Number(c)));
    cols.push(Col::Number(p.w.pulls));
    let body = html! {
        @for s in &p.m.states { (table(&s.name, &cols, &rows(s))) }
        p.small { (p.w.numbers_note) }
    };
    section("numbers", p.w.numbers, body)
}

fn chosen(s: &State) -> Vec<usize> {
    let round = |step: f64| {
        let on = |(i, c): (usize, &crate::model::CurvePoint)| (c.engine_speed_rpm % step == 0.0).then_some(i);
        s.curve.iter().enumerate().filter_map(on).collect::<Vec<_>>()
    };
    let fits = |list: &Vec<usize>| (4..=16).contains(&list.len());
    [250.0, 500.0, 1000.0].into_iter().map(round).find(fits).unwrap_or_else(|| {
        let stride = s.curve.len().div_ceil(12).max(1);
        (0..s.curve.len()).step_by(stride).collect()
    })
}
