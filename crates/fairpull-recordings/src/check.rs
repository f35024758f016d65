//! Values against what is physically possible, and channels that stand still.

use core::ops::Range;

use fairpull_units::{Dimension, Reference, Unit, units_of};

use crate::resolve::Wanted;
use crate::timeline::{quantile, rank, short};
use crate::{PressureReference, RepairKind, Repairs, Role};

/// What is wrong with a channel as a whole.
pub(crate) enum Wrong {
    /// Row of the first impossible value, its SI value, impossible and all values.
    Impossible { row: usize, value: f64, bad: u64, cells: u64 },
    /// 99 % point of the size, SI.
    TooSmall { value: f64 },
}

/// Sets impossible values to missing, or says that the unit must be wrong.
pub(crate) fn possible(
    w: &Wanted,
    values: &mut [f64],
    line: &dyn Fn(usize) -> u64,
    repairs: &mut Repairs,
) -> Result<(), Wrong> {
    let traits = w.role.traits();
    let (low, high) = w.role.range(w.reference);
    let out = |v: &f64| *v < low || *v > high;
    let known = |values: &[f64]| values.iter().filter(|v| !v.is_nan()).count();
    let bad = values.iter().filter(|v| out(v)).count() as u64;
    if bad > 0
        && let Some(row) = values.iter().position(out)
    {
        let cells = known(values) as u64;
        let value = values.get(row).copied().unwrap_or(f64::NAN);
        if bad as f64 > traits.tolerates * cells as f64 {
            return Err(Wrong::Impossible { row, value, bad, cells });
        }
        repairs
            .add(RepairKind::Impossible, Some((w.role, &w.name)), bad, line(row), || in_unit(value, w.unit));
        for v in values.iter_mut().filter(|v| out(v)) {
            *v = f64::NAN;
        }
    }
    if traits.reaches > 0.0 && w.reference != Some(PressureReference::Gauge) {
        // The 99 % point is too small where more values are than stand before it.
        let small = values.iter().filter(|v| v.abs() < traits.reaches).count();
        if rank(known(values), 0.99).is_some_and(|n| small > n) {
            let mut sizes: Vec<f64> = values.iter().filter(|v| !v.is_nan()).map(|v| v.abs()).collect();
            if let Some(top) = quantile(&mut sizes, 0.99)
                && top > 0.0
            {
                return Err(Wrong::TooSmall { value: top });
            }
        }
    }
    Ok(())
}

/// Units (or the other pressure reference) under which nearly all values would be possible.
pub(crate) fn mend(w: &Wanted, values: &[f64]) -> String {
    let traits = w.role.traits();
    let stride = (values.len() / 2000).max(1);
    let sample: Vec<f64> = values.iter().copied().filter(|v| !v.is_nan()).step_by(stride).collect();
    let fits = |convert: &dyn Fn(f64) -> f64, reference| {
        let (low, high) = w.role.range(reference);
        let mut sizes = Vec::with_capacity(sample.len());
        let inside = sample.iter().filter(|v| {
            let x = convert(**v);
            sizes.push(x.abs());
            x >= low && x <= high
        });
        let enough = inside.count() * 20 >= sample.len() * 19;
        enough && quantile(&mut sizes, 0.99).is_some_and(|top| top >= traits.reaches)
    };
    let mut words: Vec<String> = Vec::new();
    if w.role.needs_reference() {
        let (other, name) = match w.reference {
            Some(PressureReference::Absolute) => (PressureReference::Gauge, "gauge"),
            _ => (PressureReference::Absolute, "absolute"),
        };
        if fits(&|x| x, Some(other)) {
            words.push(format!("{} {name}", w.unit));
        }
    }
    // Nobody logs a throttle in parts per million.
    let rare = |u: &&Unit| u.dimension() == Dimension::Ratio && !matches!(u.symbol(), "%" | "1");
    let others = units_of(w.role.dimension()).filter(|u| u.reference() == Reference::Unstated && !rare(u));
    for u in others.filter(|u| u.factor() != w.unit.factor() || u.offset() != w.unit.offset()) {
        if words.len() < 3 && fits(&|x| u.to_si(w.unit.from_si(x)), w.reference) {
            words.push(u.symbol().into());
        }
    }
    if w.role == Role::Lambda {
        return "If the column is an air-fuel ratio, map the λ column of the log instead".into();
    }
    match words.split_last() {
        None => "Check the unit and the column in the layout".into(),
        Some((last, [])) => format!("Did you mean {last}? Correct the unit in the layout"),
        Some((last, rest)) => {
            format!("Did you mean {} or {last}? Correct the unit in the layout", rest.join(", "))
        }
    }
}

/// A value in the unit of its column, with the unit.
pub(crate) fn in_unit(si: f64, unit: &Unit) -> String {
    let number = short(unit.from_si(si));
    if unit.symbol() == "1" { number } else { format!("{number} {unit}") }
}

/// Shortest standstill that counts, s and rows.
const STILL: (f64, usize) = (2.0, 20);
/// Rows between the places at which one is looked for.
const STRIDE: usize = STILL.1 / 2;

/// Runs in which `values` is exactly constant, not zero, while `other` changes by more than 5 % of its own top.
pub(crate) fn standstills(time: &[f64], values: &[f64], other: &[f64]) -> Vec<(usize, usize)> {
    let known = |v: &&f64| !v.is_nan();
    let mut top = None;
    let mut stands = |run: Range<usize>| {
        let span = time.get(run.end - 1).zip(time.get(run.start)).map_or(0.0, |(e, s)| e - s);
        if span < STILL.0 || values.get(run.start).is_none_or(|v| *v == 0.0) {
            return false;
        }
        let beside = other.get(run).unwrap_or(&[]).iter().filter(known);
        let (low, high) = beside.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(*v), h.max(*v)));
        let all = || other.iter().filter(known).fold(0.0_f64, |a, v| a.max(v.abs()));
        high - low > 0.05 * *top.get_or_insert_with(all)
    };
    let same = |a: usize, b: usize| values.get(a).is_some_and(|a| values.get(b) == Some(a));
    let mut found = Vec::new();
    let mut at = 0;
    // A run that is long enough holds one of these places at least, and the place after it.
    while at < values.len() {
        if !same(at, at + 1) {
            at += STRIDE;
            continue;
        }
        let start = (0..at).rev().take_while(|i| same(*i, at)).last().unwrap_or(at);
        let end = (at + 1..values.len()).take_while(|i| same(at, *i)).last().unwrap_or(at) + 1;
        if end - start >= STILL.1 && stands(start..end) {
            found.push((start, end));
        }
        at = end;
    }
    found
}

/// True when a role's channel should not be the same number throughout.
pub(crate) const fn should_change(role: Role) -> bool {
    !matches!(
        role,
        Role::Gear
            | Role::Throttle
            | Role::Pedal
            | Role::KnockRetard
            | Role::AmbientPressure
            | Role::AmbientTemperature
            | Role::RelativeHumidity
            | Role::DewPoint
            | Role::Height
            | Role::Latitude
            | Role::Longitude
            | Role::BrakeForce
            | Role::FuelPressure
            | Role::SupplyVoltage
    )
}
