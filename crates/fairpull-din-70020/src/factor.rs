//! The arithmetic, clause beside each line.

use crate::constants::{BASIS, BASIS_DRY, CHARGED, DIESEL, EXPONENTS, TURBO_DIESEL};
use fairpull_core::{Air, Charging, Engine, Factor, Ignition, PressureBasis, Refusal, Source, StandardCard};

pub(crate) fn factor(card: &'static StandardCard, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    card.admit(engine)?;
    let basis: &[Source] = match card.reference.basis {
        PressureBasis::Dry => &[BASIS_DRY],
        PressureBasis::Total => &[BASIS],
    };
    // DIN 70020-6: K = (1013/p)·√((273 + t)/293)
    let k = EXPONENTS.factor(&card.reference, air);
    Ok(match (engine.ignition, engine.charging) {
        (Ignition::Spark, Charging::None) => card.judge(k, air, engine).resting_on(basis),
        (Ignition::Spark, _) => card.judge(k, air, engine).resting_on(basis).resting_on(&[CHARGED]),
        // DIN 70020: no correction for turbocharged diesel engines
        (Ignition::Compression, Charging::Turbocharged) => {
            card.judge(1.0, air, engine).resting_on(&[TURBO_DIESEL])
        }
        (Ignition::Compression, Charging::None) => {
            card.judge(k, air, engine).resting_on(basis).resting_on(&[DIESEL])
        }
        (Ignition::Compression, Charging::Supercharged) => {
            card.judge(k, air, engine).resting_on(basis).resting_on(&[DIESEL, CHARGED])
        }
    })
}
