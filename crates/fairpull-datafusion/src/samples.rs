//! State of the aggregates: the values of each group, in lists that merge in any order.
//!
//! A sum in doubles depends on its order, and an engine that runs on many cores or machines adds in an order nobody
//! chooses. So the values themselves are the state, and each result is calculated from the sorted values: every
//! partitioning, batch size and order of arrival gives the same bits. It costs 16 bytes a row in memory and 8 on
//! the wire, so these are functions for repeats, not for the average of an archive.

use std::sync::Arc;

use arrow::array::{Array, ArrayRef, BooleanArray, Float64Array, LargeListArray};
use arrow::buffer::OffsetBuffer;
use arrow::datatypes::{DataType, Field, FieldRef};
use datafusion_common::cast::{as_float64_array, as_large_list_array};
use datafusion_common::{DataFusionError, Result};
use datafusion_expr::EmitTo;

/// Values of one sample, each with the number of its group, in the order of arrival.
#[derive(Debug, Default)]
pub(crate) struct Sample {
    groups: Vec<usize>,
    values: Vec<f64>,
}

impl Sample {
    pub(crate) fn push(&mut self, group: usize, value: f64) {
        self.groups.push(group);
        self.values.push(value);
    }

    /// Bytes in use.
    pub(crate) fn size(&self) -> usize {
        self.groups.capacity() * size_of::<usize>() + self.values.capacity() * size_of::<f64>()
    }

    /// Adds the lists that another state holds.
    pub(crate) fn merge(&mut self, lists: &ArrayRef, groups: &[usize]) -> Result<()> {
        let lists = as_large_list_array(lists)?;
        let values = as_float64_array(lists.values())?.values();
        for (group, range) in groups.iter().zip(lists.value_offsets().windows(2)) {
            let ends = match range {
                [low, high] => usize::try_from(*low).ok().zip(usize::try_from(*high).ok()),
                _ => None,
            };
            for value in ends.and_then(|(low, high)| values.get(low..high)).unwrap_or_default() {
                self.push(*group, *value);
            }
        }
        Ok(())
    }

    /// Takes out the values of the groups below `count`, sorted within each; the other groups move down.
    pub(crate) fn take(&mut self, count: usize, emit: EmitTo) -> Sorted {
        let mut starts = vec![0_usize; count + 1];
        for group in &self.groups {
            if let Some(next) = starts.get_mut(group + 1) {
                *next += 1;
            }
        }
        let mut total = 0;
        for start in &mut starts {
            total += *start;
            *start = total;
        }
        let mut values = vec![0.0; total];
        let mut free = starts.clone();
        let mut rest = Self::default();
        for (group, value) in self.groups.iter().zip(&self.values) {
            match free.get_mut(*group) {
                Some(place) if *group < count => {
                    if let Some(slot) = values.get_mut(*place) {
                        *slot = *value;
                    }
                    *place += 1;
                }
                _ => rest.push(group - count, *value),
            }
        }
        *self = match emit {
            EmitTo::All => Self::default(),
            EmitTo::First(_) => rest,
        };
        let mut sorted = Sorted { starts, values };
        for group in 0..count {
            if let Some(own) = sorted.group_mut(group) {
                own.sort_unstable_by(f64::total_cmp);
            }
        }
        sorted
    }
}

impl From<Sorted> for Sample {
    /// The values of a single group back again.
    fn from(sorted: Sorted) -> Self {
        Self { groups: vec![0; sorted.values.len()], values: sorted.values }
    }
}

/// Values of the groups that were taken out, one group after the other.
pub(crate) struct Sorted {
    starts: Vec<usize>,
    values: Vec<f64>,
}

impl Sorted {
    fn range(&self, group: usize) -> Option<std::ops::Range<usize>> {
        Some(*self.starts.get(group)?..*self.starts.get(group + 1)?)
    }

    /// The values of a group, ascending.
    pub(crate) fn group(&self, group: usize) -> &[f64] {
        self.range(group).and_then(|r| self.values.get(r)).unwrap_or_default()
    }

    fn group_mut(&mut self, group: usize) -> Option<&mut [f64]> {
        let range = self.range(group)?;
        self.values.get_mut(range)
    }

    /// One list a group: what travels between machines.
    pub(crate) fn lists(self) -> Result<ArrayRef> {
        let lengths = self.starts.windows(2).map(|w| match w {
            [low, high] => high - low,
            _ => 0,
        });
        let offsets = OffsetBuffer::from_lengths(lengths);
        let values = Float64Array::from(self.values);
        Ok(Arc::new(LargeListArray::try_new(item(), offsets, Arc::new(values), None)?))
    }
}

fn item() -> FieldRef {
    Arc::new(Field::new_list_field(DataType::Float64, true))
}

/// Type of a state column.
pub(crate) fn list_type() -> DataType {
    DataType::LargeList(item())
}

/// True when a row takes part under a FILTER clause.
pub(crate) fn passes(filter: Option<&BooleanArray>, row: usize) -> bool {
    filter.is_none_or(|f| !f.is_null(row) && f.value(row))
}

/// Groups that leave now.
pub(crate) fn leaving(emit: EmitTo, groups: usize) -> usize {
    match emit {
        EmitTo::All => groups,
        EmitTo::First(n) => n,
    }
}

/// An argument or a state column that the engine owes.
pub(crate) fn owed(columns: &[ArrayRef], position: usize) -> Result<&ArrayRef> {
    let missing = || DataFusionError::Internal(format!("column {position} of an aggregate is missing"));
    columns.get(position).ok_or_else(missing)
}
