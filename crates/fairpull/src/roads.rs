//! Question: which times will the road show?

use fairpull_core::{Catalogue, DrivePoint, Driveline, LossModel, PowerAtCrank, RoadSpeed as Pace};
use fairpull_road::{
    CAUTIONS, Car, CarUncertainty, Conditions, Drive, EnginePower, Geared, Measure, Predicted,
    QUARTER_MILE_M, RoadError, RoadLoad, Rotating, Traction, predict,
};
use fairpull_units::Dimension as D;
use serde::{Deserialize, Serialize};

use crate::air::{AirQuestion, describe};
use crate::stated::{Stated, number, quantity};
use crate::{AskError, nearest};

/// Schema of [`PredictAnswer`].
pub const PREDICT_SCHEMA: &str = "fairpull-road-predict-1";

/// A car and its road. Quantities are `<number><unit>`, with the standard uncertainty where it is known
/// (`1575kg ± 15kg`); whatever is not given and can be assumed is assumed, with an uncertainty, and said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
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

/// A point of a full-load curve.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CurveQuestion {
    /// Engine speed.
    pub engine_speed: String,
    /// Power.
    pub power: Option<String>,
    /// Torque in its place.
    pub torque: Option<String>,
}

/// A car and what is to be timed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct PredictQuestion {
    /// The car.
    pub car: CarQuestion,
    /// `100-200km/h`, `60-130mph`, `quarter-mile`, `kilometre`, `1000m`, `1000m from 80km/h`; `rollout` behind a
    /// standing start times from one foot on. The usual ones when left out.
    pub measures: Vec<String>,
}

/// One measure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PredictEntry {
    /// Name.
    pub name: String,
    /// The prediction.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub predicted: Option<Predicted>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// Times that the road will show.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PredictAnswer {
    /// [`PREDICT_SCHEMA`].
    pub schema: &'static str,
    /// The measures.
    pub times: Vec<PredictEntry>,
    /// What was assumed, in words.
    pub assumed: Vec<String>,
    /// Cautions for road tests.
    pub cautions: Vec<&'static str>,
}

/// The times of a car with interval.
///
/// # Errors
/// [`AskError`] naming the field; a measure that the car does not reach keeps its place with the reason.
pub fn road_predict(
    question: &PredictQuestion,
    catalogue: &Catalogue<'_>,
) -> Result<PredictAnswer, AskError> {
    let asked = measures(&question.measures)?;
    let standing = asked.iter().any(stands);
    let built = question.car.build(standing, catalogue)?;
    built.car.check().map_err(|e| road("car", &e))?;
    let times = asked
        .iter()
        .map(|m| match predict(&built.car, built.on, &built.u, &[*m]) {
            Ok(mut p) => PredictEntry { name: m.name(), predicted: p.pop(), why: None },
            Err(e) => PredictEntry { name: m.name(), predicted: None, why: Some(e.to_string()) },
        })
        .collect();
    Ok(PredictAnswer { schema: PREDICT_SCHEMA, times, assumed: built.assumed, cautions: CAUTIONS.to_vec() })
}

pub(crate) fn road(field: &str, e: &RoadError) -> AskError {
    AskError::new(field, "", e.to_string(), "")
}

fn stands(m: &Measure) -> bool {
    let (Measure::Speeds { from_kmh, .. } | Measure::Distance { from_kmh, .. }) = m;
    *from_kmh == 0.0
}

const USUAL: [&str; 6] = ["0-100km/h", "0-60mph", "100-200km/h", "60-130mph", "quarter-mile", "kilometre"];

/// What is to be timed, from text.
pub(crate) fn measures(texts: &[String]) -> Result<Vec<Measure>, AskError> {
    if texts.is_empty() {
        return USUAL.iter().map(|t| measure(t)).collect();
    }
    texts.iter().map(|t| measure(t)).collect()
}

fn measure(text: &str) -> Result<Measure, AskError> {
    let all = text.trim();
    let (body, rollout) = match all.strip_suffix("rollout") {
        Some(b) => (b.trim(), true),
        None => (all, false),
    };
    let fail = |why: String| {
        AskError::new(
            "measures",
            text,
            why,
            "write 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m or 1000m from 80km/h",
        )
    };
    let speed =
        |t: &str| quantity("measures", t, D::Speed).map(|s| s.value * 3.6).map_err(|e| fail(e.problem));
    match body {
        "quarter-mile" => {
            return Ok(Measure::Distance { distance_m: QUARTER_MILE_M, from_kmh: 0.0, rollout });
        }
        "kilometre" => return Ok(Measure::Distance { distance_m: 1000.0, from_kmh: 0.0, rollout }),
        _ => {}
    }
    if let Some((a, b)) = body.split_once('-').filter(|(a, _)| !a.trim().is_empty()) {
        let low: f64 = a
            .trim()
            .replace(',', ".")
            .parse()
            .map_err(|_| fail(format!("{:?} is not a number", a.trim())))?;
        let number: String =
            b.trim().chars().take_while(|c| c.is_ascii_digit() || ".,".contains(*c)).collect();
        let unit = b.trim().get(number.len()..).unwrap_or("").trim();
        // miles an hour by their exact definition; anything else by the unit of the end speed
        if let (true, Ok(high)) = (unit == "mph", number.replace(',', ".").parse::<f64>()) {
            return Ok(Measure::mph(low, high, rollout));
        }
        let (from_kmh, to_kmh) = (speed(&format!("{low}{unit}"))?, speed(b)?);
        return Ok(Measure::Speeds { from_kmh, to_kmh, rollout });
    }
    let (way, from) = match body.split_once("from") {
        Some((w, f)) => (w.trim(), speed(f.trim())?),
        None => (body, 0.0),
    };
    let distance_m = quantity("measures", way, D::Length)
        .map_err(|_| fail(format!("{way:?} is neither speeds nor a distance")))?
        .value;
    Ok(Measure::Distance { distance_m, from_kmh: from, rollout })
}

