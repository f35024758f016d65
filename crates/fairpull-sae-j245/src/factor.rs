//! The arithmetic, clause beside each line.

use crate::constants::{EFFICIENCY, EFFICIENCY_CITE, EXPONENTS, FORMULA};
use fairpull_core::family::{mechanical_efficiency, on_indicated_checked};
use fairpull_core::{Air, Engine, Factor, Refusal, StandardCard};

pub(crate) fn factor(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    // SAE J245: k = (29.00/p_d)·√(T/T_ref) on indicated power
    let k = EXPONENTS.factor(&card.reference, air);
    // SAE J245: P_b,c = k·P_i − P_f
    let (eta, assumed) = mechanical_efficiency(engine, EFFICIENCY, &EFFICIENCY_CITE)?;
    let factor = card.judge(on_indicated_checked(k, eta, FORMULA.cite)?, air, engine).resting_on(&[FORMULA]);
    Ok(assumed.map_or(factor, |notice| factor.noting(notice)))
}
