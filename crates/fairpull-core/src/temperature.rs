//! Thermodynamic temperature.

use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::kelvin;

/// Temperature of the air entering the intake system, of a charge, of a coolant.
///
/// Standards print their own kelvin offset (273 beside 298, 273.2 beside 298.2): they read
/// [`Temperature::celsius`] and add the offset they print.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(ThermodynamicTemperature);

/// 0 °C in kelvin, exact by definition of the Celsius scale.
const ZERO_CELSIUS: f64 = 273.15;

impl Temperature {
    /// Wraps a `uom` temperature.
    #[must_use]
    pub const fn new(t: ThermodynamicTemperature) -> Self {
        Self(t)
    }

    /// The bare `uom` temperature.
    #[must_use]
    pub const fn get(self) -> ThermodynamicTemperature {
        self.0
    }

    /// From kelvin.
    #[must_use]
    pub fn from_kelvin(value: f64) -> Self {
        Self(ThermodynamicTemperature::new::<kelvin>(value))
    }

    /// In kelvin.
    #[must_use]
    pub fn kelvin(self) -> f64 {
        self.0.get::<kelvin>()
    }

    /// From degrees Celsius.
    #[must_use]
    pub fn from_celsius(value: f64) -> Self {
        Self::from_kelvin(value + ZERO_CELSIUS)
    }

    /// In degrees Celsius.
    #[must_use]
    pub fn celsius(self) -> f64 {
        self.kelvin() - ZERO_CELSIUS
    }

    /// From degrees Fahrenheit: (t − 32)/1.8 degrees Celsius, exact.
    #[must_use]
    pub fn from_fahrenheit(value: f64) -> Self {
        Self::from_celsius((value - 32.0) / 1.8)
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub fn fahrenheit(self) -> f64 {
        self.celsius() * 1.8 + 32.0
    }

    /// True for a value that is neither NaN nor infinite.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.kelvin().is_finite()
    }
}
