//! Faults of real recordings, planted where wanted.

use crate::{Role, Table};

/// A planted fault. Times are seconds of the recording.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// One sample far off.
    Spike {
        /// Column.
        role: Role,
        /// Where.
        at_s: f64,
        /// Added to the sample, in the column's unit.
        by: f64,
    },
    /// Rows missing.
    Gap {
        /// From.
        from_s: f64,
        /// Length.
        length_s: f64,
    },
    /// A row written twice.
    RepeatedStamp {
        /// Where.
        at_s: f64,
    },
    /// A stamp that runs backward by two and a half intervals.
    BackwardStamp {
        /// Where.
        at_s: f64,
    },
    /// Samples that read 0.
    Dropout {
        /// Column.
        role: Role,
        /// From.
        from_s: f64,
        /// Length.
        length_s: f64,
    },
    /// Blank cells.
    Blank {
        /// Column.
        role: Role,
        /// From.
        from_s: f64,
        /// Length.
        length_s: f64,
    },
    /// The channel repeats its last value.
    Stuck {
        /// Column.
        role: Role,
        /// From.
        from_s: f64,
        /// Length.
        length_s: f64,
    },
    /// Written in another unit than the header and the job say.
    WrongUnit {
        /// Column.
        role: Role,
        /// Multiplier of every sample, e.g. 0.621371192 for mph under a km/h header.
        factor: f64,
    },
    /// The recording stops.
    CutOff {
        /// Where.
        at_s: f64,
    },
}

impl Fault {
    /// Word for it in a truth file.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Spike { .. } => "spike",
            Self::Gap { .. } => "gap",
            Self::RepeatedStamp { .. } => "repeated time stamp",
            Self::BackwardStamp { .. } => "backward time stamp",
            Self::Dropout { .. } => "dropout to 0",
            Self::Blank { .. } => "blank cells",
            Self::Stuck { .. } => "stuck channel",
            Self::WrongUnit { .. } => "wrong unit",
            Self::CutOff { .. } => "cut off",
        }
    }

    /// Plants the fault.
    pub fn plant(&self, table: &mut Table) {
        let times: Vec<f64> = table.columns.first().map(|c| c.values.clone()).unwrap_or_default();
        let row = |at: f64| times.iter().position(|t| *t >= at);
        let within = |from: f64, length: f64| -> Vec<usize> {
            (0..times.len()).filter(|k| times[*k] >= from && times[*k] < from + length).collect()
        };
        let keep = |table: &mut Table, wanted: &dyn Fn(usize) -> bool| {
            for c in &mut table.columns {
                let mut k = 0;
                c.values.retain(|_| {
                    k += 1;
                    wanted(k - 1)
                });
            }
        };
        let mut set = |role: Role, rows: &[usize], value: &dyn Fn(f64) -> f64| {
            if let Some(c) = table.column_mut(role) {
                for k in rows {
                    c.values[*k] = value(c.values[*k]);
                }
            }
        };
        match *self {
            Self::Spike { role, at_s, by } => {
                if let Some(k) = row(at_s) {
                    set(role, &[k], &|x| x + by);
                }
            }
            Self::Dropout { role, from_s, length_s } => set(role, &within(from_s, length_s), &|_| 0.0),
            Self::Blank { role, from_s, length_s } => {
                set(role, &within(from_s, length_s), &|_| f64::NAN);
            }
            Self::Stuck { role, from_s, length_s } => {
                let held = row(from_s).and_then(|k| table.column(role).map(|c| c.values[k]));
                if let (Some(held), Some(c)) = (held, table.column_mut(role)) {
                    for k in within(from_s, length_s) {
                        c.values[k] = held;
                    }
                }
            }
            Self::WrongUnit { role, factor } => {
                if let Some(c) = table.column_mut(role) {
                    c.values.iter_mut().for_each(|x| *x *= factor);
                }
            }
            Self::Gap { from_s, length_s } => {
                keep(table, &|k| times[k] < from_s || times[k] >= from_s + length_s);
            }
            Self::CutOff { at_s } => keep(table, &|k| times[k] < at_s),
            Self::RepeatedStamp { at_s } => {
                if let Some(k) = row(at_s) {
                    for c in &mut table.columns {
                        let again = c.values[k];
                        c.values.insert(k, again);
                    }
                }
            }
            Self::BackwardStamp { at_s } => {
                if let (Some(k), Some(c)) = (row(at_s), table.columns.first_mut())
                    && k >= 3
                {
                    c.values[k] = 0.5 * (times[k - 3] + times[k - 2]);
                }
            }
        }
    }
}
