//! The charts of a result, for the report and for any page that shows one.

use crate::digits::interval;
use crate::model::{Comparison, CurvePoint, Interval, ResultModel};
use crate::page::{Page, in_unit};
use crate::pattern::fill;
use crate::svg::{Axis, Chart, Series, Span};
use crate::text::Language;

/// Which curve of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// Corrected power at the crankshaft.
    Power,
    /// Corrected torque at the crankshaft.
    Torque,
}

/// The charts of a result in reading order, each with a file stem: `power`, `torque`, `gain-1`, ….
#[must_use]
pub fn all(result: &ResultModel, language: Language, narrow: bool) -> Vec<(String, Chart)> {
    let p = Page::new(result, language);
    let mut list = Vec::new();
    if result.states.iter().any(|s| !s.curve.is_empty()) {
        list.push(("power".to_owned(), curves(&p, Which::Power, narrow)));
        list.push(("torque".to_owned(), curves(&p, Which::Torque, narrow)));
    }
    for (i, c) in result.comparisons.iter().enumerate().filter(|(_, c)| !c.curve.is_empty()) {
        list.push((format!("gain-{}", i + 1), gain(&p, i, c, narrow)));
    }
    list
}

fn blank(p: &Page, id: &str, title: &str, desc: &str, narrow: bool, height: f64) -> Chart {
    let id = if narrow { format!("{id}-n") } else { id.to_owned() };
    let size = if narrow { (360.0, 330.0_f64.min(height * 0.8)) } else { (880.0, height) };
    let text = if narrow { 12.5 } else { 14.0 };
    Chart::new(&id, title, desc).text(text).size(size.0, size.1).style(p.style).x(Axis::new(p.w.speed_unit))
}

fn span(x: f64, i: Interval) -> Span {
    Span { x, low: i.lo95, high: i.hi95 }
}

/// Power or torque of every state.
pub(crate) fn curves(p: &Page, which: Which, narrow: bool) -> Chart {
    let (id, title, unit) = match which {
        Which::Power => ("chart-power", p.w.power_curve, p.main_power()),
        Which::Torque => ("chart-torque", p.w.torque_curve, p.main_torque()),
    };
    let point = |c: &CurvePoint| {
        let i = if which == Which::Power { c.crank_power_kw } else { c.crank_torque_nm };
        (c.engine_speed_rpm, in_unit(i, unit))
    };
    let names: Vec<&str> = p.m.states.iter().map(|s| s.name.as_str()).collect();
    let peaks: Vec<String> =
        p.m.states
            .iter()
            .map(|s| {
                let peak = if which == Which::Power { &s.peak_power } else { &s.peak_torque };
                let value = p.say(in_unit(peak.value, unit), false, unit.word);
                format!("{}: {value}, {} {}.", s.name, p.peak_speed(peak), p.w.speed_unit)
            })
            .collect();
    let desc = fill(p.w.curve_desc, &[title, &names.join(", "), &peaks.join(" ")]);
    let height = if which == Which::Power { 480.0 } else { 400.0 };
    let mut chart =
        blank(p, id, title, &desc, narrow, height).y(Axis::new(&format!("{title}, {}", unit.word)));
    for (n, s) in p.m.states.iter().enumerate() {
        let mut series = Series::new(&s.name, n)
            .line(s.curve.iter().map(point).map(|(x, i)| (x, i.value)))
            .interval(s.curve.iter().map(point).map(|(x, i)| span(x, i)));
        if which == Which::Power {
            let band = |c: &CurvePoint| span(c.engine_speed_rpm, in_unit(c.crank_power_band_kw, unit));
            series = series.band(s.curve.iter().map(band));
        }
        let peak = if which == Which::Power { &s.peak_power } else { &s.peak_torque };
        let value = in_unit(peak.value, unit);
        // On a small chart the figures would hide the curves; the table above has them.
        let text = if narrow {
            String::new()
        } else {
            format!("{} {}", interval(value, false, p.style).value, unit.word)
        };
        chart = chart.series(series.mark(peak.engine_speed_rpm, value.value, &text));
    }
    chart
}

/// Change over engine speed of one comparison.
pub(crate) fn gain(p: &Page, number: usize, c: &Comparison, narrow: bool) -> Chart {
    let mean = interval(c.mean_gain_percent, true, p.style);
    let desc = fill(p.w.gain_desc, &[&c.from, &c.to, &mean.value]);
    let series = Series::new("", p.slot_of(&c.to))
        .line(c.curve.iter().map(|g| (g.engine_speed_rpm, g.gain_percent.value)))
        .interval(c.curve.iter().map(|g| span(g.engine_speed_rpm, g.gain_percent)))
        .band(c.curve.iter().map(|g| span(g.engine_speed_rpm, g.gain_band_percent)));
    blank(p, &format!("chart-gain-{number}"), p.w.gain_curve, &desc, narrow, 380.0)
        .y(Axis::new(p.w.gain_axis).with_zero())
        .rule(0.0, p.w.no_change_rule)
        .rule_over(
            c.mean_gain_percent.value,
            c.band_rpm[0],
            c.band_rpm[1],
            &fill(p.w.mean_rule, &[&mean.value]),
        )
        .series(series)
}

/// Level of each pull against the mean of its state.
pub(crate) fn levels(p: &Page, narrow: bool) -> Chart {
    let desc: Vec<String> =
        p.m.states
            .iter()
            .map(|s| {
                let levels: Vec<String> =
                    s.pulls.iter().map(|q| crate::digits::signed(q.level_percent, 1, p.style)).collect();
                format!("{}: {} %.", s.name, levels.join(", "))
            })
            .collect();
    let mut chart = blank(p, "chart-levels", p.w.levels_title, &desc.join(" "), narrow, 300.0)
        .x(Axis::new(p.w.pull_axis))
        .y(Axis::new(p.w.levels_axis).with_zero())
        .counting_x()
        .rule(0.0, "");
    let mut first = 0;
    for (n, s) in p.m.states.iter().enumerate() {
        let mut series = Series::new("", n);
        let last = s.pulls.len().saturating_sub(1);
        for (k, q) in s.pulls.iter().enumerate() {
            let text = if k == last { s.name.as_str() } else { "" };
            series = series.mark((first + k + 1) as f64, q.level_percent, text);
        }
        first += s.pulls.len();
        chart = chart.series(series);
    }
    chart
}
