//! The arithmetic, clause beside each line.

use crate::constants::{DIESEL, DIESEL_SOURCE, REFERENCE};
use fairpull_core::{Air, Engine, Factor, Refusal, StandardCard};

pub(crate) fn factor(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    // UN R24: α_d = f_a^f_m
    Ok(card.judge(DIESEL.factor(&REFERENCE, air, engine)?, air, engine).resting_on(&[DIESEL_SOURCE]))
}
