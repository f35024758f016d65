//! Question: what plug-ins are there, and what does one say about itself?

use fairpull_core::{Alias, Catalogue, Compensation, Limit, PressureBasis, Source, StandardCard, TestWindow};
use serde::{Deserialize, Serialize};

use crate::AskError;
use crate::ask::nearest;
use crate::factors::status_words;

/// One line of the catalogue.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CatalogueEntry {
    /// `standard`, `loss` or `knock`.
    pub family: String,
    /// Id.
    pub id: String,
    /// Designation or title.
    pub title: String,
    /// Standing, rating or nature in words.
    pub status: String,
    /// What it applies to.
    pub applies: String,
    /// Reference air, or what it needs.
    pub reference: String,
    /// Grade of reading; of another designation of a text, the grade at which it is known to be the same.
    pub reading: String,
}

/// A whole card, section by section.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CardAnswer {
    /// `standard`, `loss` or `knock`.
    pub family: String,
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Formula.
    pub formula: String,
    /// Label and text.
    pub facts: Vec<(String, String)>,
    /// What was taken from where: what, source, grade.
    pub sources: Vec<(String, String, String)>,
    /// What could not be established.
    pub gaps: Vec<String>,
}

/// Every plug-in of a catalogue.
#[must_use]
pub fn catalogue(c: &Catalogue<'_>) -> Vec<CatalogueEntry> {
    let mut out = Vec::new();
    for s in c.standards() {
        let k = s.card();
        out.push(CatalogueEntry {
            family: "standard".into(),
            id: k.id.into(),
            title: k.designation.into(),
            status: format!("{}; {}", k.rating, status_words(k.status)),
            applies: applies(k),
            reference: reference(k),
            reading: k.grade().words().into(),
        });
        for a in k.aliases {
            out.push(CatalogueEntry {
                family: "standard".into(),
                id: a.id.into(),
                title: a.designation.into(),
                status: format!("alias of {}", k.id),
                applies: applies(k),
                reference: reference(k),
                reading: format!("identity {}; text as {}", a.cite.reading.words(), k.id),
            });
        }
    }
    for l in c.losses() {
        let k = l.card();
        out.push(CatalogueEntry {
            family: "loss".into(),
            id: k.id.into(),
            title: k.title.into(),
            status: if k.habit { "habit, to read other people's figures" } else { "model" }.into(),
            applies: k.contains.into(),
            reference: if k.needs.is_empty() {
                "needs nothing".into()
            } else {
                format!("needs {}", k.needs.join(", "))
            },
            reading: k.grade().words().into(),
        });
    }
    for m in c.knocks() {
        let k = m.card();
        out.push(CatalogueEntry {
            family: "knock".into(),
            id: k.id.into(),
            title: k.title.into(),
            status: "model".into(),
            applies: k.leaves_out.into(),
            reference: format!("needs {}", k.needs.join(", ")),
            reading: k.grade().words().into(),
        });
    }
    out
}

/// The whole card of one plug-in.
///
/// # Errors
/// [`AskError`] with the nearest ids.
pub fn card(c: &Catalogue<'_>, id: &str) -> Result<CardAnswer, AskError> {
    if let Some(s) = c.standard(id) {
        return Ok(standard_card(s.card(), id));
    }
    if let Some(l) = c.loss(id) {
        let k = l.card();
        return Ok(CardAnswer {
            family: "loss".into(),
            id: k.id.into(),
            title: k.title.into(),
            formula: k.formula.into(),
            facts: vec![
                ("contains".into(), k.contains.into()),
                ("leaves out".into(), k.leaves_out.into()),
                ("needs".into(), if k.needs.is_empty() { "nothing".into() } else { k.needs.join(", ") }),
                ("grade of reading".into(), k.grade().words().into()),
            ],
            sources: sources(k.sources),
            gaps: Vec::new(),
        });
    }
    if let Some(m) = c.knock(id) {
        let k = m.card();
        return Ok(CardAnswer {
            family: "knock".into(),
            id: k.id.into(),
            title: k.title.into(),
            formula: k.formula.into(),
            facts: vec![
                ("leaves out".into(), k.leaves_out.into()),
                ("needs".into(), k.needs.join(", ")),
                ("grade of reading".into(), k.grade().words().into()),
            ],
            sources: sources(k.sources),
            gaps: Vec::new(),
        });
    }
    let all = catalogue(c);
    let ids: Vec<&str> = all.iter().map(|e| e.id.as_str()).collect();
    Err(AskError::new("id", id, "is not in the catalogue", format!("nearest: {}", nearest(id, &ids))))
}

