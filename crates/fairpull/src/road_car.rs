//! The car of a road question, and what the road does to it.

use fairpull_road::{Conditions, RoadLoad};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::air::{AirQuestion, describe};
use crate::roads::road;
use crate::stated::{Stated, number, quantity};

/// A car and its road. Quantities are `<number><unit>`, with the standard uncertainty where it is known
/// (`1575kg ± 15kg`); whatever is not given and can be assumed is assumed, with an uncertainty, and said.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CarQuestion {
    /// Mass as driven.
    pub mass: Option<String>,
    /// Peak power; held at every speed unless `curve` and `gears` are given.
    pub power: Option<String>,
    /// Where the power is stated: `crank` (default) or `wheel`.
    pub site: Option<String>,
    /// Wheel over crank power, `91% ± 1%`; from a loss model when left out.
    pub driveline_efficiency: Option<String>,
    /// Full-load curve, engine speed rising.
    pub curve: Vec<CurveQuestion>,
    /// Gear ratios, first gear first.
    pub gears: Vec<f64>,
    /// Final drive ratio.
    pub final_drive: Option<f64>,
    /// Rolling radius of the driven tyres.
    pub tyre_radius: Option<String>,
    /// Time without drive at a shift.
    pub shift_time: Option<String>,
    /// Engine speed of the shifts; the end of the curve when left out.
    pub shift_speed: Option<String>,
    /// Engine speed held while starting; the start of the curve when left out.
    pub launch_speed: Option<String>,
    /// Drag area Cd·A.
    pub drag_area: Option<String>,
    /// Rolling coefficient.
    pub rolling: Option<String>,
    /// Road load in place of drag area and rolling coefficient: f0 (N), f1 (N/(km/h)), f2 (N/(km/h)²).
    pub load_kmh: Option<[f64; 3]>,
    /// Air density that `load_kmh` belongs to [default: 1.189 kg/m³].
    pub load_density: Option<String>,
    /// Factor of the rotating parts on the mass.
    pub mass_factor: Option<String>,
    /// Friction of tyre and road, for a standing start.
    pub friction: Option<String>,
    /// `front`, `rear` or `all`.
    pub driven: Option<String>,
    /// Air of the run.
    pub air: AirQuestion,
    /// Air density in place of the readings.
    pub air_density: Option<String>,
    /// Slope, uphill positive, e.g. `0.3%`.
    pub slope: Option<String>,
    /// Headwind, tail wind negative, e.g. `2m/s`.
    pub headwind: Option<String>,
}
fairpull_tree::fields!(CarQuestion default {
    mass, power, site, driveline_efficiency, curve, gears, final_drive, tyre_radius, shift_time, shift_speed,
    launch_speed, drag_area, rolling, load_kmh, load_density, mass_factor, friction, driven, air, air_density,
    slope, headwind,
});

/// A point of a full-load curve.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CurveQuestion {
    /// Engine speed.
    pub engine_speed: String,
    /// Power.
    pub power: Option<String>,
    /// Torque in its place.
    pub torque: Option<String>,
}
fairpull_tree::fields!(CurveQuestion default { engine_speed, power, torque });

/// What the road does to a car that is not its engine's doing.
pub(crate) struct Rolling {
    pub mass: Stated,
    pub factor: Stated,
    pub load: RoadLoad,
    pub f0_u: f64,
    pub drag_relative: f64,
    pub on: Conditions,
    pub density_relative: f64,
    pub slope_u: f64,
    pub wind_u: f64,
    pub assumed: Vec<String>,
}

