//! The arithmetic, clause beside each line.

use crate::card::CARD;
use crate::constants::{DIESEL, FORMULA, INDICATED, OFFSET, REFERENCE, SCALE};
use fairpull_core::family::{affine, mechanical_efficiency, on_indicated_checked};
use fairpull_core::{Air, Charging, Engine, Factor, Ignition, Notice, Refusal};

pub(crate) fn factor(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    let value = match (engine.ignition, engine.mechanical_efficiency) {
        // SAE J1995, compression ignition: f_a^f_m
        (Ignition::Compression, _) => DIESEL.factor(&REFERENCE, air, engine)?,
        // SAE J1995, friction power known: P_c = (P_o + P_f)·k − P_f
        (Ignition::Spark, Some(_)) => {
            let (eta, _) = mechanical_efficiency(engine, 1.0, &FORMULA.cite)?;
            on_indicated_checked(INDICATED.factor(&REFERENCE, air), eta, FORMULA.cite)?
        }
        // SAE J1995, spark ignition: CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18
        (Ignition::Spark, None) => {
            affine(&REFERENCE, air, INDICATED.pressure, INDICATED.temperature, SCALE, OFFSET)
        }
    };
    let factor = CARD.judge(value, air, engine).resting_on(&[FORMULA]);
    Ok(match (engine.ignition, engine.charging) {
        (Ignition::Compression, _) | (_, Charging::None) => factor,
        _ => factor.noting(Notice::Extrapolated {
            what: "the treatment of boosted spark-ignition engines was not found; the formula for aspirated ones is used",
            cite: &FORMULA.cite,
        }),
    })
}
