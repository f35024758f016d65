//! Questions by name, as the command asks them; with `@` before the name, as the browser module does.

use std::fmt::Debug;

use fairpull::{
    AirQuestion, AskError, CoastDownQuestion, FactorsQuestion, FuelQuestion, KnockQuestion, PredictQuestion,
    RestateQuestion, RoadLogQuestion, StressQuestion, VetQuestion, builtin, question_file,
};

use super::parts::finite;

/// Asks; the answer must hold only numbers, a refusal must say something.
pub fn ask(word: &str, body: &str) {
    let file = if body.trim_start().starts_with('{') { "q.json" } else { "q.toml" };
    let c = builtin();
    match word {
        "air" => said(question_file::<AirQuestion>(body, file).and_then(|q| fairpull::air(&q))),
        "factors" => {
            said(question_file::<FactorsQuestion>(body, file).and_then(|q| fairpull::factors(&q, &c)))
        }
        "fuel" => said(question_file::<FuelQuestion>(body, file).and_then(|q| fairpull::fuel(&q))),
        "knock" => {
            said(question_file::<KnockQuestion>(body, file).and_then(|q| fairpull::knock(&q, c.knocks())))
        }
        "stress" => said(question_file::<StressQuestion>(body, file).and_then(|q| fairpull::stress(&q))),
        "predict" => {
            said(question_file::<PredictQuestion>(body, file).and_then(|q| fairpull::road_predict(&q, &c)))
        }
        "restate" => said(question_file::<RestateQuestion>(body, file).and_then(|q| q.answer(&c))),
        "coast-down" => {
            let (head, logs) = body.split_once("\n%%\n").unwrap_or((body, ""));
            let other = another(logs);
            let (there, back) = ([("log.csv", logs.as_bytes())], [("back.csv", other.as_bytes())]);
            let (there, back): (&[_], &[_]) = if logs.is_empty() { (&[], &[]) } else { (&there, &back) };
            said(
                question_file::<CoastDownQuestion>(head, file)
                    .and_then(|q| fairpull::road_coast_down(&q, there, back)),
            );
        }
        "road-log" => {
            let (head, log) = body.split_once("\n%%\n").unwrap_or((body, ""));
            let other = another(log);
            let (there, back) = (("log.csv", log.as_bytes()), ("back.csv", other.as_bytes()));
            said(
                question_file::<RoadLogQuestion>(head, file)
                    .and_then(|q| fairpull::road_log(&q, there, Some(back))),
            );
        }
        "vet" => said(question_file::<VetQuestion>(body, file).and_then(|q| fairpull::vet(&q, &c))),
        "@factors-many" => many(body, fairpull_wasm::factors),
        "@cranks-many" => many(body, fairpull_wasm::cranks),
        _ => {
            if let Some(name) = word.strip_prefix('@') {
                crossed(fairpull_wasm::answer(name, body));
            }
        }
    }
}

/// A log like another: the same one in the other direction would be refused.
fn another(log: &str) -> String {
    log.replace('3', "4")
}

/// What crosses to the browser is JSON either way, without a number that is none.
fn crossed(answer: Result<String, fairpull_wasm::Fault>) {
    match answer {
        Ok(json) => assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok(), "no JSON: {json}"),
        Err(fault) => {
            assert!(!fault.problem.trim().is_empty(), "a refusal without a reason: {fault:?}");
            assert!(serde_json::from_str::<serde_json::Value>(&fault.json()).is_ok());
        }
    }
}

type Many = fn(&str, &str, &[f64], &[f64], &[f64]) -> Result<Vec<f64>, fairpull_wasm::Fault>;

/// Id, JSON of an engine or a driveline, then one row of three numbers a line.
fn many(body: &str, of: Many) {
    let mut lines = body.lines();
    let (id, json) = (lines.next().unwrap_or(""), lines.next().unwrap_or(""));
    let mut columns = [vec![], vec![], vec![]];
    for line in lines.take(50) {
        for (column, cell) in columns.iter_mut().zip(line.split(' ')) {
            column.push(cell.parse().unwrap_or(f64::NAN));
        }
    }
    let [a, b, c] = &columns;
    match of(id, json, a, b, c) {
        Ok(answers) => {
            assert_eq!(answers.len(), a.len());
            assert!(answers.iter().all(|x| !x.is_infinite()), "an infinite answer: {answers:?}");
        }
        Err(fault) => assert!(!fault.problem.trim().is_empty()),
    }
}

fn said<T: Debug>(answer: Result<T, AskError>) {
    match answer {
        Ok(a) => finite(&a),
        Err(e) => assert!(!e.to_string().trim().is_empty()),
    }
}
