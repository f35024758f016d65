//! Mean effective pressure, piston speed and specific power, beside published ranges.

use fairpull_core::{Cite, Reading, Refusal};

use crate::check::{PISTON, POWER, SPEED, STROKE, SWEPT, TORQUE, held};
use crate::{Figure, figure::propagate};

/// A published range of a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Published {
    /// What it is a range of.
    pub what: &'static str,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Unit.
    pub unit: &'static str,
    /// Source.
    pub cite: Cite,
}

const HEYWOOD: Cite =
    Cite::new("Heywood, Internal Combustion Engine Fundamentals (1988)", "2.7", Reading::Remembered);
const TODAY: Cite = Cite::new(
    "fairpull's own judgement from public type data",
    "series and tuned road engines",
    Reading::Doubtful,
);

/// Published ranges of mean effective pressure (bar), piston speed (m/s) and specific power (kW/L).
pub static PUBLISHED: &[Published] = &[
    Published {
        what: "BMEP at highest torque, naturally aspirated",
        low: 8.5,
        high: 10.5,
        unit: "bar",
        cite: HEYWOOD,
    },
    Published {
        what: "BMEP at highest torque, turbocharged",
        low: 12.5,
        high: 17.0,
        unit: "bar",
        cite: HEYWOOD,
    },
    Published { what: "BMEP at rated power, turbocharged", low: 9.0, high: 14.0, unit: "bar", cite: HEYWOOD },
    Published { what: "BMEP, naturally aspirated today", low: 12.0, high: 14.0, unit: "bar", cite: TODAY },
    Published { what: "BMEP, turbocharged series today", low: 20.0, high: 28.0, unit: "bar", cite: TODAY },
    Published {
        what: "BMEP, turbocharged tuned road engine",
        low: 30.0,
        high: 35.0,
        unit: "bar",
        cite: TODAY,
    },
    Published { what: "mean piston speed, road", low: 15.0, high: 21.0, unit: "m/s", cite: TODAY },
    Published { what: "mean piston speed, sport", low: 22.0, high: 25.0, unit: "m/s", cite: TODAY },
    Published {
        what: "specific power, naturally aspirated road",
        low: 45.0,
        high: 95.0,
        unit: "kW/L",
        cite: TODAY,
    },
    Published {
        what: "specific power, turbocharged series",
        low: 65.0,
        high: 160.0,
        unit: "kW/L",
        cite: TODAY,
    },
];

/// BMEP above which evidence is asked for, naturally aspirated, bar (own judgement).
pub const BMEP_ASPIRATED_LIMIT: f64 = 14.5;
/// BMEP above which evidence is asked for, turbocharged, bar (own judgement).
pub const BMEP_CHARGED_LIMIT: f64 = 32.0;
/// Mean piston speed above which evidence is asked for, m/s (own judgement).
pub const PISTON_SPEED_LIMIT: f64 = 25.0;

/// Brake mean effective pressure of a four-stroke engine from torque (N·m) and swept volume (m³): 4π T/V, in Pa.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn bmep_from_torque(torque: Figure, swept: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&TORQUE, torque)?, held(&SWEPT, swept)?];
    Ok(propagate(inputs, |x| 4.0 * core::f64::consts::PI * x[0] / x[1]))
}

/// Brake mean effective pressure of a four-stroke engine from power (W), speed (1/min) and swept volume (m³):
/// 120 P/(V n), in Pa.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn bmep_from_power(power: Figure, speed_rpm: Figure, swept: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&POWER, power)?, held(&SPEED, speed_rpm)?, held(&SWEPT, swept)?];
    Ok(propagate(inputs, |x| 120.0 * x[0] / (x[2] * x[1])))
}

/// Mean piston speed 2 S n/60, m/s, from stroke (m) and speed (1/min).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; a negative speed or stroke is refused.
pub fn mean_piston_speed(stroke: Figure, speed_rpm: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&STROKE, stroke)?, held(&SPEED, speed_rpm)?];
    Ok(held(&PISTON, propagate(inputs, |x| 2.0 * x[0] * x[1] / 60.0))?)
}

/// Specific power, W/m³ (numerically kW/m³·10⁻³; 1e6 W/m³ = 1 kW/L).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn specific_power(power: Figure, swept: Figure) -> Result<Figure, Refusal> {
    let inputs = [held(&POWER, power)?, held(&SWEPT, swept)?];
    Ok(propagate(inputs, |x| x[0] / x[1]))
}
