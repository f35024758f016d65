//! Charge cooler: effectiveness, pressure drop, heat rejected, and how much more power it carries.

use fairpull_core::{Cite, Limit, Reading, Refusal};

use crate::check::{
    AIR_FLOW, CHARGE_TEMPERATURE, COMPRESSOR, COOLANT_TEMPERATURE, EFFECTIVENESS, INTAKE_TEMPERATURE,
    MECHANICS, OUTLET_TEMPERATURE, POWER, RATIO, held,
};
use crate::compressor::{AIR_HEAT_CAPACITY, isentropic};
use crate::flow::AIR_CONSTANT;
use crate::{AbsoluteReading, Figure, TemperatureReading, figure::propagate};

/// Labels for an effectiveness at rated flow (from memory): air to air 0.6 to 0.8, water to air 0.7 to 0.9.
pub const USUAL_EFFECTIVENESS: Cite = Cite::new(
    "common practice, from memory",
    "air to air 0.6 to 0.8, water to air 0.7 to 0.9",
    Reading::Remembered,
);

/// Effectiveness (T2 − T3)/(T2 − T_coolant,in). A test before and after must state coolant temperature and flow.
///
/// # Errors
/// [`Refusal::OutOfRange`]: an effectiveness above 1 or below 0 is impossible and names a wrong sensor; so is a
/// charge not warmer than the coolant.
pub fn effectiveness(
    hot: &TemperatureReading,
    cooled: &TemperatureReading,
    coolant: &TemperatureReading,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&OUTLET_TEMPERATURE, hot.kelvin())?,
        held(&CHARGE_TEMPERATURE, cooled.kelvin())?,
        held(&COOLANT_TEMPERATURE, coolant.kelvin())?,
    ];
    Limit {
        what: "charge temperature before the cooler",
        unit: "K",
        low: inputs[2].value + 1.0,
        high: OUTLET_TEMPERATURE.high,
        cite: MECHANICS,
    }
    .check(inputs[0].value)?;
    Ok(held(&EFFECTIVENESS, propagate(inputs, |x| (x[0] - x[1]) / (x[0] - x[2])))?)
}

/// Charge temperature after the cooler, K: T2 − ε (T2 − T_coolant,in).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn cooled_temperature(
    hot: &TemperatureReading,
    coolant: &TemperatureReading,
    effectiveness: Figure,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&OUTLET_TEMPERATURE, hot.kelvin())?,
        held(&COOLANT_TEMPERATURE, coolant.kelvin())?,
        held(&EFFECTIVENESS, effectiveness)?,
    ];
    Ok(propagate(inputs, |x| x[0] - x[2] * (x[0] - x[1])))
}

/// Pressure drop, Pa: before less after.
///
/// # Errors
/// [`Refusal::OutOfRange`] when the pressure after is above the one before.
pub fn pressure_drop(before: &AbsoluteReading, after: &AbsoluteReading) -> Result<Figure, Refusal> {
    let drop = before.pascals().less(&after.pascals(), 0.0);
    let high = before.pascals().value;
    Limit { what: "pressure drop over the charge cooler", unit: "Pa", low: 0.0, high, cite: MECHANICS }
        .check(drop.value)?;
    Ok(drop)
}

/// Heat rejected, W: m cp (T2 − T3).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn heat_rejected(
    air: Figure,
    hot: &TemperatureReading,
    cooled: &TemperatureReading,
) -> Result<Figure, Refusal> {
    let inputs = [
        held(&AIR_FLOW, air)?,
        held(&OUTLET_TEMPERATURE, hot.kelvin())?,
        held(&CHARGE_TEMPERATURE, cooled.kelvin())?,
    ];
    Ok(propagate(inputs, |x| x[0] * AIR_HEAT_CAPACITY * (x[1] - x[2])))
}

/// Density of the charge over that of the ambient air: (p3/T3)/(p_amb/T_amb).
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity.
pub fn density_ratio(
    pressure: &AbsoluteReading,
    temperature: &TemperatureReading,
    ambient_pressure: &AbsoluteReading,
    ambient_temperature: &TemperatureReading,
) -> Result<Figure, Refusal> {
    let inputs = [
        pressure.pascals(),
        held(&CHARGE_TEMPERATURE, temperature.kelvin())?,
        ambient_pressure.pascals(),
        held(&INTAKE_TEMPERATURE, ambient_temperature.kelvin())?,
    ];
    Ok(propagate(inputs, |x| (x[0] / x[1]) / (x[2] / x[3])))
}

/// How the number of transfer units of a cooler falls with flow, NTU ∝ flow^−b: 0.2 when the charge side governs
/// (heat transfer ∝ flow^0.8), 1 when the coolant side governs; rectangular between them.
pub const FLOW_EXPONENT: Figure = Figure::new(0.6, 0.230_940_107_675_850_3);

