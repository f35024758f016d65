//! The functions through SQL: against printed values, against the direct calls bit by bit, and what they refuse.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

mod aggregates;
mod bits;
mod published;
mod refusals;

use std::sync::Arc;

use arrow::array::{Array, ArrayRef, AsArray, RecordBatch, UInt32Array};
use arrow::compute::{concat_batches, take_record_batch};
use arrow::datatypes::Float64Type;
use datafusion::datasource::MemTable;
use datafusion::prelude::{SessionConfig, SessionContext, col};

/// A session with the functions, so many partitions and rows a batch.
pub(crate) fn session(partitions: usize, batch: usize) -> SessionContext {
    let config = SessionConfig::new().with_target_partitions(partitions).with_batch_size(batch);
    let mut context = SessionContext::new_with_config(config);
    fairpull_datafusion::register_all(&mut context).unwrap();
    context
}

/// Registers columns as a table of so many partitions, dealt out row by row like cards. `order` names a column that
/// the rows are known to be sorted by.
pub(crate) fn table(
    context: &SessionContext,
    name: &str,
    columns: Vec<(&str, ArrayRef)>,
    partitions: usize,
    order: Option<&str>,
) {
    let nullable = columns.into_iter().map(|(n, a)| (n, a, true));
    let whole = RecordBatch::try_from_iter_with_nullable(nullable).unwrap();
    let dealt = (0..partitions).map(|p| {
        let rows = (0..whole.num_rows() as u32).filter(|r| *r as usize % partitions == p);
        let rows = UInt32Array::from_iter_values(rows);
        vec![take_record_batch(&whole, &rows).unwrap()]
    });
    let table = MemTable::try_new(whole.schema(), dealt.collect()).unwrap();
    let sorted = order.map(|column| vec![col(column).sort(true, false)]);
    context.register_table(name, Arc::new(table.with_sort_order(sorted.into_iter().collect()))).unwrap();
}

/// The rows of a query, or the message it is refused with.
pub(crate) async fn query(context: &SessionContext, sql: &str) -> Result<RecordBatch, String> {
    let frame = context.sql(sql).await.map_err(|e| e.to_string())?;
    let schema = Arc::clone(frame.schema().inner());
    let batches = frame.collect().await.map_err(|e| e.to_string())?;
    concat_batches(&schema, &batches).map_err(|e| e.to_string())
}

/// The message a query is refused with.
pub(crate) async fn refusal(context: &SessionContext, sql: &str) -> String {
    match query(context, sql).await {
        Err(why) => why,
        Ok(rows) => panic!("{sql} gave {rows:?}"),
    }
}

/// The doubles of a column of the answer.
pub(crate) fn doubles(rows: &RecordBatch, column: usize) -> Vec<Option<f64>> {
    rows.column(column).as_primitive::<Float64Type>().iter().collect()
}

/// One field of a struct column of the answer; NULL where the struct is.
pub(crate) fn field(rows: &RecordBatch, column: usize, name: &str) -> Vec<Option<f64>> {
    let whole = rows.column(column).as_struct();
    let values = whole.column_by_name(name).unwrap().as_primitive::<Float64Type>();
    (0..whole.len()).map(|i| (whole.is_valid(i) && values.is_valid(i)).then(|| values.value(i))).collect()
}

/// The only number of a query.
pub(crate) async fn one(context: &SessionContext, sql: &str) -> f64 {
    let rows = query(context, sql).await.unwrap_or_else(|e| panic!("{sql}: {e}"));
    assert_eq!((rows.num_rows(), rows.num_columns()), (1, 1), "{sql}");
    doubles(&rows, 0)[0].unwrap()
}

/// Reproducible numbers between 0 and 1 (a linear congruential generator; Knuth, MMIX).
pub(crate) struct Stream(pub u64);

impl Stream {
    pub(crate) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }
}
