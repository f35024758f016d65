//! Weather at the rig, and what the engine makes of it.

/// Moist air as it really is (not as the weather station says).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weather {
    /// Station pressure, kPa.
    pub pressure_kpa: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
}

impl Weather {
    /// Air from station pressure (hPa), temperature (°C) and relative humidity (%).
    #[must_use]
    pub const fn new(pressure_hpa: f64, temperature_c: f64, humidity_percent: f64) -> Self {
        Self { pressure_kpa: pressure_hpa / 10.0, temperature_c, humidity: humidity_percent / 100.0 }
    }

    /// Vapour pressure, kPa.
    #[must_use]
    pub fn vapour_kpa(&self) -> f64 {
        self.humidity * saturation_kpa(self.temperature_c)
    }

    /// Dry pressure, kPa.
    #[must_use]
    pub fn dry_kpa(&self) -> f64 {
        self.pressure_kpa - self.vapour_kpa()
    }

    /// Factor of the ISO 1585 spark-ignition form, (99/p_dry)^1.2 (T/298)^0.6 with T = t + 273 as printed (from
    /// memory of the text). An engine of [`crate::Response::Density`] gives exactly 1/factor of its reference power.
    #[must_use]
    pub fn spark_factor(&self) -> f64 {
        libm::pow(99.0 / self.dry_kpa(), 1.2) * libm::pow((self.temperature_c + 273.0) / 298.0, 0.6)
    }
}

/// Saturation vapour pressure over water, kPa, 0 to 200 °C: Hyland and Wexler 1983 as in ASHRAE Fundamentals,
/// chapter 1.
#[must_use]
pub fn saturation_kpa(celsius: f64) -> f64 {
    let t = celsius + 273.15;
    let log = -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t
        - 1.4452093e-8 * t * t * t
        + 6.5459673 * libm::log(t);
    libm::exp(log) / 1000.0
}
