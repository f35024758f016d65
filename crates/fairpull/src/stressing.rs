//! Question: what does the power cost the engine?

use fairpull_stress::{
    Figure, PipeGiven, PipeReport, PressureGiven, StressChange, StressInput, StressReport,
};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::stated::{number, pressure, quantity};

/// Schema of [`StressAnswer`].
pub const STRESS_SCHEMA: &str = "fairpull-stress-1";

/// 1/min in rad/s.
const RPM: f64 = core::f64::consts::PI / 30.0;

/// One or two states, and a pipe.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct StressQuestion {
    /// The state, or the first of two.
    pub before: StateQuestion,
    /// The second state.
    pub after: Option<StateQuestion>,
    /// Correlation of the errors of the two states: 0 (default, cautious) to 1 (same sensors with a fixed error).
    pub shared: Option<f64>,
    /// Two diameters of one pipe run.
    pub pipe: Option<PipeQuestion>,
}
fairpull_tree::fields!(StressQuestion default { before, after, shared, pipe });

/// What is known of one state at one point of the pull: each `<number><unit>`, with its standard uncertainty where it
/// is known (`221kW ± 2kW`). Pressures say `(a)` or `(g)`; a gauge pressure needs the barometer.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct StateQuestion {
    /// Station pressure, e.g. `985hPa`.
    pub barometer: Option<String>,
    /// True for a turbocharged or supercharged engine.
    pub charged: bool,
    /// Swept volume, e.g. `1950cm3`.
    pub swept_volume: Option<String>,
    /// Stroke, e.g. `90mm`.
    pub stroke: Option<String>,
    /// Engine speed, e.g. `6500rpm`.
    pub engine_speed: Option<String>,
    /// Brake power at the crankshaft, e.g. `221kW ± 2kW`.
    pub power: Option<String>,
    /// Brake torque at the crankshaft, e.g. `400Nm`.
    pub torque: Option<String>,
    /// Air temperature at the compressor inlet (or ambient).
    pub intake_temperature: Option<String>,
    /// Pressure at the compressor inlet; the barometer when left out.
    pub compressor_inlet: Option<String>,
    /// Pressure at the compressor outlet, e.g. `1.4bar(g)`.
    pub compressor_outlet: Option<String>,
    /// Temperature at the compressor outlet.
    pub compressor_outlet_temperature: Option<String>,
    /// Isentropic efficiency of the compressor where it is not measured, e.g. `72% ± 3%`.
    pub compressor_efficiency: Option<String>,
    /// Manifold pressure, after the charge cooler, e.g. `220kPa(a)`.
    pub manifold: Option<String>,
    /// Charge temperature, after the charge cooler.
    pub charge_temperature: Option<String>,
    /// Coolant (air or water) temperature at the inlet of the charge cooler.
    pub coolant_temperature: Option<String>,
    /// Charge temperature that must not be passed.
    pub charge_temperature_limit: Option<String>,
    /// Pressure before the turbine, or in the exhaust manifold.
    pub pre_turbine: Option<String>,
    /// Pressure behind the turbine.
    pub post_turbine: Option<String>,
    /// Gas temperature before the turbine.
    pub pre_turbine_temperature: Option<String>,
    /// Isentropic efficiency of the turbine.
    pub turbine_efficiency: Option<String>,
    /// Mechanical efficiency of the turbocharger.
    pub turbocharger_mechanical_efficiency: Option<String>,
    /// Air mass flow, if measured, e.g. `0.28kg/s`.
    pub air_flow: Option<String>,
    /// Volumetric efficiency on manifold pressure and charge temperature.
    pub volumetric_efficiency: Option<String>,
    /// Fuel mass flow, if measured, e.g. `75kg/h`.
    pub fuel_flow: Option<String>,
    /// Brake specific fuel consumption where fuel flow is not measured, e.g. `300g/kWh`.
    pub consumption: Option<String>,
    /// Relative air-fuel ratio, e.g. `0.86 ± 0.01`.
    pub lambda: Option<String>,
    /// Stoichiometric air-fuel ratio of the fuel, e.g. `14.6`.
    pub stoichiometric_ratio: Option<String>,
    /// Density of the fuel, e.g. `745kg/m3`.
    pub fuel_density: Option<String>,
    /// Rated flow of one injector, e.g. `550cm3/min`.
    pub injector_flow: Option<String>,
    /// Rail pressure, e.g. `3.5bar(g)`.
    pub rail: Option<String>,
    /// Number of injectors.
    pub injectors: Option<f64>,
    /// Pressure drop of the rating of the injectors, e.g. `300kPa`.
    pub injector_rated_drop: Option<String>,
    /// Density of the test fluid of that rating.
    pub injector_rated_density: Option<String>,
}
fairpull_tree::fields!(StateQuestion default {
    barometer, charged, swept_volume, stroke, engine_speed, power, torque, intake_temperature,
    compressor_inlet, compressor_outlet, compressor_outlet_temperature, compressor_efficiency, manifold,
    charge_temperature, coolant_temperature, charge_temperature_limit, pre_turbine, post_turbine,
    pre_turbine_temperature, turbine_efficiency, turbocharger_mechanical_efficiency, air_flow,
    volumetric_efficiency, fuel_flow, consumption, lambda, stoichiometric_ratio, fuel_density, injector_flow,
    rail, injectors, injector_rated_drop, injector_rated_density,
});

