//! The arithmetic, clause beside each line.

use crate::card;
use crate::constants::{DIESEL, ONE_SPARK_FORMULA, REFERENCE, SPARK, TEXT_2020};
use fairpull_core::{Air, Charging, Cite, Engine, Factor, Ignition, Reading, Refusal};

#[inline]
pub(crate) fn ed_1992(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::ED_1992;
    card.admit(engine)?;
    match engine.ignition {
        // ISO 1585:1992, spark ignition: α_a = (99/p_s)^1.2 · (T/298)^0.6
        Ignition::Spark => {
            let factor = card.judge(SPARK.factor(&REFERENCE, air), air, engine);
            Ok(match engine.charging {
                Charging::None => factor,
                _ => factor.resting_on(&[ONE_SPARK_FORMULA]),
            })
        }
        Ignition::Compression => diesel(air, engine),
    }
}

/// ISO 1585:1992, compression ignition: α_d = f_a^f_m
#[inline(never)]
fn diesel(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    Ok(card::ED_1992.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine))
}

pub(crate) fn ed_2020(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::ED_2020;
    card.admit(engine)?;
    match engine.ignition {
        // ISO 1585:2020: spark ignition believed unchanged from 1992
        Ignition::Spark => {
            Ok(card.judge(SPARK.factor(&REFERENCE, air), air, engine).resting_on(card.sources))
        }
        Ignition::Compression => Err(Refusal::Other {
            why: "the compression-ignition exponents of this edition are not known here; iso-1585 has those of 1992",
            cite: Cite::new(TEXT_2020, "factor for compression ignition", Reading::Doubtful),
        }),
    }
}
