//! The two choices behind every humidity figure.

use crate::{Formulation, HumidError};
use fairpull_core::{Temperature, VapourPressure};

/// What lies under the vapour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Surface {
    /// Liquid water, supercooled below 0 °C: what meteorology and humidity sensors mean at every temperature.
    Water,
    /// Ice below the triple point, water above: what air-conditioning tables print.
    IceBelowFreezing,
}

/// How moist air is reckoned: formula of the saturation pressure, and what lies under the vapour below 0 °C.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Method {
    /// Saturation formula.
    pub formulation: Formulation,
    /// Surface that relative humidity refers to.
    pub surface: Surface,
}

impl Default for Method {
    /// IAPWS, relative humidity over water at all temperatures (WMO-No. 8, annex 4.B, from memory).
    fn default() -> Self {
        Self { formulation: Formulation::Iapws, surface: Surface::Water }
    }
}

impl Method {
    /// The method of the ASHRAE tables: Hyland and Wexler, ice below freezing.
    pub const ASHRAE: Self =
        Self { formulation: Formulation::HylandWexler, surface: Surface::IceBelowFreezing };

    /// Saturation vapour pressure by this method.
    ///
    /// # Errors
    /// [`HumidError`] outside the range of the formulation.
    pub fn saturation(&self, t: Temperature) -> Result<VapourPressure, HumidError> {
        self.formulation.saturation(t, self.surface)
    }
}
