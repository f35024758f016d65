//! SQL over an archive of pulls in a Parquet file.
//!
//! `cargo run --example archive` writes an archive of invented jobs into the temporary folder and asks it a few
//! questions; `cargo run --example archive -- table.parquet` asks the table of an archive of your own, as
//! `fairpull reduce … --out` writes it (docs/archive.md): the columns have the same names.
#![allow(missing_docs)]

use std::error::Error;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use arrow::array::{ArrayRef, Float64Array, Int32Array, RecordBatch, StringArray};
use datafusion::dataframe::DataFrameWriteOptions;
use datafusion::prelude::{ParquetReadOptions, SessionContext};

/// Questions that any archive answers.
const ANY: [(&str, &str); 4] = [
    (
        "Vapour pressure again from the readings, kPa: the largest difference from the one in the table",
        "SELECT count(*) AS states,
                max(abs(vapour_pressure(temperature_c, humidity_percent) - vapour_pressure_kpa)) AS largest
         FROM archive",
    ),
    (
        "Every figure on one basis, kW, with what the figures are corrected to now",
        "SELECT job, state, standard, round(peak_power_kw, 1) AS given,
                round(get_field(r, 'value'), 1) AS iso_1585, round(convert(get_field(r, 'value'), 'kW', 'PS'), 1) AS \"PS\"
         FROM (SELECT *, restate(peak_power_kw, standard, site, 'iso-1585', 'crank', station_pressure_kpa,
                                 temperature_c, humidity_percent,
                                 '{\"ignition\": \"' || ignition || '\", \"charging\": \"' || charging || '\"}') AS r
               FROM archive)
         ORDER BY job, state_number LIMIT 6",
    ),
    (
        "States whose air was outside the range of ISO 1585",
        "SELECT job, state, round(get_field(c, 'factor'), 4) AS factor, get_field(c, 'why') AS why
         FROM (SELECT *, correction('iso-1585', station_pressure_kpa, temperature_c, humidity_percent) AS c
               FROM archive)
         WHERE get_field(c, 'status') = 'outside' ORDER BY job, state_number LIMIT 3",
    ),
    (
        "Mean peak power of each kind of car and its 95 % interval, kW",
        "SELECT car, state, get_field(m, 'count') AS jobs, round(get_field(m, 'mean'), 2) AS mean,
                round(get_field(m, 'low'), 2) AS low, round(get_field(m, 'high'), 2) AS high
         FROM (SELECT car, state, mean_power(peak_power_kw) AS m FROM archive GROUP BY car, state)
         ORDER BY car, state LIMIT 6",
    ),
];

/// Questions about the invented one, whose states are called stock and tuned.
const OWN: [(&str, &str); 2] = [
    (
        "Gain of each kind of car, %, with its 95 % interval",
        "SELECT car, round(get_field(g, 'gain'), 2) AS gain, round(get_field(g, 'low'), 2) AS low,
                round(get_field(g, 'high'), 2) AS high, get_field(g, 'after_count') AS tuned
         FROM (SELECT car, gain(peak_power_kw, state, 'stock', 'tuned') AS g FROM archive GROUP BY car)
         ORDER BY car",
    ),
    (
        "Knock margin on 95 octane against an invented requirement that grows with the power, octane numbers",
        "SELECT car, count(*) AS states, round(avg(get_field(k, 'margin')), 1) AS margin, get_field(k, 'verdict') AS verdict
         FROM (SELECT car, knock_margin('en-228-95', 88 + (peak_power_kw - 150) / 8, 1, 'boosted-direct') AS k FROM archive)
         GROUP BY car, verdict ORDER BY car, verdict",
    ),
];

/// Invented jobs: three kinds of car, two states each, in the air of a year.
fn invented(jobs: usize) -> Result<RecordBatch, Box<dyn Error>> {
    // a reproducible number between 0 and 1
    let share = |i: usize, step: f64| (i as f64 * step) % 1.0;
    let rows = 0..2 * jobs;
    let number =
        |f: &dyn Fn(usize) -> f64| Arc::new(Float64Array::from_iter_values(rows.clone().map(f))) as ArrayRef;
    let text = |f: &dyn Fn(usize) -> String| {
        Arc::new(StringArray::from_iter_values(rows.clone().map(f))) as ArrayRef
    };
    let temperature = |i: usize| 20.0 + 16.0 * (share(i / 2, 0.618_034) - 0.4);
    let humidity = |i: usize| 30.0 + 60.0 * share(i / 2, 0.414_214);
    let vapour = |i: usize| {
        // by the crate that the functions call
        let method = fairpull::humid::Method::default();
        let t = fairpull::core::Temperature::from_celsius(temperature(i));
        method.saturation(t).map_or(f64::NAN, |p| p.kilopascals() * humidity(i) / 100.0)
    };
    let power = |i: usize| {
        let (car, tuned) = (i / 2 % 3, i % 2 == 1);
        150.0 + 40.0 * car as f64 + if tuned { 9.0 } else { 0.0 } + 6.0 * (share(i, 0.732_051) - 0.5)
    };
    Ok(RecordBatch::try_from_iter([
        ("job", text(&|i| format!("invented/{:06}", i / 2))),
        ("car", text(&|i| format!("invented {}", ["A", "B", "C"][i / 2 % 3]))),
        ("ignition", text(&|_| "spark".into())),
        ("charging", text(&|i| if i / 2 % 3 == 0 { "none" } else { "turbocharged" }.into())),
        ("state", text(&|i| if i % 2 == 0 { "stock" } else { "tuned" }.into())),
        ("state_number", Arc::new(Int32Array::from_iter_values(rows.clone().map(|i| 1 + (i % 2) as i32)))),
        ("site", text(&|_| "crank".into())),
        ("standard", text(&|i| if i / 2 % 2 == 0 { "din-70020" } else { "iso-1585" }.into())),
        ("peak_power_kw", number(&power)),
        ("station_pressure_kpa", number(&|i| 96.0 + 6.0 * share(i / 2, 0.236_068))),
        ("temperature_c", number(&temperature)),
        ("humidity_percent", number(&humidity)),
        ("vapour_pressure_kpa", number(&vapour)),
    ])?)
}

async fn ask(context: &SessionContext, questions: &[(&str, &str)]) -> Result<(), Box<dyn Error>> {
    for (what, sql) in questions {
        println!("\n{what}");
        context.sql(sql).await?.show().await?;
    }
    Ok(())
}

async fn open(context: &SessionContext, file: &Path) -> Result<(), Box<dyn Error>> {
    let path = file.to_str().ok_or("the path is not text")?;
    context.register_parquet("archive", path, ParquetReadOptions::default()).await?;
    Ok(())
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<(), Box<dyn Error>> {
    let mut context = SessionContext::new();
    fairpull_datafusion::register_all(&mut context)?;
    if let Some(own) = std::env::args().nth(1) {
        open(&context, Path::new(&own)).await?;
        return ask(&context, &ANY).await;
    }
    let file: PathBuf = std::env::temp_dir().join(format!("fairpull-archive-{}.parquet", std::process::id()));
    let frame = context.read_batch(invented(10_000)?)?;
    frame.write_parquet(&file.to_string_lossy(), DataFrameWriteOptions::new(), None).await?;
    println!("{} (invented)", file.display());
    open(&context, &file).await?;
    ask(&context, &ANY).await?;
    ask(&context, &OWN).await?;
    std::fs::remove_file(&file)?;
    Ok(())
}
