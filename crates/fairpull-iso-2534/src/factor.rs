//! The arithmetic, clause beside each line.

use crate::card;
use crate::constants::{
    CHARGED, CHARGED_1998, DIESEL, DIESEL_SOURCE, REFERENCE, SPARK, SPARK_SOURCE, SPARK_SOURCE_1998, TEXT,
};
use fairpull_core::{Air, Charging, Cite, Engine, Factor, Ignition, Reading, Refusal, Source, StandardCard};

pub(crate) fn ed_2020(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::ED_2020;
    card.admit(engine)?;
    match engine.ignition {
        Ignition::Spark => Ok(spark(card, [&[SPARK_SOURCE], &[CHARGED]], air, engine)),
        Ignition::Compression => Err(Refusal::Other {
            why: "the compression-ignition exponents of this edition are not known here; iso-2534-1998 has those of \
                  1998",
            cite: Cite::new(TEXT, "factor for compression ignition", Reading::Doubtful),
        }),
    }
}

pub(crate) fn ed_1998(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::ED_1998;
    card.admit(engine)?;
    Ok(match engine.ignition {
        Ignition::Spark => spark(card, [&[SPARK_SOURCE_1998], &[CHARGED_1998]], air, engine),
        // ISO 2534:1998, compression ignition: α_d = f_a^f_m
        Ignition::Compression => {
            card.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine).resting_on(&[DIESEL_SOURCE])
        }
    })
}

/// ISO 2534, spark ignition: α_a = (99/p_s)^1.2 · (T/298)^0.6
fn spark(
    card: &'static StandardCard,
    [formula, charged]: [&'static [Source]; 2],
    air: &Air,
    engine: &Engine,
) -> Factor {
    let factor = card.judge(SPARK.factor(&REFERENCE, air), air, engine).resting_on(formula);
    match engine.charging {
        Charging::None => factor,
        _ => factor.resting_on(charged),
    }
}