/// A charge cooler at a measured point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolerPoint {
    /// Brake power there, W.
    pub power: Figure,
    /// Compressor inlet pressure.
    pub inlet_pressure: AbsoluteReading,
    /// Compressor inlet temperature.
    pub inlet_temperature: TemperatureReading,
    /// Compressor outlet pressure.
    pub outlet_pressure: AbsoluteReading,
    /// Isentropic efficiency of the compressor, taken as constant.
    pub compressor_efficiency: Figure,
    /// Coolant inlet temperature, taken as constant.
    pub coolant: TemperatureReading,
    /// Effectiveness at this flow.
    pub effectiveness: Figure,
    /// Pressure drop at this flow, Pa.
    pub pressure_drop: Figure,
    /// Exponent b of NTU ∝ flow^−b, see [`FLOW_EXPONENT`].
    pub flow_exponent: Figure,
}

/// What a charge cooler still carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolerReserve {
    /// Power at which the charge temperature reaches the limit, W.
    pub power: Figure,
    /// That power over the measured one: below 1 the limit is already passed.
    pub ratio: Figure,
    /// Pressure ratio of the compressor there.
    pub pressure_ratio: Figure,
    /// What the answer takes for granted.
    pub assumes: &'static str,
}

const ASSUMES: &str = "same engine speed, volumetric and brake efficiency, mixture and compressor efficiency; power goes \
                       with charge density; drop goes with flow squared over density; coolant temperature and flow \
                       unchanged";
const HIGHEST: f64 = 8.0;

/// Power that the cooler carries before the charge passes `limit`: more boost heats the charge and passes more flow
/// through the cooler, whose effectiveness falls.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; [`Refusal::NotApplicable`] when no pressure ratio from 1 to 8 reaches
/// the limit.
pub fn power_to_limit(point: &CoolerPoint, limit: &TemperatureReading) -> Result<CoolerReserve, Refusal> {
    let ratio = crate::compressor::pressure_ratio(&point.inlet_pressure, &point.outlet_pressure)?;
    held(&RATIO, ratio)?;
    let coolant = held(&COOLANT_TEMPERATURE, point.coolant.kelvin())?;
    let end = Limit {
        what: "limit of the charge temperature",
        unit: "K",
        low: coolant.value + 0.5,
        high: CHARGE_TEMPERATURE.high,
        cite: MECHANICS,
    };
    end.check(limit.temperature.kelvin())?;
    let inputs = [
        held(&POWER, point.power)?,
        point.inlet_pressure.pascals(),
        held(&INTAKE_TEMPERATURE, point.inlet_temperature.kelvin())?,
        point.outlet_pressure.pascals(),
        held(&COMPRESSOR, point.compressor_efficiency)?,
        coolant,
        held(&EFFECTIVENESS, point.effectiveness)?,
        point.pressure_drop,
        point.flow_exponent,
        limit.kelvin(),
    ];
    Limit { what: "charge-cooler effectiveness", unit: "1", low: 0.01, high: 0.99, cite: MECHANICS }
        .check(point.effectiveness.value)?;
    Limit {
        what: "exponent of the cooler's transfer units",
        unit: "1",
        low: 0.0,
        high: 1.5,
        cite: MECHANICS,
    }
    .check(point.flow_exponent.value)?;
    let span = Limit {
        what: "pressure drop over the charge cooler",
        unit: "Pa",
        low: 0.0,
        high: 0.5 * point.outlet_pressure.pascals().value,
        cite: MECHANICS,
    };
    span.check(point.pressure_drop.value)?;
    let missed = Refusal::NotApplicable {
        why: "no pressure ratio from 1 to 8 brings the charge to this limit: it is already passed, or out of reach",
        cite: MECHANICS,
    };
    let at = |x: &[f64; 10]| solve(x).unwrap_or([f64::NAN; 2]);
    let pressure_ratio = propagate(inputs, |x| at(x)[1]);
    if !pressure_ratio.value.is_finite() {
        return Err(missed);
    }
    Ok(CoolerReserve {
        power: propagate(inputs, |x| at(x)[0] * x[0]),
        ratio: propagate(inputs, |x| at(x)[0]),
        pressure_ratio,
        assumes: ASSUMES,
    })
}

/// Power ratio and pressure ratio at which the charge reaches the limit.
fn solve(x: &[f64; 10]) -> Option<[f64; 2]> {
    let [_, p1, t1, p2, eta, tc, eps, drop, exponent, limit] = *x;
    let outlet = |pr: f64| t1 + t1 * (isentropic(pr) - 1.0) / eta;
    let hot = outlet(p2 / p1);
    let cooled = hot - eps * (hot - tc);
    let density = (p2 - drop) / (AIR_CONSTANT * cooled);
    let units = -libm::log(1.0 - eps);
    // flow over the measured flow, and charge temperature, at another pressure ratio
    let state = |pr: f64| {
        let (before, mut flow) = (outlet(pr), pr * p1 / p2);
        let mut charge = cooled;
        for _ in 0..25 {
            let e = 1.0 - libm::exp(-units * libm::pow(flow, -exponent));
            charge = before - e * (before - tc);
            let after = pr * p1 - drop * flow * flow * (p2 / hot) / (pr * p1 / before);
            flow = after / (AIR_CONSTANT * charge) / density;
        }
        (flow, charge)
    };
    let (mut low, mut high) = (1.0, HIGHEST);
    if !(state(low).1 < limit && state(high).1 > limit) {
        return None;
    }
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if state(mid).1 < limit {
            low = mid;
        } else {
            high = mid;
        }
    }
    Some([state(low).0, low])
}
