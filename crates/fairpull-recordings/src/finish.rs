//! From rows to a recording: order in time, limits, spikes, standstills.

use crate::counted::Counted;
use crate::read::Log;
use crate::resolve::Wanted;
use crate::rows::Rows;
use crate::{Channel, Layout, Recording, RecordingError, RepairKind, Repairs, Role, check, spike, timeline};

/// Order in time, limits, spikes, standstills; then the recording.
pub(crate) fn finish(
    log: &Log<'_, '_>,
    mut rows: Rows,
    layout: &Layout,
    mut repairs: Repairs,
) -> Result<Recording, RecordingError> {
    let lines = core::mem::take(&mut rows.lines);
    let line = |row: usize| lines.get(row).unwrap_or(0);
    let timed = log.wanted.iter().position(|w| w.role == Role::Time);
    let (raw, clock) = match (timed.and_then(|i| rows.values.get_mut(i)), layout.sample_rate_hz) {
        (Some(stamps), _) => {
            (core::mem::take(stamps), timed.and_then(|i| log.wanted.get(i)).is_some_and(|w| w.clock))
        }
        (None, rate) => {
            let rate = rate.unwrap_or(1.0);
            (rows.places.iter().map(|n| n as f64 / rate).collect(), false)
        }
    };
    let order = timeline::order(raw, clock, &line, &mut repairs);
    let repeated = repairs.count(RepairKind::RepeatedStamp);
    if repeated * 2 > lines.len() as u64
        && let Some(w) = timed.and_then(|i| log.wanted.get(i))
        && let Some(first) = repairs.iter().find(|r| r.kind == RepairKind::RepeatedStamp)
    {
        let at = log.place(first.first_line, w);
        let text = log.written(first.first_line, w);
        return Err(RecordingError::CoarseClock { at, text, repeated, rows: lines.len() as u64 });
    }
    let kept = order.time.len();
    if kept < 2 {
        let line = log.sniffed.format.data_line;
        return Err(RecordingError::TooFewRows { file: log.file.into(), line, rows: kept });
    }
    let interval = timeline::median_interval(&order.time);
    timeline::describe(&order, interval, &line, &mut repairs);
    let line = |place: usize| if place < kept { line(order.row(place)) } else { 0 };
    let mut channels: Vec<Channel> = Vec::with_capacity(log.wanted.len());
    for (i, (w, all)) in log.wanted.iter().zip(rows.values).enumerate() {
        if Some(i) == timed {
            continue;
        }
        let mut values = match &order.rows {
            None => all,
            Some(rows) => picked(&all, rows),
        };
        if let Err(wrong) = check::possible(w, &mut values, &line, &mut repairs) {
            return Err(refuse(log, w, &wrong, &values, &line));
        }
        despike(w, &order.time, &mut values, interval, &line, &mut repairs);
        channels.push(Channel {
            role: w.role,
            column: w.name.clone(),
            unit: w.unit,
            reference: w.reference,
            values,
        });
    }
    still(&order.time, &channels, &line, &mut repairs);
    Ok(Recording {
        file: log.file.into(),
        rows: kept,
        time: order.time,
        segments: order.segments,
        channels,
        repairs,
        format: log.sniffed.format.clone(),
    })
}

/// The values of the rows that stay.
fn picked(all: &[f64], rows: &Counted) -> Vec<f64> {
    let mut values = Vec::with_capacity(rows.len());
    for rows in rows.stretches() {
        values.extend_from_slice(all.get(rows.start as usize..rows.end as usize).unwrap_or(&[]));
    }
    values
}

fn refuse(
    log: &Log<'_, '_>,
    w: &Wanted,
    wrong: &check::Wrong,
    values: &[f64],
    line: &dyn Fn(usize) -> u64,
) -> RecordingError {
    let unit = w.unit.symbol();
    let mend = check::mend(w, values);
    let shown = |si: f64| timeline::short(w.unit.from_si(si));
    let (low, high) = w.role.range(w.reference);
    match *wrong {
        check::Wrong::Impossible { row, value, bad, cells } => RecordingError::Implausible {
            at: log.place(line(row), w),
            role: w.role,
            value: w.unit.from_si(value),
            unit,
            bad,
            cells,
            low: shown(low),
            high: shown(high),
            mend,
        },
        check::Wrong::TooSmall { value } => RecordingError::TooSmall {
            at: log.place(log.sniffed.format.data_line, w),
            role: w.role,
            value: w.unit.from_si(value),
            unit,
            reaches: shown(w.role.traits().reaches),
            mend,
        },
    }
}

fn despike(
    w: &Wanted,
    time: &[f64],
    values: &mut [f64],
    interval: f64,
    line: &dyn Fn(usize) -> u64,
    repairs: &mut Repairs,
) {
    let Some(smallest) = w.role.traits().spike else { return };
    let found = spike::spikes(time, values, smallest, interval);
    if let Some(first) = found.first() {
        let value = values.get(*first).copied().unwrap_or(f64::NAN);
        let count = found.len() as u64;
        repairs.add(RepairKind::Spike, Some((w.role, &w.name)), count, line(*first), || {
            check::in_unit(value, w.unit)
        });
    }
    for row in found {
        if let Some(v) = values.get_mut(row) {
            *v = f64::NAN;
        }
    }
}

/// Standstills and channels that never change, noted only.
fn still(time: &[f64], channels: &[Channel], line: &dyn Fn(usize) -> u64, repairs: &mut Repairs) {
    for c in channels {
        let mut known = c.values.iter().filter(|v| !v.is_nan());
        let first = known.next().copied().unwrap_or(f64::NAN);
        if c.values.len() >= 100 && check::should_change(c.role) && known.all(|v| *v == first) {
            repairs.add(RepairKind::NeverChanges, Some((c.role, &c.column)), 1, line(0), || {
                check::in_unit(first, c.unit)
            });
            continue;
        }
        let beside = channels.iter().find(|o| o.role != c.role && o.role.traits().restless);
        if let (true, Some(other)) = (c.role.traits().restless, beside) {
            for (start, end) in check::standstills(time, &c.values, &other.values) {
                let value = c.values.get(start).copied().unwrap_or(f64::NAN);
                let span = time.get(end - 1).zip(time.get(start)).map_or(0.0, |(e, s)| e - s);
                repairs.add(RepairKind::Stuck, Some((c.role, &c.column)), 1, line(start), || {
                    format!("{} for {} s", check::in_unit(value, c.unit), timeline::short(span))
                });
            }
        }
    }
}
