//! `fairpull restate`.

use fairpull::RestateQuestion;
use fairpull::core::Catalogue;
use fairpull::restate::{BasisRow, Interval, Restated};

use crate::args::Restate;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::{figures, out, table, unused};

pub fn run(a: &Restate) -> Result<(), Fail> {
    let question = RestateQuestion {
        figure: a.figure.clone(),
        from: a.from.clone(),
        site: a.site.clone(),
        engine_speed: a.engine_speed.clone(),
        to: a.to.clone(),
        to_site: a.to_site.clone(),
        loss: a.loss.clone(),
        air: a.air.question(),
        month: a.month,
        engine: a.engine.is_given().then(|| a.engine.question()),
        load_share: a.load_share.clone(),
        constant_drag: a.constant_drag.clone(),
    };
    with_declared(&a.declared, |c| {
        if a.all {
            let rows = question.all(c)?;
            let all = as_json(&rows);
            // one basis that differs tells as much as all of them, in a fraction of the time
            let before = some(&question, c);
            let ask = |q: &RestateQuestion| if some(q, c) == before { q.all(c).ok() } else { None };
            unused::note(&question, &all, |q| ask(q).map(|r| as_json(&r)));
            return if a.json { out::json(&all) } else { everywhere(&rows) };
        }
        let answer = question.answer(c)?;
        unused::note(&question, &answer, |q| q.answer(c).ok());
        if a.json { out::json(&answer) } else { out::text(&words(&answer)) }
    })
}

/// The figure on a few of the bases.
fn some(question: &RestateQuestion, c: &Catalogue<'_>) -> Vec<Option<Restated>> {
    let first = c.standards().first().map_or("observed", |s| s.card().id);
    [(first, "crank"), (first, "wheel"), ("observed", "wheel")]
        .map(|(to, site)| {
            let one = RestateQuestion { to: Some(to.into()), to_site: Some(site.into()), ..question.clone() };
            one.answer(c).ok()
        })
        .to_vec()
}

fn as_json(rows: &[BasisRow]) -> Vec<serde_json::Value> {
    rows.iter()
        .map(|r| match &r.result {
            Ok(x) => serde_json::json!({ "basis": r.target.to_string(), "figure": x }),
            Err(e) => serde_json::json!({ "basis": r.target.to_string(), "why": e.to_string() }),
        })
        .collect()
}

fn everywhere(rows: &[BasisRow]) -> Result<(), Fail> {
    let lines: Vec<Vec<String>> = rows
        .iter()
        .map(|r| match &r.result {
            Ok(x) if x.basis_known => vec![r.target.to_string(), number(x), range(x), String::new()],
            Ok(x) => vec![r.target.to_string(), "range only".into(), range(x), String::new()],
            Err(e) => vec![r.target.to_string(), "-".into(), String::new(), e.to_string()],
        })
        .collect();
    out::text(&table::table(&["Basis", ">Figure", "95 % interval", "Why not"], &lines))
}

fn number(x: &Restated) -> String {
    format!("{:.1} {}", x.value, x.unit)
}

fn range(x: &Restated) -> String {
    if x.exact { "exact".into() } else { format!("{:.1} to {:.1}", x.lo95, x.hi95) }
}

/// The figure in the notation, with as many digits as its interval leaves.
fn notation(x: &Restated) -> String {
    let mut figure = x.figure.clone();
    if let Some(Interval::Ends(low, high)) = figure.interval {
        let place = (0.5 * (high - low)).log10_floor() - 1;
        figure.value = round_at(figure.value, place);
        figure.interval = Some(Interval::Ends(round_at(low, place), round_at(high, place)));
    } else if x.exact {
        figure.value = round_at(figure.value, figure.value.log10_floor() - 5);
    }
    figure.to_string()
}

trait Magnitude {
    fn log10_floor(self) -> i32;
}

impl Magnitude for f64 {
    /// Power of ten of the leading digit; 0 for what has none.
    fn log10_floor(self) -> i32 {
        let text = format!("{:e}", self.abs());
        text.split_once('e').and_then(|(_, e)| e.parse().ok()).unwrap_or(0)
    }
}

/// Rounded to 10^place, by way of text so that no binary tail is left.
fn round_at(x: f64, place: i32) -> f64 {
    if place >= 0 {
        let step: f64 = format!("1e{place}").parse().unwrap_or(1.0);
        (x / step).round() * step
    } else {
        format!("{x:.*}", place.unsigned_abs().min(12) as usize).parse().unwrap_or(x)
    }
}

fn words(x: &Restated) -> String {
    let mut text = if x.basis_known {
        format!("{}  ({})\n{}\n\n", number(x), range(x), notation(x))
    } else {
        // the middle of the range would look like an estimate
        format!("{} {} on {}\n\n", range(x), x.unit, x.basis)
    };
    let steps: Vec<Vec<String>> = x
        .steps
        .iter()
        .map(|s| {
            let inputs: Vec<String> = s
                .inputs
                .iter()
                .map(|i| {
                    let (value, unit) = match i.unit {
                        "W" => (i.value / 1e3, "kW"),
                        "1" => (i.value, ""),
                        unit => (i.value, unit),
                    };
                    format!("{} {} {unit}", i.what, figures::at_most_five(value)).trim_end().to_owned()
                })
                .collect();
            vec![s.what.clone(), format!("{:.5}", s.factor), inputs.join(", "), s.source.clone()]
        })
        .collect();
    if !steps.is_empty() {
        text += &table::table(&["Step", ">Factor", "From", "Source"], &steps);
        text.push('\n');
    }
    if !x.assumptions.is_empty() {
        let rows: Vec<Vec<String>> = x
            .assumptions
            .iter()
            .map(|a| vec![a.what.clone(), format!("± {:.1} {}", a.contribution, x.unit), a.because.clone()])
            .collect();
        text += &format!("{}\n", table::table(&["Assumed", ">Standard uncertainty", "Because"], &rows));
    }
    if !x.alternatives.is_empty() {
        let rows: Vec<Vec<String>> = x
            .alternatives
            .iter()
            .map(|a| {
                let lone = format!("{:.1}", a.value);
                let ends = [format!("{:.1}", a.lo95), format!("{:.1}", a.hi95)];
                let spread = if ends.iter().all(|e| *e == lone) { "-".into() } else { ends.join(" to ") };
                vec![a.what.clone(), lone, spread]
            })
            .collect();
        let heading = ["Other ways", &format!(">{}", x.unit), "95 % interval"];
        text += &format!("{}\n", table::table(&heading, &rows));
    }
    for n in &x.notices {
        text += &format!("{}\n\n", table::wrap(&format!("Note: {n}"), table::WIDE).join("\n"));
    }
    text.truncate(text.trim_end().len());
    text + "\n"
}
