//! The arithmetic, clause beside each line.

use crate::card;
use crate::constants::{DIESEL, DIESEL_SOURCE, ISO_SOURCE, SPARK, SPARK_SOURCE, TEXT_ISO};
use fairpull_core::{Air, Cite, Engine, Factor, Ignition, Reading, Refusal, StandardCard};

pub(crate) fn regulation(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    Ok(match engine.ignition {
        // (EU) 134/2014, Annex X, Appendices 2.1 and 2.2: α1 = (99/p_s)^1.2·(T/298)^0.6
        Ignition::Spark => {
            card.judge(SPARK.factor(&card.reference, air), air, engine).resting_on(&[SPARK_SOURCE])
        }
        // (EU) 134/2014, Annex X, Appendix 2.3: f_a^f_m
        Ignition::Compression => {
            card.judge(DIESEL.factor(&card.reference, air, engine)?, air, engine).resting_on(&[DIESEL_SOURCE])
        }
    })
}

pub(crate) fn iso_4106(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::ISO_4106;
    card.admit(engine)?;
    match engine.ignition {
        // ISO 4106, spark ignition: the exponents of ISO 15550 on a reference of 99 kPa dry
        Ignition::Spark => {
            Ok(card.judge(SPARK.factor(&card.reference, air), air, engine).resting_on(&[ISO_SOURCE]))
        }
        Ignition::Compression => Err(Refusal::Other {
            why: "the formula for compression ignition is not known here",
            cite: Cite::new(TEXT_ISO, "Annex A", Reading::Doubtful),
        }),
    }
}
