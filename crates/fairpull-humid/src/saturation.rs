//! Saturation vapour pressure over plane water and ice.

use crate::formulas as f;
use crate::{HumidError, Surface};
use fairpull_core::{Air, Cite, Limit, Reading, Temperature, VapourPressure};

/// Triple point of water, K (exact before 2019, 0.1 mK uncertain since).
pub(crate) const TRIPLE: f64 = 273.16;

/// A published formula for the saturation vapour pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Formulation {
    /// IAPWS SR1-86 (1992), the form of Wagner and Pruß; ice by IAPWS R14-08 (2011).
    #[default]
    Iapws,
    /// Hyland and Wexler 1983, the formula of the ASHRAE tables.
    HylandWexler,
    /// Sonntag 1990 (ITS-90).
    Sonntag,
    /// Magnus form of WMO-No. 8.
    MagnusWmo,
    /// Magnus form of Bolton 1980, over water only.
    Bolton,
    /// Magnus form of Alduchov and Eskridge 1996, over water only.
    AlduchovEskridge,
    /// Buck 1981, over water only.
    Buck1981,
    /// Buck 1996, over water only.
    Buck1996,
    /// Tetens 1930, over water only.
    Tetens,
}

const fn range(low: f64, high: f64, cite: Cite) -> Limit {
    Limit { what: "temperature of the saturated air", unit: "°C", low, high, cite }
}

impl Formulation {
    /// Every formulation.
    pub const ALL: [Self; 9] = [
        Self::Iapws,
        Self::HylandWexler,
        Self::Sonntag,
        Self::MagnusWmo,
        Self::Bolton,
        Self::AlduchovEskridge,
        Self::Buck1981,
        Self::Buck1996,
        Self::Tetens,
    ];

