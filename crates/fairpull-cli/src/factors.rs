//! `fairpull factors`.

use fairpull::FactorsQuestion;

use crate::args::Factors;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::{air, out, table, unused};

pub fn run(a: &Factors) -> Result<(), Fail> {
    let question = FactorsQuestion { air: a.air.question(), engine: a.engine.question() };
    let answer = with_declared(&a.declared, |c| {
        let answer = fairpull::factors(&question, c)?;
        unused::note(&question, &answer, |q| fairpull::factors(q, c).ok());
        Ok(answer)
    })?;
    if a.json {
        return out::json(&answer);
    }
    let rows: Vec<Vec<String>> = answer
        .factors
        .iter()
        .map(|f| {
            let mut remark = vec![f.why.clone()];
            remark.extend(f.notices.iter().cloned());
            remark.retain(|r| !r.is_empty());
            vec![
                f.standard.clone(),
                f.factor.map_or_else(|| "-".into(), |x| format!("{x:.4}")),
                f.blind_factor.map_or_else(String::new, |x| format!("({x:.4})")),
                f.status.clone(),
                f.rating.clone(),
                remark.join("; "),
            ]
        })
        .collect();
    let mut text = air::words(&answer.air);
    text.push('\n');
    text += &table::table(&["Standard", ">Factor", ">(blind)", "Range", "Rating", "Remarks"], &rows);
    text += "\nThe factor multiplies observed engine power and torque. Blind: what the formula alone claims for an engine that compensates by itself.\n";
    out::text(&text)
}
