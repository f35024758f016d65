//! The arithmetic, clause beside each line.

use crate::constants::{DIESEL, DIESEL_SOURCE, FRICTION, INDICATED, OFFSET, REFERENCE, SCALE};
use core::slice;
use fairpull_core::family::{Exponents, affine, mechanical_efficiency, on_indicated_checked};
use fairpull_core::{Air, Charging, Engine, Factor, Ignition, Notice, Refusal, Source, StandardCard};

/// `ca` says how far the formula was read in the edition of the card.
pub(crate) fn factor(
    card: &'static StandardCard,
    ca: &'static Source,
    air: &Air,
    engine: &Engine,
) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    if engine.ignition == Ignition::Compression {
        // SAE J1349, diesel engines: f_a^f_m
        let value = DIESEL.factor(&REFERENCE, air, engine)?;
        return Ok(card.judge(value, air, engine).resting_on(&[DIESEL_SOURCE]));
    }
    let factor = if engine.mechanical_efficiency.is_some() {
        // SAE J1349, friction power known: P_c = (P_o + P_f)·k − P_f
        let (eta, _) = mechanical_efficiency(engine, 1.0, &FRICTION.cite)?;
        let value = on_indicated_checked(INDICATED.factor(&REFERENCE, air), eta, FRICTION.cite)?;
        card.judge(value, air, engine).resting_on(&[FRICTION])
    } else {
        // SAE J1349, spark ignition: CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18
        let Exponents { pressure, temperature } = INDICATED;
        let value = affine(&REFERENCE, air, pressure, temperature, SCALE, OFFSET);
        card.judge(value, air, engine).resting_on(slice::from_ref(ca))
    };
    Ok(match engine.charging {
        Charging::None => factor,
        _ => factor.noting(Notice::Extrapolated {
            what: "the treatment of boosted spark-ignition engines was not found; the formula for aspirated ones is used",
            cite: &ca.cite,
        }),
    })
}
