//! Residual gas: how exhaust back pressure reaches the end gas.

use fairpull_core::{AbsolutePressure, Cite, Limit, Reading, Refusal, Temperature};

/// The residual-fraction model.
pub const FOX_CHENG_HEYWOOD: Cite =
    Cite::new("Fox, Cheng and Heywood, SAE 931025 (1993)", "residual gas fraction", Reading::Remembered);

macro_rules! limits {
    ($($name:ident: $what:literal, $unit:literal, $low:expr, $high:expr;)+) => {
        $(static $name: Limit =
            Limit { what: $what, unit: $unit, low: $low, high: $high, cite: FOX_CHENG_HEYWOOD };)+
    };
}

limits! {
    INTAKE: "intake manifold pressure", "kPa absolute", 10.0, 600.0;
    EXHAUST: "exhaust pressure", "kPa absolute", 50.0, 1000.0;
    OVERLAP: "valve overlap factor", "degree/m", 0.0, 10.0;
    SPEED: "engine speed", "1/min", 100.0, 20_000.0;
    RICHNESS: "equivalence ratio", "1", 0.3, 3.0;
    RATIO: "compression ratio", "1", 3.0, 25.0;
    CHARGE: "charge temperature", "K", 240.0, 600.0;
    RESIDUAL: "residual gas temperature", "K", 500.0, 1800.0;
    FRACTION: "residual fraction", "1", 0.0, 0.5;
}

/// x_r = 1.266 (OF/N)(p_i/p_e)^−0.87 √|p_e − p_i| + 0.632 φ (p_i/p_e)^−0.74 / r, pressures in bar, N in 1/s.
///
/// `overlap` is the valve overlap factor in degrees per metre, `richness` the equivalence ratio φ.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn residual_fraction(
    intake: AbsolutePressure,
    exhaust: AbsolutePressure,
    speed_rpm: f64,
    overlap: f64,
    richness: f64,
    compression_ratio: f64,
) -> Result<f64, Refusal> {
    let pi = INTAKE.check(intake.kilopascals())? / 100.0;
    let pe = EXHAUST.check(exhaust.kilopascals())? / 100.0;
    let (of, n) = (OVERLAP.check(overlap)?, SPEED.check(speed_rpm)? / 60.0);
    let (phi, r) = (RICHNESS.check(richness)?, RATIO.check(compression_ratio)?);
    let back = 1.266 * (of / n) * libm::pow(pi / pe, -0.87) * libm::sqrt(libm::fabs(pe - pi));
    Ok(back + 0.632 * phi * libm::pow(pi / pe, -0.74) / r)
}

/// Temperature at intake valve closing by mixing equal heat capacities: (1 − x_r)·T_charge + x_r·T_residual.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn mixed_temperature(
    charge: Temperature,
    residual: Temperature,
    fraction: f64,
) -> Result<Temperature, Refusal> {
    let fresh = CHARGE.check(charge.kelvin())?;
    let old = RESIDUAL.check(residual.kelvin())?;
    let x = FRACTION.check(fraction)?;
    Ok(Temperature::from_kelvin((1.0 - x) * fresh + x * old))
}
