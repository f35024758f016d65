//! What can be written behind `fairpull stress`.

use std::path::PathBuf;

use fairpull::{PipeQuestion, StateQuestion};

use crate::knock::replace;

/// `fairpull stress`.
#[derive(clap::Args)]
pub struct Stress {
    /// Question as TOML or JSON with [before], [after] and [pipe]; flags replace fields of [before] and [pipe].
    pub question: Option<PathBuf>,
    /// The state.
    #[command(flatten)]
    pub state: StateArgs,
    /// The pipe.
    #[command(flatten)]
    pub pipe: PipeArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// One state at one point of the pull.
#[derive(clap::Args, Clone, Default)]
#[command(
    next_help_heading = "State (each with its standard uncertainty where known; pressures say (a) or (g))"
)]
pub struct StateArgs {
    /// The engine is turbocharged or supercharged.
    #[arg(long)]
    pub charged: bool,
    /// Swept volume, e.g. 1950cm3.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub swept_volume: Option<String>,
    /// Stroke, e.g. 90mm.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub stroke: Option<String>,
    /// Engine speed, e.g. 6500rpm.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub engine_speed: Option<String>,
    /// Brake power at the crankshaft, e.g. "221kW ± 2kW".
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    pub power: Option<String>,
    /// Brake torque at the crankshaft.
    #[arg(long, value_name = "TORQUE", allow_hyphen_values = true)]
    pub torque: Option<String>,
    /// Station pressure, e.g. 985hPa; needed with gauge pressures.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub barometer: Option<String>,
    /// Air temperature at the compressor inlet (or ambient).
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub intake_temperature: Option<String>,
    /// Pressure at the compressor inlet [default: the barometer].
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub compressor_inlet: Option<String>,
    /// Pressure at the compressor outlet, e.g. 1.4bar(g).
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub compressor_outlet: Option<String>,
    /// Temperature at the compressor outlet.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub compressor_outlet_temperature: Option<String>,
    /// Isentropic efficiency of the compressor where it is not measured.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub compressor_efficiency: Option<String>,
    /// Manifold pressure, after the charge cooler, e.g. 220kPa(a).
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub manifold: Option<String>,
    /// Charge temperature, after the charge cooler.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub charge_temperature: Option<String>,
    /// Coolant (air or water) temperature at the inlet of the charge cooler.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub coolant_temperature: Option<String>,
    /// Charge temperature that must not be passed.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub charge_temperature_limit: Option<String>,
    /// Pressure before the turbine, or in the exhaust manifold.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pre_turbine: Option<String>,
    /// Pressure behind the turbine.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub post_turbine: Option<String>,
    /// Gas temperature before the turbine.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub pre_turbine_temperature: Option<String>,
    /// Isentropic efficiency of the turbine.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub turbine_efficiency: Option<String>,
    /// Mechanical efficiency of the turbocharger.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub turbocharger_mechanical_efficiency: Option<String>,
    /// Air mass flow, if measured, e.g. 0.28kg/s.
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub air_flow: Option<String>,
    /// Volumetric efficiency on manifold pressure and charge temperature.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub volumetric_efficiency: Option<String>,
    /// Fuel mass flow, if measured, e.g. 75kg/h.
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub fuel_flow: Option<String>,
    /// Brake specific fuel consumption where fuel flow is not measured, e.g. 300g/kWh.
    #[arg(long, value_name = "CONSUMPTION", allow_hyphen_values = true)]
    pub consumption: Option<String>,
    /// Relative air-fuel ratio, e.g. 0.86.
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub lambda: Option<String>,
    /// Stoichiometric air-fuel ratio of the fuel, e.g. 14.6.
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub stoichiometric_ratio: Option<String>,
    /// Density of the fuel, e.g. 745kg/m3.
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true)]
    pub fuel_density: Option<String>,
    /// Rated flow of one injector, e.g. 550cm3/min.
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub injector_flow: Option<String>,
    /// Pressure drop of that rating, e.g. 300kPa.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub injector_rated_drop: Option<String>,
    /// Density of the test fluid of that rating.
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true)]
    pub injector_rated_density: Option<String>,
    /// Rail pressure, e.g. 3.5bar(g).
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub rail: Option<String>,
    /// Number of injectors.
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true)]
    pub injectors: Option<f64>,
}