/// A car ready to be driven.
pub(crate) struct Built {
    pub car: Car,
    pub on: Conditions,
    pub u: CarUncertainty,
    pub assumed: Vec<String>,
}

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

    fn must(&self, name: &str, text: &Option<String>, example: &str, d: D) -> Result<Stated, AskError> {
        let field = format!("car.{name}");
        let t = text
            .as_deref()
            .ok_or_else(|| AskError::new(&field, "", "is missing", format!("give e.g. {example}")))?;
        quantity(&field, t, d)
    }

    pub(crate) fn build(&self, standing: bool, catalogue: &Catalogue<'_>) -> Result<Built, AskError> {
        let mut r = self.rolling()?;
        let points = self.points()?;
        let top = points.iter().map(|p| p.crank_power_kw).fold(0.0, f64::max);
        let power = match (&self.power, top > 0.0) {
            (None, true) => Stated { value: 1e3 * top, uncertainty: 0.0 },
            (text, _) => self.must("power", text, "221kW ± 3kW", D::Power)?,
        };
        let eta = self.efficiency(power.value, catalogue, &mut r.assumed)?;
        let geared = !self.gears.is_empty() || self.final_drive.is_some();
        let (drive, shift_u) = if geared || !points.is_empty() {
            self.geared(points, power.value / 1e3 / top, eta.value, &mut r.assumed)?
        } else {
            r.assumed.push(
                "the peak power at every speed, without shifts: the best any car of this power can do".into(),
            );
            (Drive::Constant { wheel_power_kw: eta.value * power.value / 1e3 }, 0.0)
        };
        let traction = self.traction(standing && geared, &mut r.assumed)?;
        let u = CarUncertainty {
            mass_kg: r.mass.uncertainty,
            power_relative: libm::hypot(power.relative(), eta.relative()),
            mass_factor: r.factor.uncertainty,
            f0_n: r.f0_u,
            drag_relative: r.drag_relative,
            density_relative: r.density_relative,
            friction: traction.map_or(0.0, |t| t.1),
            slope_percent: r.slope_u,
            headwind_mps: r.wind_u,
            shift_s: shift_u,
            model_relative: 0.005,
        };
        let car = Car {
            mass_kg: r.mass.value,
            rotating: Rotating::MassFactor(r.factor.value),
            load: r.load,
            traction: traction.map(|t| t.0),
            drive,
        };
        Ok(Built { car, on: r.on, u, assumed: r.assumed })
    }

    fn points(&self) -> Result<Vec<EnginePower>, AskError> {
        let one = |(i, p): (usize, &CurveQuestion)| {
            let field = |name: &str| format!("car.curve[{}].{name}", i + 1);
            let w = quantity(&field("engine_speed"), &p.engine_speed, D::RotationalSpeed)?.value;
            let watts = match (&p.power, &p.torque) {
                (Some(t), None) => quantity(&field("power"), t, D::Power)?.value,
                (None, Some(t)) => quantity(&field("torque"), t, D::Torque)?.value * w,
                _ => {
                    let mend = "write { engine_speed = \"4000rpm\", power = \"159kW\" }, or torque in place of power";
                    return Err(AskError::new(
                        &field("power"),
                        "",
                        "one of power and torque is needed",
                        mend,
                    ));
                }
            };
            Ok(EnginePower {
                engine_speed_rpm: w * 30.0 / core::f64::consts::PI,
                crank_power_kw: watts / 1e3,
            })
        };
        self.curve.iter().enumerate().map(one).collect()
    }

    fn efficiency(
        &self,
        watts: f64,
        catalogue: &Catalogue<'_>,
        assumed: &mut Vec<String>,
    ) -> Result<Stated, AskError> {
        match self.site.as_deref() {
            Some("wheel") => return Ok(Stated { value: 1.0, uncertainty: 0.0 }),
            None | Some("crank") => {}
            Some(x) => {
                let mend = format!("write {}", nearest(x, &["crank", "wheel"]).replace(", ", " or "));
                return Err(AskError::new("car.site", x, "is not a site", mend));
            }
        }
        if let Some(t) = &self.driveline_efficiency {
            let mut s = quantity("car.driveline_efficiency", t, D::Ratio)?;
            if s.uncertainty == 0.0 {
                s.uncertainty = 0.01;
            }
            return Ok(s);
        }
        let free = |l: &&&dyn LossModel| l.card().needs.is_empty() && !l.card().habit;
        let give = || {
            AskError::new(
                "car.driveline_efficiency",
                "",
                "is missing, and no loss model of the catalogue works without evidence",
                "give e.g. 91% ± 1%, or the power at the wheels with site = wheel",
            )
        };
        let model = catalogue.losses().iter().find(free).ok_or_else(give)?;
        let mut driveline = Driveline::unknown();
        driveline.driven_wheels = self.driven.as_deref().map(|d| if d == "all" { 4 } else { 2 });
        let mut point = DrivePoint::unknown();
        point.road_speed = Some(Pace::from_metres_per_second(40.0));
        let (wheel, at) =
            model.to_wheels(PowerAtCrank::from_watts(watts), &point, &driveline).map_err(|e| {
                AskError::new("car.driveline_efficiency", "", e.to_string(), "give e.g. 91% ± 1%")
            })?;
        let s = Stated { value: wheel.watts() / watts, uncertainty: at.uncertainty / watts };
        assumed.push(format!(
            "wheel over crank power {:.3} ± {:.3} (standard) by {}",
            s.value,
            s.uncertainty,
            model.card().title
        ));
        Ok(s)
    }

    fn geared(
        &self,
        mut curve: Vec<EnginePower>,
        scale: f64,
        driveline_efficiency: f64,
        assumed: &mut Vec<String>,
    ) -> Result<(Drive, f64), AskError> {
        let missing = |name: &str, example: &str| {
            AskError::new(
                &format!("car.{name}"),
                "",
                "is missing: gears need curve, gears, final_drive and tyre_radius",
                format!("give e.g. {example}"),
            )
        };
        if curve.is_empty() {
            return Err(missing("curve", "{ engine_speed = \"4000rpm\", power = \"159kW\" }"));
        }
        if self.gears.is_empty() {
            return Err(missing("gears", "[3.6, 2.1, 1.4, 1.0, 0.8]"));
        }
        for p in &mut curve {
            p.crank_power_kw *= scale;
        }
        let rpm = |name: &str, text: &Option<String>| {
            let q = |t: &str| quantity(&format!("car.{name}"), t, D::RotationalSpeed);
            text.as_deref().map(|t| q(t).map(|s| s.value * 30.0 / core::f64::consts::PI)).transpose()
        };
        let mut shift = match &self.shift_time {
            Some(t) => quantity("car.shift_time", t, D::Time)?,
            None => {
                assumed.push("shift time 0.35 ± 0.15 s (standard)".into());
                Stated { value: 0.35, uncertainty: 0.15 }
            }
        };
        if shift.uncertainty == 0.0 {
            shift.uncertainty = 0.05;
        }
        let geared = Geared {
            curve,
            driveline_efficiency,
            gear_ratios: self.gears.clone(),
            final_drive: self.final_drive.ok_or_else(|| missing("final_drive", "3.7"))?,
            tyre_radius_m: self.must("tyre_radius", &self.tyre_radius, "316mm", D::Length)?.value,
            slip: 0.0,
            shift_rpm: rpm("shift_speed", &self.shift_speed)?,
            shift_s: shift.value,
            launch_rpm: rpm("launch_speed", &self.launch_speed)?,
        };
        Ok((Drive::Geared(geared), shift.uncertainty))
    }

    fn traction(&self, usual: bool, assumed: &mut Vec<String>) -> Result<Option<(Traction, f64)>, AskError> {
        let driven_share = match self.driven.as_deref() {
            Some("all") => 1.0,
            Some("rear") => 0.6,
            Some("front") => 0.55,
            None => 0.55,
            Some(x) => {
                return Err(AskError::new("car.driven", x, "is not known", "write front, rear or all"));
            }
        };
        let friction = match &self.friction {
            Some(t) => number("car.friction", t)?,
            None if usual => {
                assumed.push(format!(
                    "tyre friction 0.95 ± 0.1 (standard), {driven_share} of the weight on the driven wheels"
                ));
                Stated { value: 0.95, uncertainty: 0.1 }
            }
            None => return Ok(None),
        };
        Ok(Some((Traction { friction: friction.value, driven_share }, friction.uncertainty)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_by_exact_definition() {
        // the mile is 1609.344 m (international yard and pound agreement 1959; NIST SP 811, B.8)
        let m = measure("60-130mph").unwrap();
        assert_eq!(m, Measure::mph(60.0, 130.0, false));
        let Measure::Speeds { from_kmh, to_kmh, .. } = m else { panic!() };
        assert!((from_kmh - 96.56064).abs() < 1e-12 && (to_kmh - 209.21472).abs() < 1e-9);
        assert_eq!(measure("0-60mph rollout").unwrap(), Measure::mph(0.0, 60.0, true));
        assert_eq!(measure("1000m from 80km/h").unwrap().name(), "flying 1000 m from 80 km/h");
        let e = measure("fast").unwrap_err().to_string();
        insta::assert_snapshot!(e, @r#"measures "fast": "fast" is neither speeds nor a distance; write 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m or 1000m from 80km/h"#);
    }
}
