//! Question: how far is this engine from knock on these fuels?

use fairpull_core::KnockModel;
use fairpull_fuels::{
    AnchorGiven, ChangesGiven, CycleGiven, K_BOOSTED_DIRECT, K_HOT, K_PORT, KnockInput, KnockInputError,
    KnockReport, Slopes,
};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::air::si;
use crate::stated::{number, pressure, quantity};

/// Schema of the answer about knock.
pub const KNOCK_SCHEMA: &str = "fairpull-knock-1";

/// Fuels, and what is known of the engine.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct KnockQuestion {
    /// Fuels: grade ids, octane numbers or blends.
    pub fuels: Vec<String>,
    /// Id of the model. When left out: end-gas autoignition with a cycle, published slopes with changes, else the
    /// octane index.
    pub model: Option<String>,
    /// Weight of the sensitivity, `-0.2 ± 0.3`, or `boosted-direct`, `port`, `hot` for a published prior.
    pub k: Option<String>,
    /// Octane index at which the engine is just borderline, `96 ± 2`.
    pub requirement: Option<String>,
    /// The cycle at which the margin is wanted.
    pub cycle: Option<CycleQuestion>,
    /// The measured borderline point.
    pub anchor: Option<AnchorQuestion>,
    /// What differs from the state of the requirement: new less old.
    pub changes: Option<ChangesQuestion>,
    /// Own slopes, for the model `declared-slopes-own`.
    pub slopes: Option<Slopes>,
}
fairpull_tree::fields!(KnockQuestion default { fuels, model, k, requirement, cycle, anchor, changes, slopes });

/// A closed cycle. Angles count from firing top dead centre, negative before it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CycleQuestion {
    /// Bore, e.g. `83mm`.
    pub bore: Option<String>,
    /// Stroke.
    pub stroke: Option<String>,
    /// Connecting-rod length.
    pub rod: Option<String>,
    /// Compression ratio.
    pub compression_ratio: Option<f64>,
    /// Engine speed, e.g. `3000rpm`.
    pub engine_speed: Option<String>,
    /// Pressure at intake valve closing, `180kPa(a)`, or gauge with a barometer.
    pub pressure: Option<String>,
    /// Station pressure, for a gauge pressure.
    pub barometer: Option<String>,
    /// Temperature at intake valve closing, residual gas included.
    pub temperature: Option<String>,
    /// Intake valve closing, e.g. `-130deg`.
    pub intake_closing: Option<String>,
    /// Start of burning: spark angle plus ignition lag.
    pub burn_start: Option<String>,
    /// Burn duration to 99.3 % burned: 2.016 times the 10 to 90 % duration.
    pub burn_duration: Option<String>,
    /// Air-fuel ratio by mass.
    pub air_fuel_ratio: Option<f64>,
    /// Residual gas fraction [default: 5 %].
    pub residual: Option<String>,
}
fairpull_tree::fields!(CycleQuestion default {
    bore, stroke, rod, compression_ratio, engine_speed, pressure, barometer, temperature, intake_closing,
    burn_start, burn_duration, air_fuel_ratio, residual,
});

/// A measured borderline point.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct AnchorQuestion {
    /// Fuel that was just borderline.
    pub fuel: String,
    /// Standard uncertainty of "just borderline", octane numbers [default: 1].
    pub uncertainty: Option<f64>,
    /// The cycle there; that of the question when left out.
    pub cycle: Option<CycleQuestion>,
}
fairpull_tree::fields!(AnchorQuestion default { fuel, uncertainty, cycle });

/// What differs from the state in which the requirement was determined: new less old.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct ChangesQuestion {
    /// Spark advance, e.g. `2deg`.
    pub spark_advance: Option<String>,
    /// Intake air or charge temperature, a difference: `15K`.
    pub intake_temperature: Option<String>,
    /// Intake pressure, a difference: `20kPa`.
    pub intake_pressure: Option<String>,
    /// Compression ratio.
    pub compression_ratio: Option<f64>,
    /// Exhaust back pressure, a difference: `-30kPa`.
    pub exhaust_pressure: Option<String>,
    /// Coolant temperature, a difference.
    pub coolant_temperature: Option<String>,
    /// Water in dry air, a difference: `4g/kg`.
    pub humidity: Option<String>,
    /// Altitude, a difference: `300m`.
    pub altitude: Option<String>,
    /// Lambda before and after.
    pub lambda: Option<[f64; 2]>,
}
fairpull_tree::fields!(ChangesQuestion default {
    spark_advance, intake_temperature, intake_pressure, compression_ratio, exhaust_pressure,
    coolant_temperature, humidity, altitude, lambda,
});

