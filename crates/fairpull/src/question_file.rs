//! A question as a file: TOML, or JSON when the name ends in `.json`.

use serde::de::DeserializeOwned;

use crate::AskError;

/// Reads a question, e.g. a [`crate::KnockQuestion`], from the text of a file.
///
/// # Errors
/// [`AskError`] whose field is `file:line:column`, with what was found and what was expected.
pub fn question_file<T: DeserializeOwned>(text: &str, file: &str) -> Result<T, AskError> {
    let fail = |line: usize, column: usize, problem: &str| {
        AskError::new(&format!("{file}:{line}:{column}"), "", problem, "")
    };
    if file.to_lowercase().ends_with(".json") {
        return serde_json::from_str(text).map_err(|e| {
            let whole = e.to_string();
            let problem = whole.split(" at line ").next().unwrap_or(&whole);
            fail(e.line(), e.column(), problem)
        });
    }
    toml::from_str(text).map_err(|e| {
        let before = text.get(..e.span().map_or(0, |s| s.start)).unwrap_or("");
        let line = before.matches('\n').count() + 1;
        let start = before.rfind('\n').map_or(0, |i| i + 1);
        let column = before.get(start..).unwrap_or("").chars().count() + 1;
        fail(line, column, e.message())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::KnockQuestion;

    #[test]
    fn a_misspelt_field_has_its_place() {
        let e = question_file::<KnockQuestion>("fuels = []\nrequirment = \"96\"\n", "q.toml").unwrap_err();
        insta::assert_snapshot!(e, @r#"q.toml:2:1: unknown field `requirment`, expected one of `fuels`, `model`, `k`, `requirement`, `cycle`, `anchor`, `changes`, `slopes`"#);
        let e = question_file::<KnockQuestion>("{\"fuels\": 3}", "q.json").unwrap_err();
        insta::assert_snapshot!(e, @"q.json:1:11: invalid type: integer `3`, expected a sequence");
    }
}
