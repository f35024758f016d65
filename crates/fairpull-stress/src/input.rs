//! One state of an engine as data: whatever is known of it.

use fairpull_core::{Refusal, Temperature};
use serde::{Deserialize, Serialize};

use crate::{AbsoluteReading, Figure, Injectors, PressureGiven, TemperatureReading};

/// What is known of one state at one point of the pull. Everything may be missing; every figure that the given
/// values allow is calculated. Figures are bare numbers or `{ value, uncertainty }`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct StressInput {
    /// Station pressure; needed as soon as one pressure is given as gauge.
    pub barometer: Option<PressureGiven>,
    /// True for a turbocharged or supercharged engine: chooses the limit of mean effective pressure.
    pub charged: bool,
    /// Swept volume, litres.
    pub swept_volume_l: Option<Figure>,
    /// Stroke, mm.
    pub stroke_mm: Option<Figure>,
    /// Engine speed, 1/min.
    pub engine_speed_rpm: Option<Figure>,
    /// Brake power at the crankshaft, kW.
    pub power_kw: Option<Figure>,
    /// Brake torque at the crankshaft, N·m.
    pub torque_nm: Option<Figure>,
    /// Air temperature at the compressor inlet (or ambient), °C.
    pub intake_temperature_c: Option<Figure>,
    /// Pressure at the compressor inlet; the barometer when missing.
    pub compressor_inlet: Option<PressureGiven>,
    /// Pressure at the compressor outlet.
    pub compressor_outlet: Option<PressureGiven>,
    /// Temperature at the compressor outlet, °C.
    pub compressor_outlet_temperature_c: Option<Figure>,
    /// Isentropic efficiency of the compressor where it is not measured, 0 to 1.
    pub compressor_efficiency: Option<Figure>,
    /// Manifold pressure, after the charge cooler.
    pub manifold: Option<PressureGiven>,
    /// Charge temperature, after the charge cooler, °C.
    pub charge_temperature_c: Option<Figure>,
    /// Coolant (air or water) temperature at the inlet of the charge cooler, °C.
    pub coolant_temperature_c: Option<Figure>,
    /// Charge temperature that must not be passed, °C.
    pub charge_temperature_limit_c: Option<Figure>,
    /// Pressure before the turbine, or in the exhaust manifold.
    pub pre_turbine: Option<PressureGiven>,
    /// Pressure behind the turbine.
    pub post_turbine: Option<PressureGiven>,
    /// Gas temperature before the turbine, °C.
    pub pre_turbine_temperature_c: Option<Figure>,
    /// Isentropic efficiency of the turbine, 0 to 1.
    pub turbine_efficiency: Option<Figure>,
    /// Mechanical efficiency of the turbocharger, 0 to 1.
    pub turbocharger_mechanical_efficiency: Option<Figure>,
    /// Air mass flow, kg/s, if measured.
    pub air_flow_kg_s: Option<Figure>,
    /// Volumetric efficiency on manifold pressure and charge temperature.
    pub volumetric_efficiency: Option<Figure>,
    /// Fuel mass flow, kg/h, if measured.
    pub fuel_flow_kg_h: Option<Figure>,
    /// Brake specific fuel consumption, g/kWh, where fuel flow is not measured.
    pub consumption_g_kwh: Option<Figure>,
    /// Relative air-fuel ratio.
    pub lambda: Option<Figure>,
    /// Stoichiometric air-fuel ratio of the fuel.
    pub stoichiometric_ratio: Option<Figure>,
    /// Density of the fuel, kg/m³.
    pub fuel_density_kg_m3: Option<Figure>,
    /// Number of injectors.
    pub injectors: Option<f64>,
    /// Rated flow of one injector, cm³/min.
    pub injector_rated_cm3_min: Option<Figure>,
    /// Pressure drop of that rating, kPa.
    pub injector_rated_drop_kpa: Option<f64>,
    /// Density of the test fluid of that rating, kg/m³.
    pub injector_rated_density_kg_m3: Option<f64>,
    /// Rail pressure.
    pub rail: Option<PressureGiven>,
}

/// A value that may be missing, or may be refused.
pub(crate) type Maybe<T> = Result<Option<T>, Refusal>;

impl StressInput {
    pub(crate) fn barometer(&self) -> Maybe<AbsoluteReading> {
        self.barometer.as_ref().map(|b| b.read("barometer", None)).transpose()
    }

    pub(crate) fn pressure(
        &self,
        what: &'static str,
        given: Option<&PressureGiven>,
    ) -> Maybe<AbsoluteReading> {
        let Some(given) = given else { return Ok(None) };
        let barometer = self.barometer()?;
        given.read(what, barometer.as_ref()).map(Some)
    }

    /// Compressor inlet pressure, or the barometer in its place.
    pub(crate) fn inlet(&self) -> Maybe<AbsoluteReading> {
        match &self.compressor_inlet {
            Some(p) => self.pressure("compressor inlet pressure", Some(p)),
            None => self.barometer(),
        }
    }

    pub(crate) fn swept(&self) -> Option<Figure> {
        self.swept_volume_l.map(|v| v.scaled(1e-3))
    }

    pub(crate) fn power(&self) -> Option<Figure> {
        self.power_kw.map(|p| p.scaled(1e3))
    }

    /// Fuel flow, kg/s: measured, else from power and consumption.
    pub(crate) fn fuel(&self) -> Maybe<Figure> {
        if let Some(f) = self.fuel_flow_kg_h {
            return Ok(Some(f.scaled(1.0 / 3600.0)));
        }
        let (Some(power), Some(consumption)) = (self.power(), self.consumption_g_kwh) else {
            return Ok(None);
        };
        crate::fuel_from_power(power, consumption).map(Some)
    }

    /// Air flow, kg/s: measured, else from fuel and lambda, else by speed-density.
    pub(crate) fn air(&self) -> Maybe<Figure> {
        if self.air_flow_kg_s.is_some() {
            return Ok(self.air_flow_kg_s);
        }
        match self.air_from_fuel()? {
            Some(air) => Ok(Some(air)),
            None => self.air_by_speed_density(),
        }
    }

    pub(crate) fn air_from_fuel(&self) -> Maybe<Figure> {
        let (Some(fuel), Some(lambda), Some(ratio)) = (self.fuel()?, self.lambda, self.stoichiometric_ratio)
        else {
            return Ok(None);
        };
        crate::air_from_fuel(fuel, lambda, ratio).map(Some)
    }

    pub(crate) fn air_by_speed_density(&self) -> Maybe<Figure> {
        let manifold = self.pressure("manifold pressure", self.manifold.as_ref())?;
        let (Some(ve), Some(p), Some(t), Some(v), Some(n)) = (
            self.volumetric_efficiency,
            manifold,
            celsius(self.charge_temperature_c),
            self.swept(),
            self.engine_speed_rpm,
        ) else {
            return Ok(None);
        };
        crate::air_by_speed_density(ve, &p, &t, v, n).map(Some)
    }

    pub(crate) fn set_of_injectors(&self) -> Option<Injectors> {
        Some(Injectors {
            count: self.injectors?,
            rated_cm3_min: self.injector_rated_cm3_min?,
            rated_drop_kpa: self.injector_rated_drop_kpa?,
            rated_density: self.injector_rated_density_kg_m3,
        })
    }
}

/// A temperature given in °C.
pub(crate) fn celsius(given: Option<Figure>) -> Option<TemperatureReading> {
    given.map(|t| TemperatureReading::new(Temperature::from_celsius(t.value), t.uncertainty))
}