/// Margins with the schema they are published under.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KnockAnswer {
    /// [`KNOCK_SCHEMA`].
    pub schema: &'static str,
    /// The margins.
    #[serde(flatten)]
    pub report: KnockReport,
}

/// The margin of each fuel, with a plain verdict.
///
/// # Errors
/// [`AskError`] naming the field.
pub fn knock(question: &KnockQuestion, models: &[&dyn KnockModel]) -> Result<KnockAnswer, AskError> {
    let input = question.input()?;
    let report = fairpull_fuels::knock(&input, models).map_err(|e| refused(question, &e))?;
    Ok(KnockAnswer { schema: KNOCK_SCHEMA, report })
}

fn refused(q: &KnockQuestion, e: &KnockInputError) -> AskError {
    let shown = |o: &Option<String>| o.clone().unwrap_or_default();
    match e {
        KnockInputError::UnknownModel { known, .. } => {
            AskError::new("model", &shown(&q.model), "is no knock model", format!("there are {known}"))
        }
        KnockInputError::NoFuel => AskError::new(
            "fuels",
            "",
            "no fuel is given",
            "name a grade such as en-228-95, or octane numbers",
        ),
        KnockInputError::AnchorFuel(why) => {
            let fuel = q.anchor.as_ref().map_or(String::new(), |a| a.fuel.clone());
            AskError::new("anchor.fuel", &fuel, why.to_string(), "")
        }
        other => AskError::new("cycle", "", other.to_string(), ""),
    }
}

impl KnockQuestion {
    /// The question in the units of the models.
    ///
    /// # Errors
    /// [`AskError`] naming the field.
    pub fn input(&self) -> Result<KnockInput, AskError> {
        let mut i = KnockInput::default();
        i.fuels.clone_from(&self.fuels);
        i.model = Some(match (&self.model, &self.cycle, &self.changes, &self.requirement, &self.slopes) {
            (Some(id), ..) => id.clone(),
            (None, Some(_), ..) => "end-gas-autoignition".into(),
            (None, None, _, Some(_), Some(_)) => "declared-slopes-own".into(),
            (None, None, Some(_), Some(_), None) => "declared-slopes".into(),
            (None, None, None, Some(_), None) => "octane-index".into(),
            (None, None, _, None, _) => {
                return Err(AskError::new(
                    "requirement",
                    "",
                    "nothing is said about the engine",
                    "give the octane index at which it is just borderline (96 ± 2), or a cycle",
                ));
            }
        });
        i.k = self
            .k
            .as_deref()
            .map(|text| match text {
                "boosted-direct" => Ok(K_BOOSTED_DIRECT.into()),
                "port" => Ok(K_PORT.into()),
                "hot" => Ok(K_HOT.into()),
                other => number("k", other).map(Into::into).map_err(|mut e| {
                    e.mend = "write -0.2 ± 0.3, or boosted-direct, port or hot for a published prior".into();
                    e
                }),
            })
            .transpose()?;
        i.requirement =
            self.requirement.as_deref().map(|t| number("requirement", t)).transpose()?.map(Into::into);
        i.cycle = self.cycle.as_ref().map(|c| c.given("cycle")).transpose()?;
        i.anchor = self
            .anchor
            .as_ref()
            .map(|a| {
                Ok(AnchorGiven {
                    fuel: a.fuel.clone(),
                    cycle: a.cycle.as_ref().map(|c| c.given("anchor.cycle")).transpose()?,
                    uncertainty: a.uncertainty.unwrap_or(1.0),
                })
            })
            .transpose()?;
        i.changes = self.changes.as_ref().map_or(Ok(ChangesGiven::default()), ChangesQuestion::given)?;
        i.slopes = self.slopes;
        Ok(i)
    }
}

