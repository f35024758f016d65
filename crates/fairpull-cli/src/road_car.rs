//! The car of a road question as flags.

use fairpull::{CarQuestion, CurveQuestion};

use crate::args::AirArgs;
use crate::fail::Fail;
use crate::knock::replace;

/// A car and its road.
#[derive(clap::Args, Clone, Default)]
#[command(next_help_heading = "Car and road (each with its standard uncertainty where known)")]
pub struct CarArgs {
    /// Mass as driven, "1575kg ± 15kg".
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub mass: Option<String>,
    /// Peak power; held at every speed unless a curve and gears are given.
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    pub power: Option<String>,
    /// Where the power is stated: crank or wheel [default: crank].
    #[arg(long, value_name = "SITE")]
    pub site: Option<String>,
    /// Wheel over crank power, "91% ± 1%" [default: a loss model].
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub driveline_efficiency: Option<String>,
    /// Rolling radius of the driven tyres.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub tyre_radius: Option<String>,
    /// Time without drive at a shift.
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub shift_time: Option<String>,
    /// Engine speed of the shifts [default: the end of the curve].
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub shift_speed: Option<String>,
    /// Engine speed held while starting [default: the start of the curve].
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub launch_speed: Option<String>,
    /// Drag area Cd·A, "0.68m2 ± 5%".
    #[arg(long, value_name = "AREA", allow_hyphen_values = true)]
    pub drag_area: Option<String>,
    /// Rolling coefficient, "0.011 ± 10%".
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub rolling: Option<String>,
    /// Factor of the rotating parts on the mass, "1.04 ± 0.01".
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub mass_factor: Option<String>,
    /// Friction of tyre and road, for a standing start.
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub friction: Option<String>,
    /// Driven wheels: front, rear or all.
    #[arg(long, value_name = "WHEELS")]
    pub driven: Option<String>,
    /// Air density in place of the readings.
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true)]
    pub air_density: Option<String>,
    /// Slope, uphill positive, e.g. 0.3%.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub slope: Option<String>,
    /// Headwind, tail wind negative, e.g. 2m/s.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub headwind: Option<String>,
    /// Point of the full-load curve, engine speed rising: 4000rpm=159kW or 4000rpm=380Nm; may stand several times.
    #[arg(long, value_name = "SPEED=POWER", allow_hyphen_values = true)]
    pub curve: Vec<String>,
    /// Gear ratios, first gear first: 3.6,2.1,1.4,1.0.
    #[arg(long, value_name = "RATIOS", value_delimiter = ',', allow_hyphen_values = true)]
    pub gears: Vec<f64>,
    /// Final drive ratio.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub final_drive: Option<f64>,
    /// Road load in place of drag area and rolling coefficient: f0 in N, f1 in N/(km/h), f2 in N/(km/h)².
    #[arg(long, value_name = "F0,F1,F2", value_delimiter = ',', allow_hyphen_values = true)]
    pub load_kmh: Vec<f64>,
    /// Air of the run.
    #[command(flatten)]
    pub air: AirArgs,
}

impl CarArgs {
    /// Replaces the fields that a flag states.
    pub fn replace(&self, q: &mut CarQuestion) -> Result<(), Fail> {
        replace!(q, self; mass = mass, power = power, site = site, driveline_efficiency = driveline_efficiency, tyre_radius = tyre_radius, shift_time = shift_time, shift_speed = shift_speed, launch_speed = launch_speed, drag_area = drag_area, rolling = rolling, mass_factor = mass_factor, friction = friction, driven = driven, air_density = air_density, slope = slope, headwind = headwind, final_drive = final_drive);
        if !self.gears.is_empty() {
            q.gears.clone_from(&self.gears);
        }
        match self.load_kmh.as_slice() {
            [] => {}
            [f0, f1, f2] => q.load_kmh = Some([*f0, *f1, *f2]),
            some => {
                return Err(Fail::plain(format!(
                    "--load-kmh: {} number(s) given, 3 expected; write f0,f1,f2, e.g. 120,0.5,0.035",
                    some.len()
                )));
            }
        }
        let air = self.air.question();
        if !air.is_empty() {
            q.air = air;
        }
        if !self.curve.is_empty() {
            q.curve = self.curve.iter().map(|t| point(t)).collect::<Result<_, _>>()?;
        }
        Ok(())
    }
}

fn point(text: &str) -> Result<CurveQuestion, Fail> {
    let (speed, value) = text
        .split_once('=')
        .ok_or_else(|| Fail::plain(format!("--curve {text:?}: there is no =; write e.g. 4000rpm=159kW")))?;
    let value = value.trim().to_owned();
    let is_torque = fairpull::units::parse(&value)
        .is_ok_and(|r| r.unit.dimension() == fairpull::units::Dimension::Torque);
    let (power, torque) = if is_torque { (None, Some(value)) } else { (Some(value), None) };
    Ok(CurveQuestion { engine_speed: speed.trim().into(), power, torque })
}