impl StateQuestion {
    /// Whether anything was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The state in the units of the formulas.
    ///
    /// # Errors
    /// [`AskError`] naming the field.
    pub fn input(&self, part: &str) -> Result<StressInput, AskError> {
        let ask = Ask { part };
        let mut i = StressInput::default();
        i.charged = self.charged;
        i.injectors = self.injectors;
        i.barometer = ask.pressure("barometer", &self.barometer, true)?;
        i.swept_volume_l = ask.figure("swept_volume", &self.swept_volume, D::Volume, |s| s.per(1e-3))?;
        i.stroke_mm = ask.figure("stroke", &self.stroke, D::Length, |s| s.per(1e-3))?;
        i.engine_speed_rpm =
            ask.figure("engine_speed", &self.engine_speed, D::RotationalSpeed, |s| s.per(RPM))?;
        i.power_kw = ask.figure("power", &self.power, D::Power, |s| s.per(1e3))?;
        i.torque_nm = ask.figure("torque", &self.torque, D::Torque, |s| s)?;
        i.intake_temperature_c =
            ask.figure("intake_temperature", &self.intake_temperature, D::Temperature, |s| s.celsius())?;
        i.compressor_inlet = ask.pressure("compressor_inlet", &self.compressor_inlet, false)?;
        i.compressor_outlet = ask.pressure("compressor_outlet", &self.compressor_outlet, false)?;
        i.compressor_outlet_temperature_c = ask.figure(
            "compressor_outlet_temperature",
            &self.compressor_outlet_temperature,
            D::Temperature,
            |s| s.celsius(),
        )?;
        i.compressor_efficiency =
            ask.figure("compressor_efficiency", &self.compressor_efficiency, D::Ratio, |s| s)?;
        i.manifold = ask.pressure("manifold", &self.manifold, false)?;
        i.charge_temperature_c =
            ask.figure("charge_temperature", &self.charge_temperature, D::Temperature, |s| s.celsius())?;
        i.coolant_temperature_c =
            ask.figure("coolant_temperature", &self.coolant_temperature, D::Temperature, |s| s.celsius())?;
        i.charge_temperature_limit_c =
            ask.figure("charge_temperature_limit", &self.charge_temperature_limit, D::Temperature, |s| {
                s.celsius()
            })?;
        i.pre_turbine = ask.pressure("pre_turbine", &self.pre_turbine, false)?;
        i.post_turbine = ask.pressure("post_turbine", &self.post_turbine, false)?;
        i.pre_turbine_temperature_c =
            ask.figure("pre_turbine_temperature", &self.pre_turbine_temperature, D::Temperature, |s| {
                s.celsius()
            })?;
        i.turbine_efficiency = ask.figure("turbine_efficiency", &self.turbine_efficiency, D::Ratio, |s| s)?;
        i.turbocharger_mechanical_efficiency = ask.figure(
            "turbocharger_mechanical_efficiency",
            &self.turbocharger_mechanical_efficiency,
            D::Ratio,
            |s| s,
        )?;
        i.air_flow_kg_s = ask.figure("air_flow", &self.air_flow, D::MassFlow, |s| s)?;
        i.volumetric_efficiency =
            ask.figure("volumetric_efficiency", &self.volumetric_efficiency, D::Ratio, |s| s)?;
        i.fuel_flow_kg_h = ask.figure("fuel_flow", &self.fuel_flow, D::MassFlow, |s| s.per(1.0 / 3600.0))?;
        i.consumption_g_kwh =
            ask.figure("consumption", &self.consumption, D::SpecificFuel, |s| s.per(1.0 / 3.6e9))?;
        i.lambda = ask.number("lambda", &self.lambda)?;
        i.stoichiometric_ratio = ask.number("stoichiometric_ratio", &self.stoichiometric_ratio)?;
        i.fuel_density_kg_m3 = ask.figure("fuel_density", &self.fuel_density, D::Density, |s| s)?;
        i.injector_rated_cm3_min =
            ask.figure("injector_flow", &self.injector_flow, D::VolumeFlow, |s| s.per(1.0 / 6.0e7))?;
        i.rail = ask.pressure("rail", &self.rail, false)?;
        i.injector_rated_drop_kpa = ask
            .figure("injector_rated_drop", &self.injector_rated_drop, D::Pressure, |s| s.per(1e3))?
            .map(|f| f.value);
        i.injector_rated_density_kg_m3 = ask
            .figure("injector_rated_density", &self.injector_rated_density, D::Density, |s| s)?
            .map(|f| f.value);
        Ok(i)
    }
}

