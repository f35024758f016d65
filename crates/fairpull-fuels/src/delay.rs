//! Ignition delay of the end gas, and the octane number that makes its integral one.

use fairpull_core::{Cite, Reading};

/// The delay correlation. Form and units agree in six independent public codes; the paper itself was not read, and
/// its range of octane numbers (80 to 100) is from memory.
pub const DOUAUD_EYZAT: Cite = Cite::new(
    "Douaud and Eyzat, SAE 780080 (1978)",
    "correlation of the induction time",
    Reading::Corroborated,
);
/// The integral criterion.
pub const LIVENGOOD_WU: Cite = Cite::new(
    "Livengood and Wu, 5th Symposium on Combustion (1955), 347",
    "integral of dt/tau",
    Reading::Corroborated,
);

/// Exponent of the octane number.
pub const OCTANE_EXPONENT: f64 = 3.402;
/// Pre-factor, s at octane number 100 and 1 atm.
pub const PREFACTOR: f64 = 0.017_68;
/// Exponent of pressure.
pub const PRESSURE_EXPONENT: f64 = 1.7;
/// Activation temperature, K.
pub const ACTIVATION: f64 = 3800.0;
/// One atmosphere, Pa.
pub const ATMOSPHERE: f64 = 101_325.0;

/// Octane numbers for which the correlation was fitted (from memory).
pub const FITTED_OCTANE: [f64; 2] = [80.0, 100.0];
/// Below this octane number the correlation predicts knock at intake valve closing and is not used.
pub const LOWEST_OCTANE: f64 = 70.0;

/// τ = 0.01768 s·(ON/100)^3.402·(p/atm)^−1.7·exp(3800 K/T): induction time in s from octane number, pressure (Pa)
/// and end-gas temperature (K). NaN outside positive inputs.
#[must_use]
pub fn induction_time(octane: f64, pressure: f64, temperature: f64) -> f64 {
    PREFACTOR
        * libm::pow(octane / 100.0, OCTANE_EXPONENT)
        * libm::pow(pressure / ATMOSPHERE, -PRESSURE_EXPONENT)
        * libm::exp(ACTIVATION / temperature)
}

/// ON_req = 100·I₁₀₀^(1/3.402): the octane number at which the integral, computed for octane number 100, is one.
/// The octane number separates out of the correlation, so one cycle serves every fuel.
#[must_use]
pub fn required_octane(integral_100: f64) -> f64 {
    100.0 * libm::pow(integral_100, 1.0 / OCTANE_EXPONENT)
}

/// I₁₀₀ at which a fuel of this octane number autoignites: (ON/100)^3.402.
#[must_use]
pub fn integral_at_onset(octane: f64) -> f64 {
    libm::pow(octane / 100.0, OCTANE_EXPONENT)
}
