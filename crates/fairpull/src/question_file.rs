//! A question as a file: TOML, or JSON when the name ends in `.json`.

use fairpull_tree::{Field, Node};

use crate::AskError;

/// Reads a question, e.g. a [`crate::KnockQuestion`], from the text of a file.
///
/// # Errors
/// [`AskError`] whose field is `file:line:column: field`, with what was found and what was expected.
pub fn question_file<T: Field>(text: &str, file: &str) -> Result<T, AskError> {
    let json = file.to_lowercase().ends_with(".json");
    let tree = || if json { fairpull_tree::json(text) } else { fairpull_tree::toml(text) };
    tree().and_then(Node::read).map_err(|e| {
        let (line, column) = e.place(text);
        let field = tree().map_or_else(|_| String::new(), |t| e.field(&t));
        let field = if field.is_empty() { field } else { format!(": {field}") };
        AskError::new(&format!("{file}:{line}:{column}{field}"), "", &e.message, "")
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
        insta::assert_snapshot!(e, @"q.json:1:11: fuels: invalid type: integer `3`, expected a sequence");
    }
}
