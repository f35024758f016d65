//! The arithmetic, clause beside each line.

use crate::constants::{CHARGED, DIESEL, DIESEL_SOURCE, REFERENCE, SPARK, SPARK_SOURCE};
use fairpull_core::{Air, Charging, Engine, Factor, Ignition, Refusal, StandardCard};

pub(crate) fn factor(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    Ok(match (engine.ignition, engine.charging) {
        // UN R85, spark ignition: α_a = (99/p_s)^1.2 · (T/298)^0.6
        (Ignition::Spark, Charging::None) => {
            card.judge(SPARK.factor(&REFERENCE, air), air, engine).resting_on(&[SPARK_SOURCE])
        }
        (Ignition::Spark, _) => {
            card.judge(SPARK.factor(&REFERENCE, air), air, engine).resting_on(&[SPARK_SOURCE, CHARGED])
        }
        // UN R85, compression ignition: α_d = f_a^f_m
        (Ignition::Compression, _) => {
            card.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine).resting_on(&[DIESEL_SOURCE])
        }
    })
}
