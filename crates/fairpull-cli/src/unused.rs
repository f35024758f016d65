//! What was given and changes nothing is said, so that nobody takes it for counted.
//!
//! Each value is taken out of the question in turn and the question asked again; the same answer in every digit and word
//! means that the value counted for nothing.

use fairpull::Field;
use serde::Serialize;
use serde_json::Value;

use crate::fail::Fail;

/// Words that choose, which are often those that hold anyway.
const CHOICES: [&str; 14] = [
    "figure",
    "from",
    "to",
    "site",
    "to_site",
    "ignition",
    "charging",
    "charge_cooling",
    "ambient_compensated",
    "charged",
    "model",
    "loss",
    "driven",
    "factor",
];
/// Fields that a loss model takes only together.
const PAIRS: [(&str, &str); 2] = [("load_share", "constant_drag"), ("constant_drag", "load_share")];

/// Notes every value of the question without which the answer is the same.
pub fn note<Q, A>(question: &Q, answer: &A, ask: impl Fn(&Q) -> Option<A>)
where
    Q: Serialize + Field,
    A: Serialize,
{
    for words in idle(question, answer, ask) {
        Fail::note(&words);
    }
}

fn idle<Q, A>(question: &Q, answer: &A, ask: impl Fn(&Q) -> Option<A>) -> Vec<String>
where
    Q: Serialize + Field,
    A: Serialize,
{
    let (Ok(whole), Ok(wanted)) = (serde_json::to_value(question), serde_json::to_value(answer)) else {
        return Vec::new();
    };
    let mut leaves = Vec::new();
    gather(&whole, &mut Vec::new(), &mut leaves);
    let mut found = Vec::new();
    for path in &leaves {
        let mut without = whole.clone();
        let value = take(&mut without, path).unwrap_or_default();
        let asked = fairpull::question_file::<Q>(&without.to_string(), "question.json");
        let same = asked.ok().and_then(|q| ask(&q)).and_then(|a| serde_json::to_value(a).ok());
        if same.as_ref() == Some(&wanted) {
            let pair = PAIRS.iter().find(|(a, _)| path.last().is_some_and(|l| l == a)).map(|(_, b)| *b);
            let hint = match pair {
                Some(other) if without.get(other).is_none_or(Value::is_null) => {
                    format!("; a loss model that takes it wants {other} too")
                }
                _ => String::new(),
            };
            found.push(format!("{} {value} changes nothing in this answer{hint}", path.join(".")));
        }
    }
    found
}

/// Paths of all single values.
fn gather(value: &Value, path: &mut Vec<String>, leaves: &mut Vec<Vec<String>>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                path.push(name.clone());
                gather(inner, path, leaves);
                path.pop();
            }
        }
        Value::String(_) | Value::Number(_)
            if path.last().is_some_and(|l| !CHOICES.contains(&l.as_str())) =>
        {
            leaves.push(path.clone());
        }
        _ => {}
    }
}

/// Takes a value out.
fn take(whole: &mut Value, path: &[String]) -> Option<Value> {
    let (last, above) = path.split_last()?;
    let mut at = whole;
    for name in above {
        at = at.get_mut(name)?;
    }
    at.as_object_mut()?.remove(last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Default, Serialize)]
    struct Question {
        power: Option<String>,
        speed: Option<f64>,
        site: Option<String>,
        load_share: Option<String>,
    }
    fairpull_tree::fields!(Question default { power, speed, site, load_share });

    #[test]
    fn what_the_answer_does_not_hold_is_noted() {
        let text = |t: &str| Some(t.to_owned());
        let q =
            Question { power: text("3kW"), speed: Some(2.0), site: text("crank"), load_share: text("2%") };
        let ask = |q: &Question| q.power.clone().map(|p| (p, q.speed));
        let said = idle(&q, &ask(&q).unwrap(), ask);
        let hint = "; a loss model that takes it wants constant_drag too";
        assert_eq!(said, [format!("load_share \"2%\" changes nothing in this answer{hint}")]);
        let ask = |q: &Question| Some(q.power.clone());
        assert_eq!(idle(&q, &ask(&q).unwrap(), ask).len(), 2, "the speed too, a choice never");
    }
}
