//! What the functions cost: alone, and as whole queries over Parquet files beside the same queries without them.
//!
//! `cargo run --release --example cost -- FOLDER [MILLIONS OF ROWS] [FUNCTION]` writes invented pulls into the folder,
//! eight files, where there are none yet. Each figure is the best of three, in nanoseconds a row: processor time of the
//! function on columns in memory, processor time of the whole query with one thread, waiting with one and with two.
#![allow(missing_docs)]

mod alone;
mod cases;
mod clock;

use std::path::Path;
use std::time::Instant;

use cases::{CASES, Case};
use datafusion::arrow::array::AsArray;
use datafusion::arrow::datatypes::Int64Type;
use datafusion::error::{DataFusionError, Result};
use datafusion::prelude::{ParquetReadOptions, SessionConfig, SessionContext};
use tokio::runtime::{Builder, Runtime};

/// Seconds of one run, or nanoseconds a row.
#[derive(Clone, Copy)]
struct Time {
    processor: f64,
    waiting: f64,
}

/// A session whose table `pulls` is the folder.
async fn session(folder: &str, threads: usize) -> Result<SessionContext> {
    let mut context = SessionContext::new_with_config(SessionConfig::new().with_target_partitions(threads));
    fairpull_datafusion::register_all(&mut context)?;
    context.register_parquet("pulls", folder, ParquetReadOptions::default()).await?;
    Ok(context)
}

fn runtime(threads: usize) -> Result<Runtime> {
    Ok(Builder::new_multi_thread().worker_threads(threads).enable_all().build()?)
}

async fn once(folder: &str, threads: usize, sql: &str) -> Result<Time> {
    let frame = session(folder, threads).await?.sql(sql).await?;
    let (busy, start) = (clock::process_seconds()?, Instant::now());
    frame.collect().await?;
    Ok(Time { processor: clock::process_seconds()? - busy, waiting: start.elapsed().as_secs_f64() })
}

/// The best of three runs, in nanoseconds a row.
fn best(folder: &str, threads: usize, sql: &str, rows: f64) -> Result<Time> {
    let runtime = runtime(threads)?;
    let mut best = Time { processor: f64::INFINITY, waiting: f64::INFINITY };
    for _ in 0..3 {
        let run = runtime.block_on(once(folder, threads, sql))?;
        best.processor = best.processor.min(1e9 * run.processor / rows);
        best.waiting = best.waiting.min(1e9 * run.waiting / rows);
    }
    Ok(best)
}

async fn count(folder: &str) -> Result<i64> {
    let batches = session(folder, 1).await?.sql("SELECT count(*) FROM pulls").await?.collect().await?;
    let first = batches.first().map(|b| b.column(0).as_primitive::<Int64Type>().value(0));
    first.ok_or_else(|| DataFusionError::Execution("no rows".to_owned()))
}

fn row(folder: &str, case: &Case, all: f64) -> Result<String> {
    let rows = case.rows.map_or(all, |n| n as f64);
    let alone = runtime(1)?.block_on(async { alone::best(&session(folder, 1).await?, case).await })?;
    let one = best(folder, 1, &case.with(), rows)?;
    let bare = best(folder, 1, &case.without(), rows)?;
    let two = best(folder, 2, &case.with(), rows)?;
    let two_bare = best(folder, 2, &case.without(), rows)?;
    Ok(format!(
        "| {} | {alone:.0} | {:.0} · {:.0} | {:.0} · {:.0} | {:.0} · {:.0} |",
        case.name, one.processor, bare.processor, one.waiting, bare.waiting, two.waiting, two_bare.waiting
    ))
}

fn main() -> Result<()> {
    let mut words = std::env::args().skip(1);
    let folder = words.next().ok_or_else(|| DataFusionError::Execution("name a folder".to_owned()))?;
    let millions = words.next().and_then(|w| w.parse::<f64>().ok()).unwrap_or(3.0);
    if !Path::new(&folder).exists() {
        let config = SessionConfig::new().set_u64("datafusion.execution.minimum_parallel_output_files", 8);
        let context = SessionContext::new_with_config(config);
        let sql = cases::pulls((millions * 1e6) as u64, &folder);
        runtime(2)?.block_on(async { context.sql(&sql).await?.collect().await })?;
    }
    let wanted = words.next().unwrap_or_default();
    let rows = runtime(1)?.block_on(count(&folder))? as f64;
    println!("{rows} rows; load {}", clock::load()?);
    println!("| function | alone | one thread, processor | one thread, waiting | two threads, waiting |");
    println!("|---|---|---|---|---|");
    for case in CASES.iter().filter(|c| c.name.contains(&wanted)) {
        println!("{}", row(&folder, case, rows)?);
    }
    println!("load {}", clock::load()?);
    Ok(())
}
