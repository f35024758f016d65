//! Correction standards written as data (TOML or JSON) and loaded at run time.
//!
//! **Scope.** Every formula family of [`fairpull_core::family`]: the power law, the affine form on indicated power,
//! the factor on indicated power with a mechanical efficiency, and the compression-ignition form f_a^f_m. A declared
//! standard is a [`CorrectionStandard`] like any other: it runs the same shared
//! arithmetic, so the twin of a built-in standard gives the same bits.
//!
//! **Refusals.** A declaration is refused as a whole, with file, line and column (field path in JSON), the value
//! found, what was expected and how to mend it. Unknown fields are refused and the nearest known one is named. An
//! example in the declaration that its own formula does not reproduce is a refusal too.
//!
//! **Memory.** Cards are `&'static`, so the texts of a declaration stay in memory for the life of the process. Equal
//! texts are kept once: loading the same declaration again costs nothing more.
//!
//! ```
//! use fairpull_core::*;
//! let toy = fairpull_declared::parse_toml(r#"
//! id = "toy-1"
//! designation = "Toy Standard 1"
//! title = "Invented standard"
//! edition = "1"
//! status = "current"
//! rating = "net"
//! charged = true
//! reference = { basis = "dry", pressure-kpa = 99.0, vapour-kpa = 1.0, temperature-c = 25.0, kelvin-offset = 273.0 }
//! spark = { family = "power-law", exponents = [1.0, 0.5] }
//! source = [{ what = "formula", document = "Toy Standard 1", clause = "5", reading = "derived" }]
//! "#, "toy.toml")?;
//! let air = Air::new(AbsolutePressure::from_kilopascals(100.0), Temperature::from_celsius(25.0),
//!     VapourPressure::from_kilopascals(1.0)).unwrap();
//! assert_eq!(toy.factor(&air, &Engine::new(Ignition::Spark, Charging::None)).unwrap().value(), 1.0);
//! # Ok::<(), fairpull_declared::DeclarationError>(())
//! ```
#![forbid(unsafe_code)]

mod card;
mod error;
mod fields;
mod intern;
mod node;
mod rule;

pub use error::DeclarationError;
use fairpull_core::{Air, CorrectionStandard, Engine, Factor, Ignition, Refusal, StandardCard};
use rule::Rule;

/// A correction standard that was written as data.
#[derive(Clone, Copy, Debug)]
pub struct Declared {
    card: &'static StandardCard,
    spark: Option<Rule>,
    compression: Option<Rule>,
}

/// Reads a declaration in TOML; `file_name` is what messages call it.
///
/// # Errors
/// [`DeclarationError`] with file, line, column, field, value and what was expected.
pub fn parse_toml(text: &str, file_name: &str) -> Result<Declared, DeclarationError> {
    let root = node::from_toml(text, file_name)?;
    card::declared(&fields::Fields::root(file_name, text, &root)?)
}

/// Reads a declaration in JSON; `file_name` is what messages call it.
///
/// # Errors
/// [`DeclarationError`] with file, field path, value and what was expected.
pub fn parse_json(text: &str, file_name: &str) -> Result<Declared, DeclarationError> {
    let root = node::from_json(text, file_name)?;
    card::declared(&fields::Fields::root(file_name, text, &root)?)
}

impl CorrectionStandard for Declared {
    fn card(&self) -> &'static StandardCard {
        self.card
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        let card = self.card;
        card.admit(engine)?;
        let rule = match engine.ignition {
            Ignition::Spark => &self.spark,
            Ignition::Compression => &self.compression,
        };
        // `admit` has refused an ignition without a rule; the refusal is repeated so that nothing can panic here.
        let rule = rule.as_ref().ok_or(Refusal::NotApplicable {
            why: "the text does not cover this ignition",
            cite: card.scope(),
        })?;
        let (value, notice) = rule.value(card, air, engine)?;
        let factor = card.judge(value, air, engine).resting_on(card.sources);
        Ok(match notice {
            Some(n) => factor.noting(n),
            None => factor,
        })
    }
}
