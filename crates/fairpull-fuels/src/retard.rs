//! How far the burn can be shifted before the end gas autoignites, and maps over spark and boost.

use fairpull_core::{CycleState, Refusal};

use crate::Choices;
use crate::cycle::{Cycle, Gas};
use crate::delay::required_octane;

/// Largest shift that is searched, degrees either way.
pub const LARGEST_SHIFT: f64 = 45.0;
/// Steps of the walk towards a change of sign before the search gives up.
const LONGEST_WALK: usize = 40;
/// States of the compression that are kept, one a degree.
const KEPT: usize = 2 * LARGEST_SHIFT as usize + 2;

/// The compression without a burn, kept one state a degree around a start of burning: every other start of burning
/// continues from the state before it.
pub(crate) struct Compression {
    cycle: Cycle,
    first: f64,
    kept: [Gas; KEPT],
    count: usize,
}

impl Compression {
    /// Compresses from valve closing past every start of burning between the two angles.
    pub(crate) fn new(cycle: Cycle, earliest: f64, latest: f64) -> Result<Self, Refusal> {
        let first = libm::fmax(earliest, cycle.state.ivc_angle + 1.0);
        let mut gas = cycle.segment(cycle.state.ivc_angle, first, cycle.closing(), false, |_, _, _| true)?;
        let mut kept = [gas; KEPT];
        let mut count = 1;
        for (i, slot) in kept.iter_mut().enumerate().skip(1) {
            let angle = first + i as f64;
            if angle > latest {
                break;
            }
            gas = cycle.segment(angle - 1.0, angle, gas, false, |_, _, _| true)?;
            *slot = gas;
            count = i + 1;
        }
        Ok(Self { cycle, first, kept, count })
    }

    /// Octane number required with this start of burning, inside the range kept.
    pub(crate) fn required(&self, burn_start: f64) -> Result<f64, Refusal> {
        let cycle = self.cycle.starting(burn_start);
        let whole = libm::fmax(libm::floor(burn_start - self.first), 0.0);
        let index = (whole as usize).min(self.count - 1);
        let from = self.first + index as f64;
        let gas = self.kept.get(index).copied().unwrap_or_else(|| cycle.closing());
        let start = cycle.segment(from, burn_start, gas, false, |_, _, _| true)?;
        Ok(required_octane(cycle.integral_from(start)?))
    }
}

/// Shift of the burn, degrees, that makes the cycle require exactly this octane number: positive is advance left,
/// negative is retard needed. `None` when no shift within 45 degrees does.
///
/// The burn law moves as a whole: its duration is kept.
///
/// # Errors
/// As [`Cycle::new`] and [`Cycle::required_octane`].
pub fn advance_left(state: &CycleState, choices: &Choices, octane: f64) -> Result<Option<f64>, Refusal> {
    let cycle = Cycle::new(state, choices)?;
    let start = state.burn_start;
    let earliest = libm::fmax(start - LARGEST_SHIFT, state.ivc_angle + 1.0);
    let latest = libm::fmin(start + LARGEST_SHIFT, 60.0);
    let compression = Compression::new(cycle, earliest, latest)?;
    // miss > 0: requires more than the fuel has at this start of burning
    let miss = |at: f64| -> Result<f64, Refusal> { Ok(compression.required(at)? - octane) };
    let (mut a, mut fa) = (start, miss(start)?);
    let mut stride = fa / 1.5;
    let (mut b, mut fb) = (a, fa);
    // walk towards the root until the sign changes
    for _ in 0..LONGEST_WALK {
        if fa.signum() != fb.signum() {
            break;
        }
        let next = libm::fmin(libm::fmax(a + stride, earliest), latest);
        if next == a {
            return Ok(if fa == 0.0 { Some(0.0) } else { None });
        }
        (b, fb) = (a, fa);
        a = next;
        fa = miss(a)?;
        // by the secant, a little further, so that the root is enclosed soon
        let slope = (fa - fb) / (a - b);
        stride = if slope < 0.0 { -1.1 * fa / slope } else { 4.0 * stride };
        if stride.signum() != fa.signum() && fa != 0.0 {
            stride = -stride;
        }
    }
    if fa.signum() == fb.signum() {
        return Ok(None);
    }
    // Illinois form of the false position
    for _ in 0..60 {
        if fa == 0.0 || libm::fabs(a - b) < 1e-9 {
            break;
        }
        let c = b - fb * (b - a) / (fb - fa);
        let fc = miss(c)?;
        if fc.signum() == fb.signum() {
            fa *= 0.5;
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (c, fc);
        if libm::fabs(fc) < 1e-9 {
            break;
        }
    }
    Ok(Some(start - b))
}

/// Required octane number over start of burning and pressure at intake valve closing.
///
/// `out` is filled row by row, a row a pressure (Pa), a column a start of burning (degrees).
///
/// # Errors
/// As [`Cycle::new`]; [`Refusal::Other`] when `out` does not hold pressures × starts values.
pub fn requirement_map(
    state: &CycleState,
    choices: &Choices,
    starts: &[f64],
    pressures: &[f64],
    out: &mut [f64],
) -> Result<(), Refusal> {
    if out.len() != starts.len() * pressures.len() {
        return Err(Refusal::Other {
            why: "the map's buffer must hold one value for each pressure and start of burning",
            cite: crate::octane::HERE,
        });
    }
    for (row, pressure) in out.chunks_mut(starts.len().max(1)).zip(pressures) {
        let mut at = *state;
        at.ivc_pressure = *pressure;
        for (cell, start) in row.iter_mut().zip(starts) {
            at.burn_start = *start;
            *cell = Cycle::new(&at, choices)?.required_octane()?;
        }
    }
    Ok(())
}

/// Knock-limited start of burning, degrees after top dead centre, at each pressure (Pa) at intake valve closing, for a
/// fuel of this octane number; `None` where no shift within 45 degrees of the state's own start is borderline.
///
/// Together with [`requirement_map`] this is a whole map of spark over boost: in every row the degrees left are start
/// less knock-limited start.
///
/// # Errors
/// As [`advance_left`]; [`Refusal::Other`] when `out` does not hold one value for each pressure.
pub fn knock_limited_starts(
    state: &CycleState,
    choices: &Choices,
    octane: f64,
    pressures: &[f64],
    out: &mut [Option<f64>],
) -> Result<(), Refusal> {
    if out.len() != pressures.len() {
        return Err(Refusal::Other {
            why: "the buffer must hold one value for each pressure",
            cite: crate::octane::HERE,
        });
    }
    for (cell, pressure) in out.iter_mut().zip(pressures) {
        let mut at = *state;
        at.ivc_pressure = *pressure;
        *cell = advance_left(&at, choices, octane)?.map(|left| state.burn_start - left);
    }
    Ok(())
}
