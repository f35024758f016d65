//! A vetted claim as a page of its own: the statement first, then each check with its numbers, bound and source.

use crate::escape::clean;
use crate::page::{Col, quiet_table, section, t};
use crate::svg;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde::{Deserialize, Serialize};

/// What the page of a vetted claim shows; the same keys as the JSON of a vetting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct VettingPage {
    /// Title of the claim.
    pub title: String,
    /// `consistent`, `cannot-tell` or `contradicted`.
    pub outcome: String,
    /// The outcome in a sentence.
    pub statement: String,
    /// Checks in order.
    pub checks: Vec<VettingCheck>,
    /// Checks without input.
    pub not_run: Vec<VettingNotRun>,
    /// What has to be read with it.
    pub cautions: Vec<String>,
}

/// One check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct VettingCheck {
    /// Id.
    pub id: String,
    /// What is checked.
    pub title: String,
    /// Numbers in.
    pub inputs: Vec<VettingInput>,
    /// The checked value.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// Lower bound.
    pub low: Option<f64>,
    /// Upper bound.
    pub high: Option<f64>,
    /// Place of the claim in the bound.
    pub place: String,
    /// Source of the bound.
    pub source: String,
    /// Grade of reading.
    pub grade: String,
    /// Outcome.
    pub outcome: String,
}

/// A number that went into a check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct VettingInput {
    /// Name.
    pub name: String,
    /// Value.
    pub value: f64,
    /// Unit.
    pub unit: String,
    /// Assumed rather than claimed.
    pub assumed: bool,
}

/// A check that was not run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct VettingNotRun {
    /// Id.
    pub id: String,
    /// What it needs.
    pub needs: String,
}

/// The page, self-contained and printable, every text escaped.
#[must_use]
pub fn vetting_to_html(v: &VettingPage) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { (v.title) " – vetted claim" }
                style { (PreEscaped(include_str!("page.css"))) (PreEscaped(svg::STYLE)) }
            }
            body {
                header { p.kind { "Vetted claim" } h1 { (v.title) } }
                main {
                    (section("statement", "Statement", html! {
                        div.found { p.big { (outcome(&v.outcome)) } p { (v.statement) } }
                        p.small { "Each check stands on its own evidence; the statement is never stronger than the strongest of them. "
                            "A contradiction needs a claim outside the 99.9 % interval of a bound that was read, derived or well remembered." }
                    }))
                    (section("checks", "Checks", checks(&v.checks)))
                    @for c in &v.checks { (section(&format!("check-{}", c.id), &c.title, check(c))) }
                    @if !v.not_run.is_empty() {
                        (section("not-run", "Checks without input", html! {
                            ul { @for n in &v.not_run { li { (n.id) ": " (n.needs) } } }
                        }))
                    }
                    (section("cautions", "Cautions", html! { ul { @for c in &v.cautions { li { (c) } } } }))
                }
                footer { p { "Made by fairpull " (env!("CARGO_PKG_VERSION")) "." } }
            }
        }
    };
    clean(&page.into_string())
}

fn outcome(id: &str) -> &str {
    match id {
        "consistent" => "Consistent",
        "cannot-tell" => "Cannot tell",
        "contradicted" => "Contradicted",
        other => other,
    }
}

fn number(x: f64) -> String {
    let size = x.abs();
    let decimals = if size >= 1000.0 {
        0
    } else if size >= 100.0 {
        1
    } else if size >= 1.0 {
        2
    } else {
        4
    };
    format!("{x:.decimals$}")
}

fn bound(c: &VettingCheck) -> String {
    match (c.low, c.high) {
        (Some(a), Some(b)) => format!("{} to {} {}", number(a), number(b), c.unit),
        (Some(a), None) => format!("at least {} {}", number(a), c.unit),
        (None, Some(b)) => format!("at most {} {}", number(b), c.unit),
        (None, None) => "none".into(),
    }
}

fn checks(all: &[VettingCheck]) -> Markup {
    let rows: Vec<Vec<Markup>> = all
        .iter()
        .map(|c| {
            vec![
                t(&c.title),
                t(format!("{} {}", number(c.value), c.unit)),
                t(bound(c)),
                html! { b { (outcome(&c.outcome)) } },
            ]
        })
        .collect();
    quiet_table(
        "Checks",
        &[Col::Text("Check"), Col::Number("Claim"), Col::Text("Bound"), Col::Text("Outcome")],
        &rows,
    )
}

fn check(c: &VettingCheck) -> Markup {
    html! {
        p { b { (outcome(&c.outcome)) ". " } (c.place) }
        dl.facts {
            dt { "Claim" } dd { (number(c.value)) " " (c.unit) }
            dt { "Bound" } dd { (bound(c)) }
            @for i in &c.inputs {
                dt { (i.name) }
                dd { (number(i.value)) " " (i.unit) @if i.assumed { " (assumed)" } }
            }
            dt { "Source" } dd { (c.source) " (" (c.grade) ")" }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_text_stays_text() {
        let v = VettingPage {
            title: "<script>alert(1)</script>".into(),
            outcome: "contradicted".into(),
            statement: "a & b".into(),
            checks: vec![VettingCheck {
                id: "power".into(),
                title: "power = torque x speed".into(),
                inputs: vec![VettingInput {
                    name: "torque".into(),
                    value: 300.0,
                    unit: "N·m".into(),
                    assumed: true,
                }],
                value: 1.13,
                unit: "1".into(),
                low: None,
                high: Some(1.005),
                place: "13 % above".into(),
                source: "definition".into(),
                grade: "exact".into(),
                outcome: "contradicted".into(),
            }],
            not_run: vec![VettingNotRun { id: "flow".into(), needs: "fuel flow".into() }],
            cautions: vec!["closed road".into()],
        };
        let page = vetting_to_html(&v);
        assert!(!page.contains("<script>") && page.contains("&lt;script&gt;"));
        assert!(page.contains("at most 1.00 1") || page.contains("at most 1.01 1"));
        assert!(page.contains("(assumed)") && page.contains("closed road"));
        assert_eq!(page.matches("<section").count(), page.matches("</section>").count());
    }
}
