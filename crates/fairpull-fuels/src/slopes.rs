//! Published slopes of the octane requirement, and a shop's own, as data.

use fairpull_core::{Changes, Cite, Limit, Reading, Refusal, Span};

/// Change of the octane requirement per unit of one input, with standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "std", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "std", serde(deny_unknown_fields))]
pub struct Slope {
    /// Octane numbers per unit; positive when more of the input asks for more octane.
    pub value: f64,
    /// Standard uncertainty, same unit.
    pub uncertainty: f64,
}

impl Slope {
    /// A published slope without a stated uncertainty: 30 % of it.
    #[must_use]
    pub const fn rule(value: f64) -> Self {
        Self { value, uncertainty: if value < 0.0 { -0.3 * value } else { 0.3 * value } }
    }
}

/// A set of slopes. A change for which the set has no slope is refused, never left out in silence.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
#[cfg_attr(feature = "std", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "std", serde(deny_unknown_fields, default))]
#[non_exhaustive]
pub struct Slopes {
    /// Per degree of spark advance.
    pub spark_per_degree: Option<Slope>,
    /// Per kelvin of intake air temperature.
    pub intake_temperature_per_k: Option<Slope>,
    /// Per kilopascal of intake pressure.
    pub intake_pressure_per_kpa: Option<Slope>,
    /// Per unit of compression ratio.
    pub compression_ratio_per_unit: Option<Slope>,
    /// Per kilopascal of exhaust back pressure.
    pub exhaust_pressure_per_kpa: Option<Slope>,
    /// Per kelvin of coolant temperature.
    pub coolant_temperature_per_k: Option<Slope>,
    /// Per gram of water in a kilogram of dry air.
    pub humidity_per_g_kg: Option<Slope>,
    /// Per metre of altitude.
    pub altitude_per_m: Option<Slope>,
    /// Per unit of air-fuel ratio away from the mixture of the highest requirement (negative: requirement falls).
    pub mixture_per_afr: Option<Slope>,
    /// Lambda of the highest requirement.
    pub mixture_peak_lambda: Option<f64>,
}
#[cfg(feature = "std")]
impl fairpull_tree::Field for Slope {
    fn read(node: fairpull_tree::Node) -> Result<Self, fairpull_tree::Fault> {
        written::Slope::read(node).map(|s| Self { value: s.value, uncertainty: s.uncertainty })
    }
}

/// A slope while it is read; only there may it be empty.
#[cfg(feature = "std")]
mod written {
    #[derive(Default)]
    pub(super) struct Slope {
        pub(super) value: f64,
        pub(super) uncertainty: f64,
    }
    fairpull_tree::fields!(Slope { value, uncertainty });
}
#[cfg(feature = "std")]
fairpull_tree::fields!(Slopes default {
    spark_per_degree,
    intake_temperature_per_k,
    intake_pressure_per_kpa,
    compression_ratio_per_unit,
    exhaust_pressure_per_kpa,
    coolant_temperature_per_k,
    humidity_per_g_kg,
    altitude_per_m,
    mixture_per_afr,
    mixture_peak_lambda,
});

/// Guideline measured on a single-cylinder test engine.
pub const RUSS: Cite = Cite::new("Russ, SAE 960497 (1996)", "abstract: test-engine guideline", Reading::Read);
/// Effect of weather and altitude on the requirement of vehicles.
pub const D4814_WEATHER: Cite =
    Cite::new("ASTM D4814", "appendix on octane requirement, weather and altitude", Reading::Remembered);

/// Air-fuel ratio of one lambda that a mixture slope is stated for: stoichiometric petrol CH1.85.
pub const PETROL_RATIO: f64 = 14.574_906_546_326_279;

impl Slopes {
    /// No slope at all.
    pub const NONE: Self = Self {
        spark_per_degree: None,
        intake_temperature_per_k: None,
        intake_pressure_per_kpa: None,
        compression_ratio_per_unit: None,
        exhaust_pressure_per_kpa: None,
        coolant_temperature_per_k: None,
        humidity_per_g_kg: None,
        altitude_per_m: None,
        mixture_per_afr: None,
        mixture_peak_lambda: None,
    };

