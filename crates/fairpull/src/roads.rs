//! Question: which times will the road show?

use fairpull_core::Catalogue;
use fairpull_road::{CAUTIONS, Measure, Predicted, QUARTER_MILE_M, RoadError, predict};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::road_car::CarQuestion;
use crate::stated::quantity;

/// Schema of [`PredictAnswer`].
pub const PREDICT_SCHEMA: &str = "fairpull-road-predict-1";

/// A car and what is to be timed.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PredictQuestion {
    /// The car.
    pub car: CarQuestion,
    /// `100-200km/h`, `60-130mph`, `quarter-mile`, `kilometre`, `1000m`, `1000m from 80km/h`; `rollout` behind a
    /// standing start times from one foot on. The usual ones when left out.
    pub measures: Vec<String>,
}
fairpull_tree::fields!(PredictQuestion default { car, measures });

/// One measure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PredictEntry {
    /// Name.
    pub name: String,
    /// The prediction.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub predicted: Option<Predicted>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// Times that the road will show.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PredictAnswer {
    /// [`PREDICT_SCHEMA`].
    pub schema: &'static str,
    /// The measures.
    pub times: Vec<PredictEntry>,
    /// What was assumed, in words.
    pub assumed: Vec<String>,
    /// Cautions for road tests.
    pub cautions: Vec<&'static str>,
}

/// The times of a car with interval.
///
/// # Errors
/// [`AskError`] naming the field; a measure that the car does not reach keeps its place with the reason.
pub fn road_predict(
    question: &PredictQuestion,
    catalogue: &Catalogue<'_>,
) -> Result<PredictAnswer, AskError> {
    let asked = measures(&question.measures)?;
    let standing = asked.iter().any(stands);
    let built = question.car.build(standing, catalogue)?;
    built.car.check().map_err(|e| road("car", &e))?;
    let times = asked
        .iter()
        .map(|m| match predict(&built.car, built.on, &built.u, &[*m]) {
            Ok(mut p) => PredictEntry { name: m.name(), predicted: p.pop(), why: None },
            Err(e) => PredictEntry { name: m.name(), predicted: None, why: Some(e.to_string()) },
        })
        .collect();
    Ok(PredictAnswer { schema: PREDICT_SCHEMA, times, assumed: built.assumed, cautions: CAUTIONS.to_vec() })
}

pub(crate) fn road(field: &str, e: &RoadError) -> AskError {
    AskError::new(field, "", e.to_string(), "")
}

fn stands(m: &Measure) -> bool {
    let (Measure::Speeds { from_kmh, .. } | Measure::Distance { from_kmh, .. }) = m;
    *from_kmh == 0.0
}

const USUAL: [&str; 6] = ["0-100km/h", "0-60mph", "100-200km/h", "60-130mph", "quarter-mile", "kilometre"];

/// What is to be timed, from text.
pub(crate) fn measures(texts: &[String]) -> Result<Vec<Measure>, AskError> {
    if texts.is_empty() {
        return USUAL.iter().map(|t| measure(t)).collect();
    }
    let possible = |text: &String| {
        let m = measure(text)?;
        m.check().map_err(|e| AskError::new("measures", text, e.to_string(), ""))?;
        Ok(m)
    };
    texts.iter().map(possible).collect()
}

fn measure(text: &str) -> Result<Measure, AskError> {
    let all = text.trim();
    let (body, rollout) = match all.strip_suffix("rollout") {
        Some(b) => (b.trim(), true),
        None => (all, false),
    };
    let fail = |why: String| {
        AskError::new(
            "measures",
            text,
            why,
            "write 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m or 1000m from 80km/h",
        )
    };
    let speed =
        |t: &str| quantity("measures", t, D::Speed).map(|s| s.value * 3.6).map_err(|e| fail(e.problem));
    match body {
        "quarter-mile" => {
            return Ok(Measure::Distance { distance_m: QUARTER_MILE_M, from_kmh: 0.0, rollout });
        }
        "kilometre" => return Ok(Measure::Distance { distance_m: 1000.0, from_kmh: 0.0, rollout }),
        _ => {}
    }
    if let Some((a, b)) = body.split_once('-').filter(|(a, _)| !a.trim().is_empty()) {
        let read = |text: &str| fairpull_units::decimal(text.replace(',', ".").as_bytes());
        let low: f64 = read(a.trim()).ok_or_else(|| fail(format!("{:?} is not a number", a.trim())))?;
        let number: String =
            b.trim().chars().take_while(|c| c.is_ascii_digit() || ".,".contains(*c)).collect();
        let unit = b.trim().get(number.len()..).unwrap_or("").trim();
        // miles an hour by their exact definition; anything else by the unit of the end speed
        if let (true, Some(high)) = (unit == "mph", read(&number)) {
            return Ok(Measure::mph(low, high, rollout));
        }
        let (from_kmh, to_kmh) = (speed(&format!("{low}{unit}"))?, speed(b)?);
        return Ok(Measure::Speeds { from_kmh, to_kmh, rollout });
    }
    let (way, from) = match body.split_once("from") {
        Some((w, f)) => (w.trim(), speed(f.trim())?),
        None => (body, 0.0),
    };
    let distance_m = quantity("measures", way, D::Length)
        .map_err(|_| fail(format!("{way:?} is neither speeds nor a distance")))?
        .value;
    Ok(Measure::Distance { distance_m, from_kmh: from, rollout })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_by_exact_definition() {
        // the mile is 1609.344 m (international yard and pound agreement 1959; NIST SP 811, B.8)
        let m = measure("60-130mph").unwrap();
        assert_eq!(m, Measure::mph(60.0, 130.0, false));
        let Measure::Speeds { from_kmh, to_kmh, .. } = m else { panic!() };
        assert!((from_kmh - 96.56064).abs() < 1e-12 && (to_kmh - 209.21472).abs() < 1e-9);
        assert_eq!(measure("0-60mph rollout").unwrap(), Measure::mph(0.0, 60.0, true));
        assert_eq!(measure("1000m from 80km/h").unwrap().name(), "flying 1000 m from 80 km/h");
        let e = measure("fast").unwrap_err().to_string();
        insta::assert_snapshot!(e, @r#"measures "fast": "fast" is neither speeds nor a distance; write 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m or 1000m from 80km/h"#);
    }
}