    /// Lower-case id for job files.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Iapws => "iapws",
            Self::HylandWexler => "hyland-wexler-1983",
            Self::Sonntag => "sonntag-1990",
            Self::MagnusWmo => "magnus-wmo",
            Self::Bolton => "bolton-1980",
            Self::AlduchovEskridge => "alduchov-eskridge-1996",
            Self::Buck1981 => "buck-1981",
            Self::Buck1996 => "buck-1996",
            Self::Tetens => "tetens-1930",
        }
    }

    /// The formulation with this id.
    #[must_use]
    pub fn find(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|f| f.id() == id)
    }

    /// Where it was published, and how far that was read.
    #[must_use]
    pub const fn cite(self) -> Cite {
        let (document, clause, reading) = match self {
            Self::Iapws => (
                "IAPWS SR1-86 (1992); Wagner and Pruß, J. Phys. Chem. Ref. Data 31 (2002)",
                "equation 2.5",
                Reading::Corroborated,
            ),
            Self::HylandWexler => (
                "Hyland and Wexler, ASHRAE Transactions 89 (1983)",
                "as printed in the ASHRAE handbook, chapter 1, equations 5 and 6",
                Reading::Corroborated,
            ),
            Self::Sonntag => ("Sonntag, Zeitschrift für Meteorologie 40 (1990)", "", Reading::Remembered),
            Self::MagnusWmo => ("WMO-No. 8", "annex 4.B", Reading::Remembered),
            Self::Bolton => ("Bolton, Monthly Weather Review 108 (1980)", "equation 10", Reading::Remembered),
            Self::AlduchovEskridge => {
                ("Alduchov and Eskridge, J. Applied Meteorology 35 (1996)", "", Reading::Remembered)
            }
            Self::Buck1981 => ("Buck, J. Applied Meteorology 20 (1981)", "", Reading::Remembered),
            Self::Buck1996 => ("Buck, CR-1A hygrometer manual, appendix 1 (1996)", "", Reading::Remembered),
            Self::Tetens => ("Tetens, Zeitschrift für Geophysik 6 (1930)", "", Reading::Remembered),
        };
        Cite::new(document, clause, reading)
    }

    /// Temperatures over water for which it is evaluated here, °C. Below 0 °C [`Formulation::Iapws`] and
    /// [`Formulation::HylandWexler`] are extrapolated to supercooled water.
    #[must_use]
    pub const fn range(self) -> Limit {
        let cite = self.cite();
        match self {
            Self::Iapws => range(-60.0, 200.0, cite),
            Self::HylandWexler => range(-60.0, 200.0, cite),
            Self::Sonntag => range(-100.0, 100.0, cite),
            Self::MagnusWmo => range(-45.0, 60.0, cite),
            Self::Bolton => range(-35.0, 35.0, cite),
            Self::AlduchovEskridge => range(-40.0, 50.0, cite),
            Self::Buck1981 => range(-20.0, 50.0, cite),
            Self::Buck1996 => range(-80.0, 50.0, cite),
            Self::Tetens => range(-20.0, 50.0, cite),
        }
    }

    /// Temperatures over ice, °C; `None` where the author gives no formula for ice.
    #[must_use]
    pub const fn ice_range(self) -> Option<Limit> {
        let cite = self.cite();
        match self {
            Self::Iapws => {
                Some(range(-150.0, 0.01, Cite::new("IAPWS R14-08 (2011)", "equation 6", cite.reading)))
            }
            Self::HylandWexler => Some(range(-100.0, 0.01, cite)),
            Self::Sonntag => Some(range(-100.0, 0.01, cite)),
            Self::MagnusWmo => Some(range(-65.0, 0.01, cite)),
            _ => None,
        }
    }

    /// Saturation vapour pressure over water.
    ///
    /// # Errors
    /// [`HumidError`] outside [`Formulation::range`].
    ///
    /// ```
    /// use fairpull_core::Temperature;
    /// use fairpull_humid::Formulation;
    /// let e = Formulation::Iapws.over_water(Temperature::from_celsius(25.0)).unwrap();
    /// assert!((e.pascals() - 3169.824).abs() < 0.001); // steam tables print 3.1697 to 3.1699 kPa
    /// ```
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub fn over_water(self, t: Temperature) -> Result<VapourPressure, HumidError> {
        self.range().check(t.celsius())?;
        Ok(VapourPressure::from_pascals(self.water(t.kelvin())))
    }

    /// The same at the temperature of an air: most formulations answer for every intake, which need not be checked
    /// again.
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub(crate) fn over_water_of(self, air: &Air) -> Result<VapourPressure, HumidError> {
        let range = self.range();
        if range.low <= Air::INTAKE.low && range.high >= Air::INTAKE.high {
            Ok(VapourPressure::from_pascals(self.water(air.temperature().kelvin())))
        } else {
            self.over_water(air.temperature())
        }
    }

    /// Saturation vapour pressure over ice.
    ///
    /// # Errors
    /// [`HumidError`] outside [`Formulation::ice_range`], or when there is no formula for ice.
    pub fn over_ice(self, t: Temperature) -> Result<VapourPressure, HumidError> {
        self.ice_range().ok_or(HumidError::NoIceFormula { cite: self.cite() })?.check(t.celsius())?;
        Ok(VapourPressure::from_pascals(self.ice(t.kelvin())))
    }

    /// Over water, or over ice below the triple point where `surface` says so. The branch changes at 0.01 °C, where
    /// both agree, and not at 0 °C, where they would leave a step.
    ///
    /// # Errors
    /// As [`Formulation::over_water`] and [`Formulation::over_ice`].
    pub fn saturation(self, t: Temperature, surface: Surface) -> Result<VapourPressure, HumidError> {
        match surface {
            Surface::IceBelowFreezing if t.kelvin() < TRIPLE => self.over_ice(t),
            Surface::IceBelowFreezing | Surface::Water => self.over_water(t),
        }
    }

    /// Over water, Pa at K, without range check.
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub(crate) fn water(self, kelvin: f64) -> f64 {
        let t = kelvin - 273.15;
        match self {
            Self::Iapws => f::wagner_pruss(kelvin),
            Self::HylandWexler => f::hyland_wexler_water(kelvin),
            Self::Sonntag => f::sonntag_water(kelvin),
            Self::MagnusWmo => f::magnus(t, 611.2, 17.62, 243.12),
            Self::Bolton => f::magnus(t, 611.2, 17.67, 243.5),
            Self::AlduchovEskridge => f::magnus(t, 610.94, 17.625, 243.04),
            Self::Buck1981 => f::magnus(t, 611.21, 17.502, 240.97),
            Self::Buck1996 => f::buck_1996(t),
            Self::Tetens => f::magnus(t, 610.78, 17.269_388_2, 237.3),
        }
    }

    /// Over ice, Pa at K, without range check; NaN without a formula.
    pub(crate) fn ice(self, kelvin: f64) -> f64 {
        match self {
            Self::Iapws => f::iapws_ice(kelvin),
            Self::HylandWexler => f::hyland_wexler_ice(kelvin),
            Self::Sonntag => f::sonntag_ice(kelvin),
            Self::MagnusWmo => f::magnus(kelvin - 273.15, 611.2, 22.46, 272.62),
            _ => f64::NAN,
        }
    }
}
