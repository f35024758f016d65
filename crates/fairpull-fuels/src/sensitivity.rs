//! What one step of each input does to the required octane number, by the cycle itself.

use fairpull_core::{CycleState, Refusal};

use crate::{Choices, Cycle};

/// Change of the required octane number, octane numbers, for one stated step of one input.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Sensitivities {
    /// Required octane number of the state itself.
    pub required_octane: f64,
    /// Burn one degree earlier.
    pub spark_1_degree: f64,
    /// Temperature at intake valve closing 10 K higher.
    pub temperature_10_k: f64,
    /// Pressure at intake valve closing 10 kPa higher.
    pub pressure_10_kpa: f64,
    /// Pressure at intake valve closing 3 % higher.
    pub pressure_3_percent: f64,
    /// Compression ratio one higher.
    pub compression_ratio_1: f64,
    /// Engine speed 1000 1/min higher, burn angles kept.
    pub speed_1000: f64,
    /// Residual fraction 0.03 higher, temperature at valve closing kept.
    pub residuals_3_percent: f64,
    /// Burn limit 0.05 higher: a choice of the model.
    pub burn_limit_5_percent: f64,
    /// γ of the unburned charge 0.01 higher: a choice of the model.
    pub unburned_gamma_1_percent: f64,
    /// Wall heat transfer half as much again.
    pub heat_transfer_50_percent: f64,
}

/// Forward differences of the required octane number.
///
/// # Errors
/// As [`Cycle::new`] and [`Cycle::required_octane`], also when a step leaves the permitted range.
pub fn sensitivities(state: &CycleState, choices: &Choices) -> Result<Sensitivities, Refusal> {
    let octane = |s: &CycleState, c: &Choices| Cycle::new(s, c)?.required_octane();
    let base = octane(state, choices)?;
    let by_state = |change: &dyn Fn(&mut CycleState)| {
        let mut s = *state;
        change(&mut s);
        Ok::<f64, Refusal>(octane(&s, choices)? - base)
    };
    let by_choice = |change: &dyn Fn(&mut Choices)| {
        let mut c = *choices;
        change(&mut c);
        Ok::<f64, Refusal>(octane(state, &c)? - base)
    };
    Ok(Sensitivities {
        required_octane: base,
        spark_1_degree: by_state(&|s| s.burn_start -= 1.0)?,
        temperature_10_k: by_state(&|s| s.ivc_temperature += 10.0)?,
        pressure_10_kpa: by_state(&|s| s.ivc_pressure += 1.0e4)?,
        pressure_3_percent: by_state(&|s| s.ivc_pressure *= 1.03)?,
        compression_ratio_1: by_state(&|s| s.compression_ratio += 1.0)?,
        speed_1000: by_state(&|s| s.speed_rpm += 1000.0)?,
        residuals_3_percent: by_state(&|s| s.residual_fraction += 0.03)?,
        burn_limit_5_percent: by_choice(&|c| c.burn_limit += 0.05)?,
        unburned_gamma_1_percent: by_choice(&|c| c.unburned_gamma += 0.01)?,
        heat_transfer_50_percent: by_choice(&|c| c.heat_factor *= 1.5)?,
    })
}