/// One pipe run and two inside diameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PipeQuestion {
    /// Mass flow, e.g. `0.345kg/s`.
    pub mass_flow: Option<String>,
    /// Gas temperature at the known end.
    pub temperature: Option<String>,
    /// Pressure at the inlet, where that is the known end.
    pub inlet: Option<String>,
    /// Pressure at the outlet, where that is the known end (an exhaust that ends in the open).
    pub outlet: Option<String>,
    /// Station pressure, for a gauge reading.
    pub barometer: Option<String>,
    /// Inside diameter before, e.g. `85.9mm`.
    pub before: Option<String>,
    /// Inside diameter after.
    pub after: Option<String>,
    /// Length of the run.
    pub length: Option<String>,
    /// Wall roughness [default: 0.05 mm, a used steel tube].
    pub roughness: Option<String>,
    /// Sum of the loss coefficients of bends, entries and exits [default: 0].
    pub loss_coefficients: Option<f64>,
    /// Ratio of specific heats [default: 1.33, exhaust gas].
    pub gamma: Option<f64>,
    /// Expansion ratio of the turbine before the pipe, `1.8 ± 0.05`.
    pub expansion_ratio: Option<String>,
    /// Measured change before the turbine if there is one, else of the pipe: a difference, `-35kPa ± 1kPa`.
    pub measured_change: Option<String>,
}
fairpull_tree::fields!(PipeQuestion default {
    mass_flow, temperature, inlet, outlet, barometer, before, after, length, roughness, loss_coefficients,
    gamma, expansion_ratio, measured_change,
});

