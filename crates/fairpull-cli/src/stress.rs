//! `fairpull stress`.

use fairpull::stress::{PipeReport, StressReport};
use fairpull::{PipeQuestion, StressAnswer, StressQuestion};

use crate::fail::Fail;
use crate::figures::{K95, alone, with_half};
use crate::stress_args::Stress;
use crate::{files, out, table, unused};

pub fn run(a: &Stress) -> Result<(), Fail> {
    let mut q: StressQuestion = files::question(a.question.as_deref())?;
    a.state.replace(&mut q.before);
    let mut pipe = q.pipe.take().unwrap_or_default();
    a.pipe.replace(&mut pipe);
    q.pipe = (pipe != PipeQuestion::default()).then_some(pipe);
    let answer = fairpull::stress(&q)?;
    let refused = refused(&answer);
    let reports = || core::iter::once(&answer.before).chain(&answer.after);
    let empty = answer.pipe.is_none() && reports().all(|r| r.figures.is_empty());
    if empty && refused.is_empty() {
        return Err(Fail::plain(
            "stress: no figure can be made of what is given; state at least two of power, engine speed, swept volume, stroke, pressures and temperatures, or a pipe",
        ));
    }
    if refused.is_empty() {
        unused::note(&q, &answer, |q| fairpull::stress(q).ok());
    }
    if a.json {
        out::json(&answer)?;
    } else if !empty {
        out::text(&words(&answer))?;
    }
    Fail::unless(refused)
}

fn words(a: &StressAnswer) -> String {
    let mut text = String::new();
    match &a.after {
        None => text += &one(&a.before),
        Some(_) => text += &two(a),
    }
    if let Some(p) = &a.pipe {
        if !text.is_empty() {
            text.push('\n');
        }
        text += &pipe(p);
    }
    text += &format!("\nCaution: {}.\n", table::wrap(a.caution, 100).join("\n  "));
    text
}

fn unit(u: &str) -> String {
    if u == "1" { String::new() } else { u.into() }
}

fn one(r: &StressReport) -> String {
    if r.figures.is_empty() {
        return String::new();
    }
    let rows: Vec<Vec<String>> = r
        .figures
        .iter()
        .map(|f| {
            let v = with_half(f.figure.value, K95 * f.figure.uncertainty);
            vec![f.title.into(), v, unit(f.unit), f.remark.unwrap_or("").into()]
        })
        .collect();
    table::table(&["Figure", ">Value ± 95 %", "", "Remark"], &rows)
}

/// The figures that were refused, each with its state where there are two.
fn refused(a: &StressAnswer) -> Vec<String> {
    let of = |state: &str, r: &StressReport| {
        r.refused.iter().map(|x| format!("{state}{}: {}", x.id, x.why)).collect::<Vec<_>>()
    };
    match &a.after {
        None => of("", &a.before),
        Some(after) => [of("before, ", &a.before), of("after, ", after)].concat(),
    }
}

fn two(a: &StressAnswer) -> String {
    let rows: Vec<Vec<String>> = a
        .changes
        .iter()
        .map(|c| {
            vec![
                c.title.into(),
                alone(c.before.value),
                alone(c.after.value),
                with_half(c.change.value, K95 * c.change.uncertainty),
                unit(c.unit),
                if c.detectable { "yes" } else { "no" }.into(),
            ]
        })
        .collect();
    table::table(&["Figure", ">Before", ">After", ">Change ± 95 %", "", "Detectable"], &rows)
}

fn pipe(p: &PipeReport) -> String {
    let rows: Vec<Vec<String>> = [&p.before, &p.after]
        .iter()
        .map(|s| {
            vec![
                alone(s.diameter_mm),
                with_half(s.mach.value, K95 * s.mach.uncertainty),
                with_half(s.loss_kpa.value, K95 * s.loss_kpa.uncertainty),
                if s.compressible { "compressible (adiabatic)" } else { "incompressible" }.into(),
            ]
        })
        .collect();
    let mut text =
        table::table(&[">Inside diameter, mm", ">Mach number", ">Loss, kPa ± 95 %", "Flow"], &rows);
    let line = |what: &str, f: fairpull::stress::Figure| {
        vec![what.into(), with_half(f.value, K95 * f.uncertainty), "kPa".into()]
    };
    let mut rows = vec![line("the pipe explains", p.explained_kpa)];
    rows.extend(p.explained_before_turbine_kpa.map(|f| line("the same before the turbine", f)));
    rows.extend(p.measured_kpa.map(|f| line("measured", f)));
    rows.extend(p.unexplained_kpa.map(|f| line("measured less explained", f)));
    text += &format!("\n{}", table::table(&["Change", ">Value ± 95 %", ""], &rows));
    text += &format!("\n{}\nFor comparison, {}\n", p.words, p.trade);
    text
}
