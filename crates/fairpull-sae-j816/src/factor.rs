//! The arithmetic, clause beside each line.

use crate::card::CARD;
use crate::constants::{EFFICIENCY, EFFICIENCY_CITE, EXPONENTS, FORMULA, REFERENCE, TEXT};
use fairpull_core::family::{mechanical_efficiency, on_indicated_checked};
use fairpull_core::{Air, Charging, Cite, Engine, Factor, Ignition, Notice, Reading, Refusal};

pub(crate) fn factor(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    if engine.ignition == Ignition::Compression {
        return Err(Refusal::Other {
            why: "the factor of this text for compression ignition is not known here",
            cite: Cite::new(TEXT, "compression ignition", Reading::Doubtful),
        });
    }
    // SAE J816b: k = (736.6/(p − p_v))·√((t + 273)/302.4) on indicated power
    let k = EXPONENTS.factor(&REFERENCE, air);
    // SAE J816b: P_b,c = k·P_i − P_f
    let (eta, assumed) = mechanical_efficiency(engine, EFFICIENCY, &EFFICIENCY_CITE)?;
    let factor = CARD.judge(on_indicated_checked(k, eta, FORMULA.cite)?, air, engine).resting_on(&[FORMULA]);
    let factor = assumed.map_or(factor, |notice| factor.noting(notice));
    Ok(match engine.charging {
        Charging::None => factor,
        _ => factor.noting(Notice::Extrapolated {
            what: "no clause on charged engines is known; the formula for aspirated ones is used",
            cite: &FORMULA.cite,
        }),
    })
}