impl PipeQuestion {
    /// The pipe in the units of the formulas.
    ///
    /// # Errors
    /// [`AskError`] naming the field.
    pub fn given(&self) -> Result<PipeGiven, AskError> {
        let ask = Ask { part: "pipe" };
        let must = |name: &str, example: &str, x: Option<Figure>| {
            x.ok_or_else(|| AskError::new(&ask.field(name), "", "is missing", format!("give e.g. {example}")))
        };
        let flow = ask.figure("mass_flow", &self.mass_flow, D::MassFlow, |s| s)?;
        let heat = ask.figure("temperature", &self.temperature, D::Temperature, |s| s.celsius())?;
        let millimetres =
            |name: &str, text: &Option<String>| ask.figure(name, text, D::Length, |s| s.per(1e-3));
        let diameter = |name: &str, example: &str, text| must(name, example, millimetres(name, text)?);
        let mut pipe = PipeGiven::new(
            must("mass_flow", "0.345kg/s", flow)?,
            must("temperature", "630C", heat)?,
            diameter("before", "85.9mm", &self.before)?.value,
            diameter("after", "98.6mm", &self.after)?.value,
            must("length", "3m", ask.figure("length", &self.length, D::Length, |s| s)?)?.value,
        );
        pipe.inlet = ask.pressure("inlet", &self.inlet, false)?;
        pipe.outlet = ask.pressure("outlet", &self.outlet, false)?;
        pipe.barometer = ask.pressure("barometer", &self.barometer, true)?;
        if let Some(roughness) = millimetres("roughness", &self.roughness)? {
            pipe.roughness_mm = roughness.value;
        }
        pipe.loss_coefficients = self.loss_coefficients.unwrap_or(pipe.loss_coefficients);
        pipe.gamma = self.gamma.unwrap_or(pipe.gamma);
        pipe.expansion_ratio = ask.number("expansion_ratio", &self.expansion_ratio)?;
        pipe.measured_change_kpa =
            ask.figure("measured_change", &self.measured_change, D::Pressure, |s| s.per(1e3))?;
        Ok(pipe)
    }
}

/// Reads the fields of one part of the question.
struct Ask<'a> {
    part: &'a str,
}

impl Ask<'_> {
    fn field(&self, name: &str) -> String {
        if self.part.is_empty() { name.into() } else { format!("{}.{name}", self.part) }
    }

    fn figure(
        &self,
        name: &str,
        text: &Option<String>,
        d: D,
        to: impl Fn(crate::stated::Stated) -> crate::stated::Stated,
    ) -> Result<Option<Figure>, AskError> {
        text.as_deref().map(|t| quantity(&self.field(name), t, d).map(|s| to(s).into())).transpose()
    }

    fn number(&self, name: &str, text: &Option<String>) -> Result<Option<Figure>, AskError> {
        text.as_deref().map(|t| number(&self.field(name), t).map(Into::into)).transpose()
    }

    fn pressure(
        &self,
        name: &str,
        text: &Option<String>,
        barometer: bool,
    ) -> Result<Option<PressureGiven>, AskError> {
        text.as_deref().map(|t| pressure(&self.field(name), t, barometer).map(Into::into)).transpose()
    }
}

/// Stress figures of one or two states, and a pipe.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StressAnswer {
    /// [`STRESS_SCHEMA`].
    pub schema: &'static str,
    /// The state, or the first of two.
    pub before: StressReport,
    /// The second state.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after: Option<StressReport>,
    /// Second less first.
    pub changes: Vec<StressChange>,
    /// The pipe.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pipe: Option<PipeReport>,
    /// The caution.
    pub caution: &'static str,
}

/// Every stress figure that the question allows.
///
/// # Errors
/// [`AskError`] naming the field; a figure whose inputs are impossible stands under `refused` of its state.
pub fn stress(question: &StressQuestion) -> Result<StressAnswer, AskError> {
    if question.before.is_empty() && question.after.is_none() && question.pipe.is_none() {
        return Err(AskError::new(
            "before",
            "",
            "nothing is given",
            "state at least two of power, engine speed, swept volume, stroke, pressures and temperatures, or a pipe",
        ));
    }
    let shared = question.shared.unwrap_or(0.0);
    if !(0.0..=1.0).contains(&shared) {
        return Err(AskError::new(
            "shared",
            &shared.to_string(),
            "is outside 0 to 1",
            "0: the states share no error; 1: the same sensors with a fixed error",
        ));
    }
    let two = question.after.is_some();
    let before = fairpull_stress::stress(&question.before.input(if two { "before" } else { "" })?);
    let after =
        question.after.as_ref().map(|a| a.input("after")).transpose()?.map(|i| fairpull_stress::stress(&i));
    let changes = after.as_ref().map_or_else(Vec::new, |a| fairpull_stress::changes(&before, a, shared));
    let pipe = question
        .pipe
        .as_ref()
        .map(|p| p.given()?.compare().map_err(|e| AskError::new("pipe", "", e.to_string(), "")))
        .transpose()?;
    Ok(StressAnswer {
        schema: STRESS_SCHEMA,
        before,
        after,
        changes,
        pipe,
        caution: fairpull_stress::CAUTION,
    })
}
