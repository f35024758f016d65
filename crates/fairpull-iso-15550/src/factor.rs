//! The arithmetic, clause beside each line.

use crate::card::CARD;
use crate::constants::{DIESEL, FLOOR, REFERENCE, SPARK};
use fairpull_core::{Air, Engine, Factor, Ignition, Refusal};

pub(crate) fn factor(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    if engine.ignition == Ignition::Spark {
        // ISO 15550, clause 7, spark ignition: α_a = (99.04/p_s)^1.2 · (T/298)^0.6
        return Ok(CARD.judge(SPARK.factor(&REFERENCE, air), air, engine));
    }
    // ISO 15550, clause 7, compression ignition: α_c = f_a^f_m
    let factor = CARD.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine);
    let floor = DIESEL.engine_factor.of(engine, DIESEL.cite)? == DIESEL.engine_factor.lower;
    Ok(if floor { factor.resting_on(&[FLOOR]) } else { factor })
}