/// Two inside diameters of one pipe run.
#[derive(clap::Args, Clone, Default)]
#[command(next_help_heading = "Pipe: two inside diameters of one run")]
pub struct PipeArgs {
    /// Mass flow, e.g. 0.345kg/s.
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub pipe_mass_flow: Option<String>,
    /// Gas temperature at the known end.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub pipe_temperature: Option<String>,
    /// Pressure at the inlet, where that is the known end.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pipe_inlet: Option<String>,
    /// Pressure at the outlet, where that is the known end (an exhaust that ends in the open).
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pipe_outlet: Option<String>,
    /// Station pressure, for a gauge reading.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pipe_barometer: Option<String>,
    /// Inside diameter before, e.g. 85.9mm.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub pipe_before: Option<String>,
    /// Inside diameter after.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub pipe_after: Option<String>,
    /// Length of the run.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub pipe_length: Option<String>,
    /// Wall roughness [default: 0.05mm].
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub pipe_roughness: Option<String>,
    /// Expansion ratio of the turbine before the pipe, "1.8 ± 0.05".
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub pipe_expansion_ratio: Option<String>,
    /// Measured change before the turbine if there is one, else of the pipe, "-35kPa ± 1kPa".
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub pipe_measured_change: Option<String>,
    /// Sum of the loss coefficients of bends, entries and exits [default: 0].
    #[arg(long, value_name = "SUM", allow_hyphen_values = true)]
    pub pipe_loss_coefficients: Option<f64>,
    /// Ratio of specific heats [default: 1.33, exhaust gas].
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub pipe_gamma: Option<f64>,
}

impl StateArgs {
    /// Replaces the fields that a flag states.
    pub fn replace(&self, q: &mut StateQuestion) {
        q.charged |= self.charged;
        replace!(q, self; swept_volume = swept_volume, stroke = stroke, engine_speed = engine_speed, power = power, torque = torque, barometer = barometer, intake_temperature = intake_temperature, compressor_inlet = compressor_inlet, compressor_outlet = compressor_outlet, compressor_outlet_temperature = compressor_outlet_temperature, compressor_efficiency = compressor_efficiency, manifold = manifold, charge_temperature = charge_temperature, coolant_temperature = coolant_temperature, charge_temperature_limit = charge_temperature_limit, pre_turbine = pre_turbine, post_turbine = post_turbine, pre_turbine_temperature = pre_turbine_temperature, turbine_efficiency = turbine_efficiency, turbocharger_mechanical_efficiency = turbocharger_mechanical_efficiency, air_flow = air_flow, volumetric_efficiency = volumetric_efficiency, fuel_flow = fuel_flow, consumption = consumption, lambda = lambda, stoichiometric_ratio = stoichiometric_ratio, fuel_density = fuel_density, injector_flow = injector_flow, injector_rated_drop = injector_rated_drop, injector_rated_density = injector_rated_density, rail = rail, injectors = injectors);
    }
}

impl PipeArgs {
    /// Replaces the fields that a flag states.
    pub fn replace(&self, q: &mut PipeQuestion) {
        replace!(q, self; mass_flow = pipe_mass_flow, temperature = pipe_temperature, inlet = pipe_inlet, outlet = pipe_outlet, barometer = pipe_barometer, before = pipe_before, after = pipe_after, length = pipe_length, roughness = pipe_roughness, expansion_ratio = pipe_expansion_ratio, measured_change = pipe_measured_change,
            loss_coefficients = pipe_loss_coefficients, gamma = pipe_gamma);
    }
}
