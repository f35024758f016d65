//! The arithmetic, clause beside each line.

use crate::card::CARD;
use crate::constants::{EXPONENTS, FORMULA, REFERENCE};
use fairpull_core::{Air, Charging, Engine, Factor, Notice, Refusal};

pub(crate) fn factor(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    // SAE J607a: (29.92/p_d)·√((F + 460)/520)
    let factor = CARD.judge(EXPONENTS.factor(&REFERENCE, air), air, engine).resting_on(&[FORMULA]);
    Ok(match engine.charging {
        Charging::None => factor,
        _ => factor.noting(Notice::Extrapolated {
            what: "a code for small aspirated engines on a charged one, as the trade does under the name STD",
            cite: &FORMULA.cite,
        }),
    })
}
