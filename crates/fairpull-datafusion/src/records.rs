//! Results of several fields: a struct array of doubles, with further columns where a function has them.

use std::sync::Arc;

use arrow::array::{ArrayRef, Float64Array, StructArray};
use arrow::buffer::NullBuffer;
use arrow::datatypes::{DataType, Field, Fields};
use datafusion_common::Result;

/// Type of a result: fields of doubles first, then the further columns.
pub(crate) fn fields(doubles: &[&str], further: &[(&str, DataType)]) -> Fields {
    let first = doubles.iter().map(|n| Field::new(*n, DataType::Float64, true));
    first.chain(further.iter().map(|(n, t)| Field::new(*n, t.clone(), true))).collect()
}

/// Rows of `N` doubles each. A NaN stands for a field that is not known and becomes NULL.
pub(crate) struct Records<const N: usize> {
    columns: [Vec<f64>; N],
    present: Vec<bool>,
}

impl<const N: usize> Records<N> {
    pub(crate) fn with_capacity(rows: usize) -> Self {
        Self { columns: std::array::from_fn(|_| Vec::with_capacity(rows)), present: Vec::with_capacity(rows) }
    }

    pub(crate) fn push(&mut self, row: Option<[f64; N]>) {
        self.present.push(row.is_some());
        for (column, value) in self.columns.iter_mut().zip(row.unwrap_or([f64::NAN; N])) {
            column.push(value);
        }
    }

    /// The struct array of `fields`, the further columns behind the doubles.
    pub(crate) fn finish(self, fields: Fields, further: Vec<ArrayRef>) -> Result<ArrayRef> {
        let doubles = self.columns.into_iter().map(|c| {
            let known: Vec<bool> = c.iter().map(|x| !x.is_nan()).collect();
            Arc::new(Float64Array::new(c.into(), Some(known.into()))) as ArrayRef
        });
        let arrays = doubles.chain(further).collect();
        let rows = NullBuffer::from(self.present);
        Ok(Arc::new(StructArray::try_new(fields, arrays, Some(rows))?))
    }
}