fn standard_card(k: &StandardCard, asked: &str) -> CardAnswer {
    let mut facts = vec![
        ("edition".into(), k.edition.into()),
        ("status".into(), status_words(k.status)),
        ("rating".into(), k.rating.to_string()),
        ("applies to".into(), applies(k)),
        ("reference air".into(), reference(k)),
        ("kelvin".into(), format!("t + {} beside {}", k.reference.kelvin_offset, k.reference.kelvin())),
    ];
    for (name, window, covered) in [
        ("spark ignition", &k.spark, k.applies.spark),
        ("compression ignition", &k.compression, k.applies.compression),
    ] {
        if covered {
            facts.push((format!("valid for {name}"), window_words(window)));
        }
    }
    let rule = match k.compensation {
        Compensation::None => "no rule in the text; its formula over-corrects such an engine".into(),
        Compensation::FactorOne(cite) => format!("factor 1 on request ({cite}, {})", cite.reading.words()),
        Compensation::FactorOneByLaterText(cite) => {
            format!("factor 1 on the strength of a later text ({cite}, {})", cite.reading.words())
        }
    };
    facts.push(("control that compensates for the ambient".into(), rule));
    for Alias { id, designation, cite } in k.aliases {
        facts.push((format!("alias {id}"), format!("{designation} ({}, {})", cite, cite.reading.words())));
    }
    facts.push(("grade of reading".into(), k.grade().words().into()));
    let title = if asked == k.id {
        format!("{}: {}", k.designation, k.title)
    } else {
        format!("{asked} is an alias of {}: {}", k.designation, k.title)
    };
    CardAnswer {
        family: "standard".into(),
        id: k.id.into(),
        title,
        formula: k.formula.into(),
        facts,
        sources: sources(k.sources),
        gaps: k.gaps.iter().map(|g| (*g).into()).collect(),
    }
}

fn sources(all: &[Source]) -> Vec<(String, String, String)> {
    all.iter().map(|s| (s.what.into(), s.cite.to_string(), s.cite.reading.words().into())).collect()
}

fn applies(k: &StandardCard) -> String {
    let ignition = match (k.applies.spark, k.applies.compression) {
        (true, true) => "spark and compression ignition",
        (true, false) => "spark ignition",
        (false, true) => "compression ignition",
        (false, false) => "nothing",
    };
    let charging = if k.applies.charged { "naturally aspirated and charged" } else { "naturally aspirated" };
    format!("{ignition}, {charging}")
}

/// Reference air in words.
#[must_use]
pub fn reference(k: &StandardCard) -> String {
    let r = &k.reference;
    match r.basis {
        PressureBasis::Dry => format!(
            "{} kPa dry ({} kPa total), {} °C",
            round(r.pressure_kpa),
            round(r.total_kpa()),
            round(r.temperature_c)
        ),
        PressureBasis::Total => format!("{} kPa total, {} °C", round(r.pressure_kpa), round(r.temperature_c)),
    }
}

fn round(x: f64) -> f64 {
    libm::round(x * 1000.0) / 1000.0
}

fn window_words(w: &TestWindow) -> String {
    let parts: Vec<String> =
        [w.temperature, w.pressure, w.factor].iter().flatten().map(limit_words).collect();
    if parts.is_empty() { "no range known".into() } else { parts.join("; ") }
}

fn limit_words(l: &Limit) -> String {
    let unit = if l.unit == "1" { String::new() } else { format!(" {}", l.unit) };
    format!("{} {} to {}{unit} ({}, {})", l.what, l.low, l.high, l.cite, l.cite.reading.words())
}
