//! Texts of the facade: standards, engines, sites, fuels.

use fairpull::core::{CorrectionStandard, Engine, Fuel, Span};
use fairpull::restate::{Site, Treatment};
use fairpull::{EngineQuestion, KnockQuestion, builtin, nearest, question_file};

/// A standard by id or alias.
pub(crate) fn standard(id: &str) -> Result<&'static dyn CorrectionStandard, String> {
    builtin().standard(id).ok_or_else(|| {
        let all: Vec<&str> = builtin()
            .standards()
            .iter()
            .flat_map(|s| std::iter::once(s.card().id).chain(s.card().aliases.iter().map(|a| a.id)))
            .collect();
        format!("{id:?} is not the id of a standard; nearest: {}", nearest(id, &all))
    })
}

/// `observed`, or the id of a standard.
pub(crate) fn treatment(word: &str) -> Result<Treatment, String> {
    if word == "observed" {
        return Ok(Treatment::Observed);
    }
    standard(word).map(|_| Treatment::Corrected(word.to_owned()))
}

/// `crank`, `wheel` or `hub`.
pub(crate) fn site(word: &str) -> Result<Site, String> {
    let found = Site::ALL.into_iter().find(|s| s.word() == word);
    found.ok_or_else(|| format!("{word:?} is not a site; write crank, wheel or hub"))
}

/// An engine in the fields of [`EngineQuestion`], as JSON (begins with a brace) or TOML.
pub(crate) fn engine(text: &str) -> Result<Engine, String> {
    let name = if text.trim_start().starts_with('{') { "engine.json" } else { "engine.toml" };
    let question: EngineQuestion = question_file(text, name).map_err(|e| e.to_string())?;
    question.engine().map_err(|e| format!("engine: {e}"))
}

/// A fuel: grade id, octane numbers or blend.
pub(crate) fn fuel(text: &str) -> Result<Fuel, String> {
    fairpull::fuels::parse_fuel(text).map(|f| f.stock.fuel()).map_err(|e| e.to_string())
}

/// The weight K of the sensitivity: `-0.2 ± 0.3`, or the name of a published prior.
pub(crate) fn k(text: &str) -> Result<Span, String> {
    let question = KnockQuestion {
        k: Some(text.to_owned()),
        requirement: Some("90".to_owned()),
        ..KnockQuestion::default()
    };
    let input = question.input().map_err(|e| e.to_string())?;
    input.k.map(Span::from).ok_or_else(|| format!("k {text:?} is empty"))
}
