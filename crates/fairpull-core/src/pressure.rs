//! Four pressures that never mix: absolute, gauge, dry air and water vapour.
//!
//! ```compile_fail
//! let p: fairpull_core::AbsolutePressure = fairpull_core::GaugePressure::from_kilopascals(120.0);
//! ```
//! ```compile_fail
//! let d: fairpull_core::DryPressure = fairpull_core::AbsolutePressure::from_kilopascals(100.0);
//! ```
//! ```
//! use fairpull_core::{AbsolutePressure, GaugePressure, VapourPressure};
//! let barometer = AbsolutePressure::from_kilopascals(100.0);
//! let boost = GaugePressure::from_kilopascals(120.0).to_absolute(barometer);
//! assert_eq!(boost.kilopascals(), 220.0);
//! let dry = barometer.less(VapourPressure::from_kilopascals(1.0));
//! assert_eq!(dry.kilopascals(), 99.0);
//! ```

use crate::quantity::quantity;
use uom::si::pressure::pascal;

quantity! {
    /// Total pressure above vacuum. For ambient air this is the *station* pressure, never reduced to sea level.
    AbsolutePressure(Pressure: pascal) {
        /// From pascals.
        from_pascals / pascals = 1.0;
        /// From hectopascals (millibar).
        from_hectopascals / hectopascals = 100.0;
        /// From kilopascals.
        from_kilopascals / kilopascals = 1000.0;
    }
}
quantity! {
    /// Pressure above the barometer of the moment.
    GaugePressure(Pressure: pascal) {
        /// From pascals.
        from_pascals / pascals = 1.0;
        /// From hectopascals (millibar).
        from_hectopascals / hectopascals = 100.0;
        /// From kilopascals.
        from_kilopascals / kilopascals = 1000.0;
    }
}
quantity! {
    /// Partial pressure of dry air: total less water vapour.
    DryPressure(Pressure: pascal) {
        /// From pascals.
        from_pascals / pascals = 1.0;
        /// From hectopascals (millibar).
        from_hectopascals / hectopascals = 100.0;
        /// From kilopascals.
        from_kilopascals / kilopascals = 1000.0;
    }
}
quantity! {
    /// Partial pressure of water vapour.
    VapourPressure(Pressure: pascal) {
        /// From pascals.
        from_pascals / pascals = 1.0;
        /// From hectopascals (millibar).
        from_hectopascals / hectopascals = 100.0;
        /// From kilopascals.
        from_kilopascals / kilopascals = 1000.0;
    }
}

impl GaugePressure {
    /// Adds the barometer of the same moment and place.
    #[must_use]
    pub fn to_absolute(self, barometer: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure::new(self.get() + barometer.get())
    }
}

impl AbsolutePressure {
    /// Dry pressure = total less vapour (Dalton).
    #[must_use]
    pub fn less(self, vapour: VapourPressure) -> DryPressure {
        DryPressure::new(self.get() - vapour.get())
    }

    /// Pressure above the given barometer.
    #[must_use]
    pub fn above(self, barometer: AbsolutePressure) -> GaugePressure {
        GaugePressure::new(self.get() - barometer.get())
    }
}