    /// [`RUSS`]: 1 ON per degree of spark, 1 per 7 K intake air, 3 to 4 per 10 kPa intake pressure, 5 per unit of
    /// compression ratio, 1 per 30 kPa exhaust back pressure, 1 per 10 K coolant, about 2 per air-fuel ratio away
    /// from 5 % rich.
    pub const RUSS: Self = Self {
        spark_per_degree: Some(Slope::rule(1.0)),
        intake_temperature_per_k: Some(Slope::rule(1.0 / 7.0)),
        intake_pressure_per_kpa: Some(Slope::rule(0.35)),
        compression_ratio_per_unit: Some(Slope::rule(5.0)),
        exhaust_pressure_per_kpa: Some(Slope::rule(1.0 / 30.0)),
        coolant_temperature_per_k: Some(Slope::rule(0.1)),
        mixture_per_afr: Some(Slope::rule(-2.0)),
        mixture_peak_lambda: Some(1.0 / 1.05),
        ..Self::NONE
    };

    /// [`D4814_WEATHER`]: motor octane requirement of vehicles, 0.54 per 5.6 K ambient, −0.25 to −0.32 per g/kg
    /// humidity, −0.2 to −0.5 per 300 m with electronic control.
    pub const WEATHER: Self = Self {
        intake_temperature_per_k: Some(Slope::rule(0.54 / 5.6)),
        humidity_per_g_kg: Some(Slope::rule(-0.285)),
        altitude_per_m: Some(Slope::rule(-0.35 / 300.0)),
        ..Self::NONE
    };

    /// Change of the octane requirement for these changes; the terms add and their uncertainties are independent.
    ///
    /// # Errors
    /// [`Refusal::Missing`] for a change without a slope; [`Refusal::OutOfRange`] for a change or slope that is not
    /// finite or too large for a slope to mean anything.
    pub fn change(&self, changes: &Changes, cite: Cite) -> Result<Span, Refusal> {
        let c = changes;
        let terms: [(&'static str, &'static str, f64, f64, Option<Slope>); 8] = [
            ("change of spark advance", "degrees", c.spark_advance, 60.0, self.spark_per_degree),
            ("change of intake temperature", "K", c.intake_temperature, 150.0, self.intake_temperature_per_k),
            ("change of intake pressure", "kPa", c.intake_pressure, 300.0, self.intake_pressure_per_kpa),
            ("change of compression ratio", "1", c.compression_ratio, 10.0, self.compression_ratio_per_unit),
            (
                "change of exhaust back pressure",
                "kPa",
                c.exhaust_pressure,
                400.0,
                self.exhaust_pressure_per_kpa,
            ),
            (
                "change of coolant temperature",
                "K",
                c.coolant_temperature,
                100.0,
                self.coolant_temperature_per_k,
            ),
            ("change of humidity", "g/kg", c.humidity, 60.0, self.humidity_per_g_kg),
            ("change of altitude", "m", c.altitude, 6000.0, self.altitude_per_m),
        ];
        let (mut value, mut square) = (0.0, 0.0);
        for (what, unit, by, most, slope) in terms {
            Limit { what, unit, low: -most, high: most, cite }.check(by)?;
            if by != 0.0 {
                let slope = known(slope, what, cite)?;
                value += slope.value * by;
                square += slope.uncertainty * by * slope.uncertainty * by;
            }
        }
        if let Some([before, after]) = c.lambda {
            let mixture = Limit { what: "relative air-fuel ratio", unit: "1", low: 0.5, high: 2.0, cite };
            let slope = known(self.mixture_per_afr, "change of mixture", cite)?;
            let peak = mixture.check(
                self.mixture_peak_lambda.ok_or(no_slope("mixture of the highest requirement", cite))?,
            )?;
            let away = |lambda: f64| libm::fabs(lambda - peak) * PETROL_RATIO;
            let by = away(mixture.check(after)?) - away(mixture.check(before)?);
            value += slope.value * by;
            square += slope.uncertainty * by * slope.uncertainty * by;
        }
        Ok(Span::new(value, libm::sqrt(square)))
    }
}

const fn no_slope(what: &'static str, cite: Cite) -> Refusal {
    Refusal::Missing {
        what,
        mend: "this set has no slope for it: give your own slope with its uncertainty",
        cite,
    }
}

/// The slope, if there is one and it is a usable number.
pub(crate) fn known(slope: Option<Slope>, what: &'static str, cite: Cite) -> Result<Slope, Refusal> {
    let slope = slope.ok_or(no_slope(what, cite))?;
    Limit { what: "slope of the octane requirement", unit: "ON per unit", low: -100.0, high: 100.0, cite }
        .check(slope.value)?;
    Limit { what: "standard uncertainty of a slope", unit: "ON per unit", low: 0.0, high: 100.0, cite }
        .check(slope.uncertainty)?;
    Ok(slope)
}
