//! Aggregates give the same bits however the rows are dealt out, and those of the direct calls on the sorted values.

use std::sync::Arc;

use arrow::array::{ArrayRef, AsArray, Float64Array, Int64Array, RecordBatch, StringArray};
use arrow::datatypes::Int64Type;
use fairpull::uncertainty::{coverage_factor, mean_and_deviation, welch};

use super::{Stream, field, query, refusal, session, table};

const JOBS: usize = 300;
const ROWS: usize = 5_000;

/// Invented repeats of jobs, in a scrambled order; job 0 has a single row, one in eleven powers is not known.
fn rows(order: u64) -> Vec<(i64, Option<f64>, &'static str)> {
    let mut stream = Stream(3);
    let mut all: Vec<(i64, Option<f64>, &str)> = (0..ROWS)
        .map(|i| {
            let job = if i == 0 { 0 } else { 1 + (stream.share() * (JOBS - 1) as f64) as i64 };
            let tuned = stream.share() < 0.5;
            let power = 150.0 + job as f64 / 7.0 + if tuned { 8.0 } else { 0.0 } + stream.between(-3.0, 3.0);
            (job, (i % 11 != 5).then_some(power), if tuned { "tuned" } else { "stock" })
        })
        .collect();
    let mut shuffle = Stream(order);
    for i in (1..all.len()).rev() {
        all.swap(i, (shuffle.share() * (i + 1) as f64) as usize);
    }
    all
}

fn columns(order: u64, by_job: bool) -> Vec<(&'static str, ArrayRef)> {
    let mut all = rows(order);
    if by_job {
        all.sort_by_key(|r| r.0);
    }
    vec![
        ("job", Arc::new(all.iter().map(|r| r.0).collect::<Int64Array>()) as ArrayRef),
        ("power", Arc::new(all.iter().map(|r| r.1).collect::<Float64Array>())),
        ("state", Arc::new(all.iter().map(|r| Some(r.2)).collect::<StringArray>())),
    ]
}

fn bits(values: Vec<Option<f64>>) -> Vec<Option<u64>> {
    values.into_iter().map(|v| v.map(f64::to_bits)).collect()
}

fn all_bits(answer: &RecordBatch, column: usize, names: &[&str]) -> Vec<Vec<Option<u64>>> {
    names.iter().map(|n| bits(field(answer, column, n))).collect()
}

const MEAN: [&str; 4] = ["mean", "standard_uncertainty", "low", "high"];
const GAIN: [&str; 7] =
    ["gain", "low", "high", "difference", "difference_low", "difference_high", "degrees_of_freedom"];

#[tokio::test]
async fn the_same_bits_for_every_partitioning() {
    let grouped = "SELECT job, mean_power(power), gain(power, state, 'stock', 'tuned') FROM pulls
                   GROUP BY job ORDER BY job";
    let whole = "SELECT 0, mean_power(power), gain(power, state, 'stock', 'tuned') FROM pulls";
    // groups that arrive in their order leave one after the other, the others all at the end
    for (sql, by_job) in [(grouped, false), (grouped, true), (whole, false)] {
        let mut first = None;
        for (partitions, batch, order) in [(1, 8192, 1), (2, 64, 2), (3, 7, 3), (7, 501, 4), (16, 3, 5)] {
            let session = session(partitions, batch);
            let sorted_by = by_job.then_some("job");
            table(&session, "pulls", columns(order, by_job), partitions, sorted_by);
            if by_job {
                let plan = query(&session, &format!("EXPLAIN {sql}")).await.unwrap();
                assert!(format!("{plan:?}").contains("ordering_mode=Sorted"), "{plan:?}");
            }
            let answer = query(&session, sql).await.unwrap_or_else(|e| panic!("{sql}: {e}"));
            let got = (all_bits(&answer, 1, &MEAN), all_bits(&answer, 2, &GAIN));
            match &first {
                Some(before) => assert!(*before == got, "{sql} with {partitions} partitions"),
                None => first = Some(got),
            }
        }
    }
}

