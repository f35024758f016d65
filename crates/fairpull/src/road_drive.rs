//! The engine and gears of a road question.

use fairpull_core::{Catalogue, DrivePoint, Driveline, LossModel, PowerAtCrank, RoadSpeed as Pace};
use fairpull_road::{Car, CarUncertainty, Conditions, Drive, EnginePower, Geared, Rotating, Traction};
use fairpull_units::Dimension as D;

use crate::engine::within;
use crate::road_car::{CarQuestion, CurveQuestion};
use crate::stated::{Stated, number, quantity};
use crate::{AskError, nearest};

/// A car ready to be driven.
pub(crate) struct Built {
    pub car: Car,
    pub on: Conditions,
    pub u: CarUncertainty,
    pub assumed: Vec<String>,
}

impl CarQuestion {
    pub(crate) fn build(&self, standing: bool, catalogue: &Catalogue<'_>) -> Result<Built, AskError> {
        let mut r = self.rolling()?;
        let points = self.points()?;
        let top = points.iter().map(|p| p.crank_power_kw).fold(0.0, f64::max);
        let power = match (&self.power, top > 0.0) {
            (None, true) => Stated { value: 1e3 * top, uncertainty: 0.0 },
            (text, _) => {
                let power = self.must("power", text, "221kW ± 3kW", D::Power)?;
                let given = text.as_deref().unwrap_or("");
                within("car.power", given, power.value, 100.0, 1e8, "W")?;
                power
            }
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
