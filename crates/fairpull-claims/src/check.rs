//! One check of a claim, and what all of them amount to.

use fairpull_core::{Cite, Reading};
use serde::Serialize;

/// Outcome of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Outcome {
    /// The claim lies inside the bound.
    Consistent,
    /// The check cannot decide: too close to the bound for its uncertainty, or a bound too weak to decide anything.
    CannotTell,
    /// The claim lies clearly outside the bound.
    Contradicted,
}

impl Outcome {
    /// The outcome in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Consistent => "consistent",
            Self::CannotTell => "cannot tell",
            Self::Contradicted => "contradicted",
        }
    }
}

/// A number that went into a check.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Input {
    /// Name.
    pub name: String,
    /// Value.
    pub value: f64,
    /// Unit.
    pub unit: &'static str,
    /// True when the claim did not state it and the check assumed it.
    pub assumed: bool,
}

/// A check: numbers in, the bound, the claim's place in it, source and outcome.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Check {
    /// Lower-case id.
    pub id: &'static str,
    /// What is checked.
    pub title: String,
    /// Numbers in.
    pub inputs: Vec<Input>,
    /// The checked value.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Lower bound, if there is one.
    pub low: Option<f64>,
    /// Upper bound, if there is one.
    pub high: Option<f64>,
    /// The claim's place in the bound, in words.
    pub place: String,
    /// Source of the bound.
    pub source: String,
    /// How far the source was read.
    pub grade: &'static str,
    /// Outcome.
    pub outcome: Outcome,
}

/// A check that was not run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NotRun {
    /// Id of the check.
    pub id: &'static str,
    /// What it needs, or why it refused.
    pub needs: String,
}

/// What vetting a claim found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Vetting {
    /// Schema of this result.
    pub schema: &'static str,
    /// Title of the claim.
    pub title: String,
    /// Checks in a fixed order.
    pub checks: Vec<Check>,
    /// Checks without input.
    pub not_run: Vec<NotRun>,
    /// The strongest thing that can be said.
    pub outcome: Outcome,
    /// The same in a sentence, never stronger than its evidence.
    pub statement: String,
    /// What has to be read with it.
    pub cautions: Vec<&'static str>,
}

impl Check {
    pub(crate) fn new(id: &'static str, title: &str, value: f64, unit: &'static str, cite: Cite) -> Self {
        Self {
            id,
            title: title.to_owned(),
            inputs: Vec::new(),
            value,
            unit,
            low: None,
            high: None,
            place: String::new(),
            source: cite.to_string(),
            grade: cite.reading.words(),
            outcome: Outcome::CannotTell,
        }
    }

    pub(crate) fn with(mut self, name: &str, value: f64, unit: &'static str) -> Self {
        self.inputs.push(Input { name: name.to_owned(), value, unit, assumed: false });
        self
    }

    pub(crate) fn assuming(mut self, name: &str, value: f64, unit: &'static str) -> Self {
        self.inputs.push(Input { name: name.to_owned(), value, unit, assumed: true });
        self
    }

    pub(crate) fn bounds(mut self, low: Option<f64>, high: Option<f64>) -> Self {
        self.low = low;
        self.high = high;
        self
    }

    /// Decides. A bound whose text is doubtful never contradicts: it can only ask for evidence.
    pub(crate) fn decide(mut self, outcome: Outcome, cite: Cite, place: String) -> Self {
        let weak = cite.reading == Reading::Doubtful;
        self.outcome = if weak && outcome == Outcome::Contradicted { Outcome::CannotTell } else { outcome };
        self.place = place;
        if weak && outcome == Outcome::Contradicted {
            self.place
                .push_str("; the bound is own judgement, so this asks for evidence and contradicts nothing");
        }
        self
    }
}

/// The statement over all checks.
pub(crate) fn statement(checks: &[Check]) -> (Outcome, String) {
    let named =
        |o: Outcome| -> Vec<&str> { checks.iter().filter(|c| c.outcome == o).map(|c| c.id).collect() };
    let (bad, open, good) =
        (named(Outcome::Contradicted), named(Outcome::CannotTell), named(Outcome::Consistent));
    let total = checks.len();
    if !bad.is_empty() {
        let text = format!(
            "Contradicted by {} of {total} checks ({}): at least one number of the claim is wrong or stands on another basis than stated; which one, the checks do not say.",
            bad.len(),
            bad.join(", ")
        );
        return (Outcome::Contradicted, text);
    }
    if good.is_empty() {
        let text = if total == 0 {
            "Cannot tell: the claim gives no check anything to work with.".to_owned()
        } else {
            format!("Cannot tell: none of {total} checks decides.")
        };
        return (Outcome::CannotTell, text);
    }
    let rest = if open.is_empty() {
        String::new()
    } else {
        format!("; {} cannot tell ({})", open.len(), open.join(", "))
    };
    let text = format!(
        "Not contradicted: {} of {total} checks are consistent with the claim ({}){rest}. That is no proof of the figure, only that these numbers fit together.",
        good.len(),
        good.join(", ")
    );
    (Outcome::Consistent, text)
}

/// A number with the digits that a reader can use.
fn short(x: f64) -> String {
    let size = libm::fabs(x);
    let text = if size >= 100.0 {
        format!("{x:.0}")
    } else if size >= 10.0 {
        format!("{x:.1}")
    } else {
        format!("{x:.3}")
    };
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

impl std::fmt::Display for Check {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let unit = if self.unit == "1" { String::new() } else { format!(" {}", self.unit) };
        let bound = match (self.low, self.high) {
            (Some(l), Some(h)) => format!("bound {} to {}{unit}", short(l), short(h)),
            (Some(l), None) => format!("bound: at least {}{unit}", short(l)),
            (None, Some(h)) => format!("bound: at most {}{unit}", short(h)),
            (None, None) => "no bound".to_owned(),
        };
        writeln!(f, "{}: {} [{}]", self.outcome.words(), self.title, self.id)?;
        writeln!(f, "  {}{unit}; {bound}; {}", short(self.value), self.place)?;
        for i in &self.inputs {
            let unit = if i.unit == "1" { "" } else { i.unit };
            let assumed = if i.assumed { " (assumed)" } else { "" };
            writeln!(f, "  with {} {} {unit}{assumed}", i.name, short(i.value))?;
        }
        writeln!(f, "  source: {} ({})", self.source, self.grade)
    }
}

impl std::fmt::Display for Vetting {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if !self.title.is_empty() {
            writeln!(f, "{}", self.title)?;
        }
        writeln!(f, "{}\n", self.statement)?;
        for check in &self.checks {
            writeln!(f, "{check}")?;
        }
        if !self.not_run.is_empty() {
            writeln!(f, "Not run for want of input:")?;
        }
        for n in &self.not_run {
            writeln!(f, "  {}: {}", n.id, n.needs)?;
        }
        for caution in &self.cautions {
            writeln!(f, "Caution: {caution}")?;
        }
        Ok(())
    }
}
