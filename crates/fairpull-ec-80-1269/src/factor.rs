//! The arithmetic, clause beside each line.

use crate::card;
use crate::constants::{
    CHARGED, DIESEL, ORIGINAL, ORIGINAL_BASIS, ORIGINAL_CHARGED, ORIGINAL_DIESEL, ORIGINAL_DIESEL_SOURCE,
    ORIGINAL_SPARK, REFERENCE, SPARK,
};
use fairpull_core::{
    Air, Charging, Cite, Engine, Factor, Ignition, PressureBasis, Reading, Refusal, StandardCard,
};

pub(crate) fn amended(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    let card = &card::AMENDED;
    card.admit(engine)?;
    Ok(match (engine.ignition, engine.charging) {
        // 88/195/EEC, spark ignition: α_a = (99/p_s)^1.2 · (T/298)^0.6
        (Ignition::Spark, Charging::None) => card.judge(SPARK.factor(&REFERENCE, air), air, engine),
        (Ignition::Spark, _) => card.judge(SPARK.factor(&REFERENCE, air), air, engine).resting_on(&[CHARGED]),
        // 88/195/EEC, compression ignition: α_d = f_a^f_m
        (Ignition::Compression, _) => card.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine),
    })
}

pub(crate) fn original(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    // 80/1269/EEC (1980), spark ignition: K = (99/p)·√(T/298)
    let spark = || card.judge(ORIGINAL_SPARK.factor(&card.reference, air), air, engine);
    let factor = match (engine.ignition, engine.charging) {
        (Ignition::Spark, Charging::None) => spark(),
        (Ignition::Spark, _) => spark().resting_on(&[ORIGINAL_CHARGED]),
        // 80/1269/EEC (1980), compression ignition: (99/p)^0.65·(T/298)^0.5; turbocharged not corrected
        (Ignition::Compression, Charging::None) => card
            .judge(ORIGINAL_DIESEL.factor(&card.reference, air), air, engine)
            .resting_on(&[ORIGINAL_DIESEL_SOURCE]),
        (Ignition::Compression, Charging::Turbocharged) => {
            return Ok(card.judge(1.0, air, engine).resting_on(&[ORIGINAL_DIESEL_SOURCE]));
        }
        (Ignition::Compression, Charging::Supercharged) => {
            return Err(Refusal::Other {
                why: "the treatment of mechanically supercharged compression ignition is not known",
                cite: Cite::new(ORIGINAL, "factor for compression ignition", Reading::Doubtful),
            });
        }
    };
    Ok(match card.reference.basis {
        PressureBasis::Dry => factor.resting_on(&[ORIGINAL_BASIS]),
        PressureBasis::Total => factor,
    })
}
