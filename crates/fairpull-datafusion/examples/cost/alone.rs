//! A function on columns in memory, called as the engine calls it.

use std::hint::black_box;
use std::sync::Arc;

use datafusion::arrow::array::{AsArray, RecordBatch};
use datafusion::arrow::datatypes::Int64Type;
use datafusion::common::{DFSchema, ToDFSchema};
use datafusion::error::{DataFusionError, Result};
use datafusion::logical_expr::{EmitTo, Expr, ExprSchemable};
use datafusion::physical_expr::PhysicalExpr;
use datafusion::physical_expr::aggregate::{AggregateExprBuilder, AggregateFunctionExpr};
use datafusion::prelude::SessionContext;

use crate::cases::Case;
use crate::clock;

/// Processor time of a run that is long enough to be told in steps of a hundredth of a second.
const SECONDS: f64 = 0.5;
/// Rows in memory, where the case does not say fewer.
const ROWS: u64 = 1_000_000;

enum Call {
    Scalar(Arc<dyn PhysicalExpr>),
    Aggregate(Box<AggregateFunctionExpr>, Vec<Arc<dyn PhysicalExpr>>),
}

/// Nanoseconds of processor time a row, the best of three runs.
pub async fn best(context: &SessionContext, case: &Case) -> Result<f64> {
    let limit = case.rows.unwrap_or(ROWS);
    let sql = format!("SELECT * FROM pulls WHERE pull < {limit} ORDER BY pull");
    let batches = context.sql(&sql).await?.collect().await?;
    let rows: usize = batches.iter().map(RecordBatch::num_rows).sum();
    let first = batches.first().ok_or_else(|| DataFusionError::Execution("no rows".to_owned()))?;
    let schema = first.schema().to_dfschema()?;
    let call = prepare(context, &schema, context.parse_sql_expr(case.call, &schema)?)?;
    let mut best = f64::INFINITY;
    for _ in 0..3 {
        let (start, mut passes, mut taken) = (clock::process_seconds()?, 0, 0.0);
        while taken < SECONDS {
            pass(&call, &batches)?;
            passes += 1;
            taken = clock::process_seconds()? - start;
        }
        best = best.min(1e9 * taken / (f64::from(passes) * rows as f64));
    }
    Ok(best)
}

fn prepare(context: &SessionContext, schema: &DFSchema, call: Expr) -> Result<Call> {
    let Expr::AggregateFunction(aggregate) = call else {
        return Ok(Call::Scalar(context.create_physical_expr(call, schema)?));
    };
    let given = aggregate.params.args;
    let types = given.iter().map(|a| a.get_type(schema)).collect::<Result<Vec<_>>>()?;
    let mut arguments = Vec::new();
    for (argument, wanted) in given.into_iter().zip(aggregate.func.coerce_types(&types)?) {
        arguments.push(context.create_physical_expr(argument.cast_to(&wanted, schema)?, schema)?);
    }
    let built = AggregateExprBuilder::new(aggregate.func, arguments.clone())
        .schema(Arc::new(schema.as_arrow().clone()))
        .alias("result")
        .build()?;
    Ok(Call::Aggregate(Box::new(built), arguments))
}

/// Every batch once; the groups of an aggregate are the jobs.
fn pass(call: &Call, batches: &[RecordBatch]) -> Result<()> {
    match call {
        Call::Scalar(expression) => {
            for batch in batches {
                black_box(expression.evaluate(batch)?);
            }
        }
        Call::Aggregate(function, arguments) => {
            let mut state = function.create_groups_accumulator()?;
            let mut groups = 0;
            for batch in batches {
                let values = arguments
                    .iter()
                    .map(|a| a.evaluate(batch)?.into_array(batch.num_rows()))
                    .collect::<Result<Vec<_>>>()?;
                let jobs = batch.column_by_name("job").map(|c| c.as_primitive::<Int64Type>());
                let own: Vec<usize> =
                    jobs.into_iter().flat_map(|j| j.values().iter().map(|v| *v as usize)).collect();
                groups = own.iter().map(|g| g + 1).fold(groups, usize::max);
                state.update_batch(&values, &own, None, groups)?;
            }
            black_box(state.evaluate(EmitTo::All)?);
        }
    }
    Ok(())
}