impl CycleQuestion {
    fn given(&self, part: &str) -> Result<CycleGiven, AskError> {
        let field = |name: &str| format!("{part}.{name}");
        let missing = |name: &str, example: &str| {
            AskError::new(&field(name), "", "is missing", format!("give e.g. {example}"))
        };
        let read = |name: &str, text: &Option<String>, d: D, example: &str| {
            let t = text.as_deref().ok_or_else(|| missing(name, example))?;
            si(&field(name), t, d)
        };
        let degrees = |x: f64| x * 180.0 / core::f64::consts::PI;
        let text = self.pressure.as_deref().ok_or_else(|| missing("pressure", "180kPa(a)"))?;
        let p = pressure(&field("pressure"), text, false)?;
        let b = self
            .barometer
            .as_deref()
            .map(|t| pressure(&field("barometer"), t, true))
            .transpose()?
            .map(|b| b.kpa.value);
        if p.gauge && b.is_none() {
            return Err(AskError::new(
                &field("barometer"),
                "",
                format!("is missing: the pressure {text} is gauge"),
                "give the station pressure, e.g. 985hPa",
            ));
        }
        let number = |name: &str, x: Option<f64>, example: &str| x.ok_or_else(|| missing(name, example));
        Ok(CycleGiven {
            bore_mm: read("bore", &self.bore, D::Length, "83mm")? * 1e3,
            stroke_mm: read("stroke", &self.stroke, D::Length, "90mm")? * 1e3,
            rod_mm: read("rod", &self.rod, D::Length, "144mm")? * 1e3,
            compression_ratio: number("compression_ratio", self.compression_ratio, "9.6")?,
            engine_speed_rpm: read("engine_speed", &self.engine_speed, D::RotationalSpeed, "3000rpm")? * 30.0
                / core::f64::consts::PI,
            ivc_pressure_kpa: (!p.gauge).then_some(p.kpa.value),
            ivc_gauge_kpa: p.gauge.then_some(p.kpa.value),
            barometer_kpa: b,
            ivc_temperature_c: read("temperature", &self.temperature, D::Temperature, "80C")? - 273.15,
            ivc_angle_deg: degrees(read("intake_closing", &self.intake_closing, D::Angle, "-130deg")?),
            burn_start_deg: degrees(read("burn_start", &self.burn_start, D::Angle, "-10deg")?),
            burn_duration_deg: degrees(read("burn_duration", &self.burn_duration, D::Angle, "55deg")?),
            air_fuel_ratio: number("air_fuel_ratio", self.air_fuel_ratio, "12.5")?,
            residual_fraction: self
                .residual
                .as_deref()
                .map_or(Ok(0.05), |t| si(&field("residual"), t, D::Ratio))?,
        })
    }
}

impl ChangesQuestion {
    fn given(&self) -> Result<ChangesGiven, AskError> {
        let read = |name: &str, text: &Option<String>, d: D, per: f64| {
            text.as_deref()
                .map_or(Ok(0.0), |t| quantity(&format!("changes.{name}"), t, d).map(|s| s.value / per))
        };
        Ok(ChangesGiven {
            spark_advance_deg: read(
                "spark_advance",
                &self.spark_advance,
                D::Angle,
                core::f64::consts::PI / 180.0,
            )?,
            intake_temperature_k: read(
                "intake_temperature",
                &self.intake_temperature,
                D::TemperatureDifference,
                1.0,
            )?,
            intake_pressure_kpa: read("intake_pressure", &self.intake_pressure, D::Pressure, 1e3)?,
            compression_ratio: self.compression_ratio.unwrap_or(0.0),
            exhaust_pressure_kpa: read("exhaust_pressure", &self.exhaust_pressure, D::Pressure, 1e3)?,
            coolant_temperature_k: read(
                "coolant_temperature",
                &self.coolant_temperature,
                D::TemperatureDifference,
                1.0,
            )?,
            humidity_g_kg: read("humidity", &self.humidity, D::Ratio, 1e-3)?,
            altitude_m: read("altitude", &self.altitude, D::Length, 1.0)?,
            lambda: self.lambda,
        })
    }
}
