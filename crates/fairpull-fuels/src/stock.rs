//! A definite fuel with the properties that blending, charge cooling and the knock models need.

use fairpull_core::{Fuel, Limit, Refusal, Span};

use crate::octane::{HERE, antiknock_index};

/// Density at 15 °C.
pub static DENSITY: Limit =
    Limit { what: "fuel density", unit: "kg/m³", low: 500.0, high: 1200.0, cite: HERE };
/// Lower heating value of a liquid motor fuel.
pub static HEATING_VALUE: Limit =
    Limit { what: "lower heating value", unit: "J/kg", low: 10.0e6, high: 50.0e6, cite: HERE };
/// Stoichiometric air-fuel ratio of a liquid motor fuel.
pub static AIR_FUEL_RATIO: Limit =
    Limit { what: "stoichiometric air-fuel ratio", unit: "kg/kg", low: 1.0, high: 20.0, cite: HERE };
/// Heat of vaporisation.
pub static VAPORISATION: Limit =
    Limit { what: "heat of vaporisation", unit: "J/kg", low: 1.0e5, high: 2.0e6, cite: HERE };
/// Molar mass.
pub static MOLAR_MASS: Limit =
    Limit { what: "molar mass of the fuel", unit: "g/mol", low: 16.0, high: 250.0, cite: HERE };

/// A definite fuel.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Stock {
    /// Research octane number.
    pub ron: Option<Span>,
    /// Motor octane number.
    pub mon: Option<Span>,
    /// Correlation of the errors of RON and MON, −1 to 1.
    pub octane_correlation: f64,
    /// Density at 15 °C, kg/m³.
    pub density: Span,
    /// Lower heating value, J/kg.
    pub lower_heating_value: Span,
    /// Stoichiometric air-fuel ratio by mass.
    pub stoichiometric_ratio: Span,
    /// Heat of vaporisation at 25 °C, J/kg.
    pub heat_of_vaporisation: Span,
    /// Mean molar mass, g/mol.
    pub molar_mass: Span,
}

impl Stock {
    /// A hydrocarbon petrol of the given octane numbers with usual properties: 745 kg/m³, 43.0 MJ/kg, composition
    /// CH1.85, 350 kJ/kg, 105 g/mol.
    #[must_use]
    pub const fn petrol(ron: Option<Span>, mon: Option<Span>) -> Self {
        Self {
            ron,
            mon,
            octane_correlation: 0.0,
            // EN 228 range 720 to 775 kg/m³, rectangular; usual value from common practice
            density: Span::new(745.0, 15.9),
            lower_heating_value: Span::new(43.0e6, 0.4e6),
            stoichiometric_ratio: Span::new(14.574_906_546_326_279, 0.12),
            heat_of_vaporisation: Span::new(350.0e3, 20.0e3),
            molar_mass: Span::new(105.0, 4.3),
        }
    }

    /// The fuel as the knock models see it.
    #[must_use]
    pub fn fuel(&self) -> Fuel {
        let mut fuel = Fuel::new(self.ron, self.mon);
        fuel.octane_correlation = self.octane_correlation;
        fuel.lower_heating_value = Some(self.lower_heating_value.value);
        fuel.stoichiometric_ratio = Some(self.stoichiometric_ratio.value);
        fuel
    }

    /// Antiknock index (RON + MON)/2, when both are known.
    #[must_use]
    pub fn antiknock_index(&self) -> Option<Span> {
        let (ron, mon) = (self.ron?, self.mon?);
        let cross = 2.0 * self.octane_correlation * ron.uncertainty * mon.uncertainty;
        let plain = antiknock_index(ron, mon);
        let square = 4.0 * plain.uncertainty * plain.uncertainty + cross;
        Some(Span::new(plain.value, 0.5 * libm::sqrt(libm::fmax(square, 0.0))))
    }

    /// Sensitivity RON − MON, when both are known.
    #[must_use]
    pub fn sensitivity(&self) -> Option<Span> {
        let (ron, mon) = (self.ron?, self.mon?);
        let cross = 2.0 * self.octane_correlation * ron.uncertainty * mon.uncertainty;
        let square = ron.uncertainty * ron.uncertainty + mon.uncertainty * mon.uncertainty - cross;
        Some(Span::new(ron.value - mon.value, libm::sqrt(libm::fmax(square, 0.0))))
    }

    /// Heat per kilogram of air at stoichiometry, J/kg: nearly the same for petrol and alcohols.
    #[must_use]
    pub fn heat_per_air(&self) -> f64 {
        self.lower_heating_value.value / self.stoichiometric_ratio.value
    }

    /// Checks every property against what liquid motor fuels have.
    ///
    /// # Errors
    /// [`Refusal::OutOfRange`] naming the property.
    pub fn check(&self) -> Result<(), Refusal> {
        if let Some(ron) = self.ron {
            crate::octane::check(ron)?;
        }
        if let Some(mon) = self.mon {
            crate::octane::check(mon)?;
        }
        DENSITY.check(self.density.value)?;
        HEATING_VALUE.check(self.lower_heating_value.value)?;
        AIR_FUEL_RATIO.check(self.stoichiometric_ratio.value)?;
        VAPORISATION.check(self.heat_of_vaporisation.value)?;
        MOLAR_MASS.check(self.molar_mass.value)?;
        Ok(())
    }
}
