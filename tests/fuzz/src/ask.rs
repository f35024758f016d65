//! Questions by name, as the command and the browser ask them.

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
        "coast-down" => said(
            question_file::<CoastDownQuestion>(body, file)
                .and_then(|q| fairpull::road_coast_down(&q, &[], &[])),
        ),
        "road-log" => {
            let (head, log) = body.split_once("\n%%\n").unwrap_or((body, ""));
            let log = ("log.csv", log.as_bytes());
            said(
                question_file::<RoadLogQuestion>(head, file)
                    .and_then(|q| fairpull::road_log(&q, log, Some(log))),
            );
        }
        "vet" => said(question_file::<VetQuestion>(body, file).and_then(|q| fairpull::vet(&q, &c))),
        _ => {}
    }
}

fn said<T: Debug>(answer: Result<T, AskError>) {
    match answer {
        Ok(a) => finite(&a),
        Err(e) => assert!(!e.to_string().trim().is_empty()),
    }
}