impl CarQuestion {
    /// Mass, road load, air, slope and wind.
    pub(crate) fn rolling(&self) -> Result<Rolling, AskError> {
        let mut assumed = Vec::new();
        let mut mass = self.must("mass", &self.mass, "1575kg ± 15kg", D::Mass)?;
        if mass.uncertainty == 0.0 {
            mass.uncertainty = 0.01 * mass.value;
            assumed.push("mass is known within 1 % (standard)".into());
        }
        let density = self.density(&mut assumed)?;
        let mut take =
            |what: &str, text: &Option<String>, usual: Stated, share: f64, unit: &str, d: Option<D>| {
                let Some(t) = text.as_deref() else {
                    assumed.push(format!("{what} {} ± {} {unit} (standard)", usual.value, usual.uncertainty));
                    return Ok(usual);
                };
                let field = format!("car.{}", what.replace(' ', "_"));
                let mut s = match d {
                    Some(d) => quantity(&field, t, d)?,
                    None => number(&field, t)?,
                };
                if s.uncertainty == 0.0 {
                    s.uncertainty = share * s.value;
                    assumed.push(format!("{what} is known within {} % (standard)", 100.0 * share));
                }
                Ok::<_, AskError>(s)
            };
        let usual = Stated { value: 1.05, uncertainty: 0.02 };
        let factor = take("mass factor", &self.mass_factor, usual, 0.01, "", None)?;
        let (load, f0_u, drag_relative) = if let Some([f0, f1, f2]) = self.load_kmh {
            let at = self
                .load_density
                .as_deref()
                .map_or(Ok(1.189), |t| quantity("car.load_density", t, D::Density).map(|s| s.value))?;
            (RoadLoad::from_kmh(f0, f1, f2, at), 0.05 * f0, 0.03)
        } else {
            let usual = Stated { value: 0.65, uncertainty: 0.1 };
            let drag = take("drag area", &self.drag_area, usual, 0.05, "m²", Some(D::Area))?;
            let usual = Stated { value: 0.011, uncertainty: 0.0022 };
            let roll = take("rolling", &self.rolling, usual, 0.1, "", None)?;
            let load = RoadLoad::from_drag_area(mass.value, drag.value, roll.value, density.value)
                .map_err(|e| road("car", &e))?;
            (load, load.f0_n * roll.relative(), drag.relative())
        };
        let optional = |field: &str, text: &Option<String>, d: D| {
            text.as_deref().map(|t| quantity(&format!("car.{field}"), t, d)).transpose()
        };
        let slope = optional("slope", &self.slope, D::Ratio)?;
        let wind = optional("headwind", &self.headwind, D::Speed)?;
        let or = |s: Option<Stated>, scale: f64, usual: f64| match s {
            Some(s) if s.uncertainty > 0.0 => (s.value * scale, s.uncertainty * scale),
            Some(s) => (s.value * scale, usual),
            None => (0.0, usual),
        };
        let ((slope_percent, slope_u), (headwind_mps, wind_u)) = (or(slope, 100.0, 0.05), or(wind, 1.0, 0.5));
        if slope.is_none() {
            assumed.push("level road within 0.05 % (standard)".into());
        }
        if wind.is_none() {
            assumed.push("no wind along the road within 0.5 m/s (standard)".into());
        }
        let on = Conditions { density_kg_per_m3: density.value, slope_percent, headwind_mps };
        let density_relative = density.relative();
        Ok(Rolling {
            mass,
            factor,
            load,
            f0_u,
            drag_relative,
            on,
            density_relative,
            slope_u,
            wind_u,
            assumed,
        })
    }

    fn density(&self, assumed: &mut Vec<String>) -> Result<Stated, AskError> {
        if let Some(t) = &self.air_density {
            let mut s = quantity("car.air_density", t, D::Density)?;
            if s.uncertainty == 0.0 {
                s.uncertainty = 0.005 * s.value;
            }
            return Ok(s);
        }
        if self.air.is_empty() {
            assumed.push("air density 1.2 kg/m³ ± 3 % (standard)".into());
            return Ok(Stated { value: 1.2, uncertainty: 0.036 });
        }
        let a = describe(&self.air.air()?);
        let value = a.density_kg_m3.ok_or_else(|| {
            AskError::new("air", "", "has no density", "check pressure, temperature and humidity")
        })?;
        Ok(Stated { value, uncertainty: 0.003 * value })
    }

    pub(crate) fn must(
        &self,
        name: &str,
        text: &Option<String>,
        example: &str,
        d: D,
    ) -> Result<Stated, AskError> {
        let field = format!("car.{name}");
        let t = text
            .as_deref()
            .ok_or_else(|| AskError::new(&field, "", "is missing", format!("give e.g. {example}")))?;
        quantity(&field, t, d)
    }
}
