//! A vetted claim as a page of its own: the statement first, then each check with its numbers, bound and source.

use crate::digits::Style;
use crate::escape::clean;
use crate::page::{Col, quiet_table, section, section_of, t};
use crate::pattern::fill;
use crate::said::{cited, say};
use crate::svg;
use crate::text::{Language, Words};
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

/// The page in English, self-contained and printable, every text escaped.
#[must_use]
pub fn vetting_to_html(v: &VettingPage) -> String {
    vetting_to_html_in(v, Language::English)
}

/// The page in a language.
#[must_use]
pub fn vetting_to_html_in(v: &VettingPage, language: Language) -> String {
    let p = Claim { w: language.words(), style: language.style() };
    let w = p.w;
    let page = html! {
        (DOCTYPE)
        html lang=(w.tag) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { (v.title) " – " (w.vetted) }
                style { (PreEscaped(include_str!("page.css"))) (PreEscaped(svg::STYLE)) }
            }
            body {
                header { p.kind { (w.vetted) } h1 { (v.title) } }
                main {
                    (section("statement", w.claim_statement, html! {
                        div.found { p.big { (p.outcome(&v.outcome)) } p { (p.said(&v.statement)) } }
                        p.small { (w.claim_note) }
                    }))
                    (section("checks", w.claim_checks, p.checks(&v.checks)))
                    @for (i, c) in v.checks.iter().enumerate() {
                        (section_of(&format!("check-{}-{}", i + 1, c.id), p.said(&c.title), p.check(c)))
                    }
                    @if !v.not_run.is_empty() {
                        (section("not-run", w.checks_not_run, html! {
                            ul { @for n in &v.not_run { li { (n.id) ": " (p.said(&n.needs)) } } }
                        }))
                    }
                    (section("cautions", w.cautions, html! { ul { @for c in &v.cautions { li { (p.said(c)) } } } }))
                }
                footer { p { (w.made_by) " fairpull " (env!("CARGO_PKG_VERSION")) "." } }
            }
        }
    };
    clean(&page.into_string())
}

/// What every part of the page needs.
struct Claim {
    w: &'static Words,
    style: Style,
}

impl Claim {
    fn said(&self, text: &str) -> Markup {
        say(self.w, text).markup()
    }

    fn outcome<'a>(&self, id: &'a str) -> &'a str {
        match id {
            "consistent" => self.w.consistent,
            "cannot-tell" => self.w.cannot_tell,
            "contradicted" => self.w.contradicted,
            other => other,
        }
    }

    fn number(&self, x: f64) -> String {
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
        crate::digits::number(x, decimals, self.style)
    }

    /// A number with its unit; a ratio has none.
    fn sized(&self, x: f64, unit: &str) -> String {
        if unit == "1" { self.number(x) } else { format!("{} {unit}", self.number(x)) }
    }

    fn bound(&self, c: &VettingCheck) -> String {
        match (c.low, c.high) {
            (Some(a), Some(b)) => fill(self.w.bound_both, &[&self.number(a), &self.sized(b, &c.unit)]),
            (Some(a), None) => fill(self.w.bound_low, &[&self.sized(a, &c.unit)]),
            (None, Some(b)) => fill(self.w.bound_high, &[&self.sized(b, &c.unit)]),
            (None, None) => self.w.bound_none.into(),
        }
    }

    fn checks(&self, all: &[VettingCheck]) -> Markup {
        let rows: Vec<Vec<Markup>> = all
            .iter()
            .map(|c| {
                vec![
                    self.said(&c.title),
                    t(self.sized(c.value, &c.unit)),
                    t(self.bound(c)),
                    html! { b { (self.outcome(&c.outcome)) } },
                ]
            })
            .collect();
        let w = self.w;
        let cols = [Col::Text(w.claim_check), Col::Number(w.claim), Col::Text(w.bound), Col::Text(w.outcome)];
        quiet_table(w.claim_checks, &cols, &rows)
    }

    fn check(&self, c: &VettingCheck) -> Markup {
        let w = self.w;
        html! {
            p { b { (self.outcome(&c.outcome)) ". " } (self.said(&c.place)) }
            dl.facts {
                dt { (w.claim) } dd { (self.sized(c.value, &c.unit)) }
                dt { (w.bound) } dd { (self.bound(c)) }
                @for i in &c.inputs {
                    dt { (self.said(&i.name)) }
                    dd { (self.sized(i.value, &i.unit)) @if i.assumed { " (" (w.assumed) ")" } }
                }
                dt { (w.source) } dd { (cited(w, &c.source).markup()) " (" (self.said(&c.grade)) ")" }
            }
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
        assert!(page.contains("at most 1.00<"), "a ratio has no unit");
        assert!(page.contains("(assumed)") && page.contains("closed road"));
        assert_eq!(page.matches("<section").count(), page.matches("</section>").count());
    }
}