#[tokio::test]
async fn the_bits_of_the_direct_calls_on_sorted_values() {
    let session = session(3, 100);
    table(&session, "pulls", columns(9, false), 3, None);
    let sql = "SELECT job, mean_power(power), gain(power, state, 'stock', 'tuned') FROM pulls
               GROUP BY job ORDER BY job";
    let answer = query(&session, sql).await.unwrap();
    let jobs: Vec<i64> = answer.column(0).as_primitive::<Int64Type>().values().to_vec();
    assert!(jobs.len() > JOBS / 2 && jobs[0] == 0);
    let all = rows(9);
    let sorted = |job: i64, state: Option<&str>| {
        let own = all.iter().filter(|r| r.0 == job && state.is_none_or(|s| r.2 == s));
        let mut values: Vec<f64> = own.filter_map(|r| r.1).collect();
        values.sort_by(f64::total_cmp);
        values
    };
    let counts = answer.column(1).as_struct().column_by_name("count").unwrap().clone();
    for (i, job) in jobs.iter().enumerate() {
        let values = sorted(*job, None);
        let (mean, deviation) = mean_and_deviation(&values);
        assert_eq!(counts.as_primitive::<Int64Type>().value(i), values.len() as i64);
        assert_eq!(field(&answer, 1, "mean")[i], Some(mean));
        let u = (values.len() > 1).then(|| deviation / libm::sqrt(values.len() as f64));
        assert_eq!(field(&answer, 1, "standard_uncertainty")[i], u);
        let high = u.map(|u| mean + coverage_factor(values.len() as f64 - 1.0) * u);
        assert_eq!(field(&answer, 1, "high")[i], high);
        let logs = |s| sorted(*job, Some(s)).iter().map(|p| libm::log(*p)).collect::<Vec<_>>();
        let (before, after) = (logs("stock"), logs("tuned"));
        let low = welch(&before, &after).map(|w| 100.0 * libm::expm1(w.difference - w.half_width));
        assert_eq!(field(&answer, 2, "low")[i], low, "job {job}");
    }
}

#[tokio::test]
async fn nulls_filters_and_groups_without_rows() {
    let session = session(2, 16);
    table(&session, "pulls", columns(2, false), 2, None);
    let sql = "SELECT mean_power(power) FILTER (WHERE state = 'none'), mean_power(power) FILTER (WHERE job = 0),
               mean_power(NULL), gain(power, state, 'stock', 'tuned') FILTER (WHERE state = 'stock') FROM pulls";
    let answer = query(&session, sql).await.unwrap();
    assert_eq!(field(&answer, 0, "mean"), [None]);
    assert!(field(&answer, 1, "mean")[0].is_some());
    assert_eq!(field(&answer, 1, "low"), [None], "one repeat has no interval");
    assert_eq!(field(&answer, 2, "mean"), [None]);
    assert_eq!(field(&answer, 3, "gain"), [None], "nothing was driven after");
    let filtered =
        "SELECT mean_power(power) FILTER (WHERE state = 'tuned') FROM pulls GROUP BY job ORDER BY job";
    let plain =
        "SELECT mean_power(CASE WHEN state = 'tuned' THEN power END) FROM pulls GROUP BY job ORDER BY job";
    let (a, b) = (query(&session, filtered).await.unwrap(), query(&session, plain).await.unwrap());
    assert_eq!(all_bits(&a, 0, &MEAN), all_bits(&b, 0, &MEAN));
}

/// A window that grows row by row is asked again and again.
#[tokio::test]
async fn in_a_growing_window() {
    let session = session(1, 8);
    let values = "(VALUES (1, 100.0), (2, 103.0), (3, 101.0), (4, 108.0)) AS pulls(number, power)";
    let sql =
        format!("SELECT number, mean_power(power) OVER (ORDER BY number) FROM {values} ORDER BY number");
    let answer = query(&session, &sql).await.unwrap();
    assert_eq!(field(&answer, 1, "mean"), [Some(100.0), Some(101.5), Some(304.0 / 3.0), Some(103.0)]);
}

#[tokio::test]
async fn a_bad_row_is_refused_or_makes_its_group_null() {
    let session = session(2, 16);
    let pulls = "(VALUES (1, 100.0, 'a'), (1, 101.0, 'b'), (2, -5.0, 'a'), (2, 100.0, 'b'), (3, 100.0, 'c'))
                 AS pulls(job, power, state)";
    let why =
        refusal(&session, &format!("SELECT gain(power, state, 'a', 'b') FROM {pulls} WHERE job = 2")).await;
    assert!(
        why.contains("gain: power is -5, not a finite number above 0 (in the row with power -5, state \"a\""),
        "{why}"
    );
    let why =
        refusal(&session, &format!("SELECT gain(power, state, 'a', 'b') FROM {pulls} WHERE job = 3")).await;
    assert!(why.contains("state \"c\" is neither \"a\" nor \"b\""), "{why}");
    let sql = format!("SELECT try_gain(power, state, 'a', 'b') FROM {pulls} GROUP BY job ORDER BY job");
    let answer = query(&session, &sql).await.unwrap();
    let gains = field(&answer, 0, "gain");
    assert!(gains[0].is_some_and(|g| (g - 1.0).abs() < 1e-9) && gains[1].is_none() && gains[2].is_none());
    for call in ["mean_power(DISTINCT power)", "mean_power(DISTINCT power), mean_power(power)"] {
        let why = refusal(&session, &format!("SELECT {call} FROM {pulls}")).await;
        assert!(
            why.contains(
                "Error during planning: mean_power: equal values are repeats too; leave DISTINCT out"
            ),
            "{why}"
        );
    }
    let why = refusal(&session, &format!("SELECT gain(power, state, 'a', 'a') FROM {pulls}")).await;
    assert!(why.contains("\"a\" is given as both states; name two different ones"), "{why}");
}
