//! Lines for a terminal, rows for a spreadsheet, JSON and back.

use crate::csv::gains_csv;
use crate::model::SCHEMA;
use crate::sample::invented;
use crate::{curves_csv, from_json, summary_text, to_json};

#[test]
fn summary() {
    insta::assert_snapshot!(summary_text(&invented(), 80, false), @r###"
    Turbine housing, before and after
    Invented data: no such car, workshop or measurement exists.

    as delivered → larger turbine housing
    The larger turbine housing makes more power than the car as delivered; the gain
    is larger than the smallest this job would have detected.
    - Power up 2.3 ± 0.8 %, pre-turbine pressure down 0.35 bar ± 0.05.
    - Pre-turbine pressure: −0.35 ± 0.05 bar.
    - Every other recorded channel: change not detectable.
    - Smallest detectable mean change: 1.1 %.
    - All pulls of one state were driven before the other; a slow drift of the rig
      would look like a gain.

    Peak power                   kW       PS  at 1/min
    as delivered            291 ± 4  396 ± 6      6200
    larger turbine housing  300 ± 4  408 ± 6      6100

    Peak torque                  Nm   lbf·ft  at 1/min
    as delivered            519 ± 7  383 ± 6      4600
    larger turbine housing  532 ± 8  392 ± 6      4700

    Pull-to-pull scatter of the level (standard deviation): as delivered 0.42 %,
    larger turbine housing 0.42 %.
    Heat soak, as delivered: No detectable trend over the four pulls (−0.2 % a pull,
    95 % interval −0.6 to +0.1 %).
    Heat soak, larger turbine housing: No detectable trend over the four pulls
    (−0.2 % a pull, 95 % interval −0.6 to +0.1 %).
    - as delivered-4.csv: Intake air 2.1 K warmer than the first pull.
    - larger turbine housing-4.csv: Intake air 2.1 K warmer than the first pull.
    Repairs of the recordings: 8

    Knock margin by fuel
    - as delivered, RON 98 MON 88: +2 ± 3 ON: undecided: the uncertainty is larger
      than the margin
    - larger turbine housing, RON 98 MON 88: +2 ± 3 ON: undecided: the uncertainty
      is larger than the margin
    A calculated margin never replaces a knock measurement: verify on the engine, on
    the fuel it will run on, by licensed practice and local codes.

    Basis: Net power at the crankshaft, corrected to ISO 1585:2020 (99 kPa dry air,
    25 °C), losses from the coast-down after each pull, petrol RON 98.

    Notices
    - The text of the standard was read in a quoting source, not in the document.
    - Humidity was taken from the job, not from the logs.

    A number after ± is half the width of the 95 % interval. Digits beyond it are
    not shown.
    "###);
}

#[test]
fn lines_keep_to_the_width_and_colour_adds_nothing_else() {
    let plain = summary_text(&invented(), 60, false);
    assert!(plain.lines().all(|l| l.chars().count() <= 60), "{plain}");
    assert!(!plain.contains('\u{1b}'));
    let dressed = summary_text(&invented(), 60, true);
    let undressed =
        ["\u{1b}[1m", "\u{1b}[2m", "\u{1b}[0m"].iter().fold(dressed, |t, code| t.replace(code, ""));
    assert_eq!(undressed, plain);
}

#[test]
fn csv() {
    let head = |text: &str| text.lines().take(3).collect::<Vec<_>>().join("\n");
    insta::assert_snapshot!(head(&curves_csv(&invented())), @r###"
    state,engine_speed_rpm,crank_power_kw,crank_power_kw_lo95,crank_power_kw_hi95,crank_power_band_kw_lo95,crank_power_band_kw_hi95,crank_torque_nm,crank_torque_nm_lo95,crank_torque_nm_hi95,wheel_power_kw,wheel_power_kw_lo95,wheel_power_kw_hi95,pulls
    as delivered,2500,75.54353704704849,74.03701460248391,77.05005949161307,73.13310113574516,77.95397295835181,288.5550686771076,282.8005765729823,294.3095607812329,64.9674418604617,63.76222390481004,66.17265981611337,4
    as delivered,2600,87.03244997283336,85.38806057315936,88.67683937250736,84.40142693335495,89.66347301231177,319.65335131854914,313.6138271796496,325.6928754574487,74.8479069766367,73.53239545689749,76.1634184963759,4
    "###);
    insta::assert_snapshot!(head(&gains_csv(&invented())), @r###"
    from,to,engine_speed_rpm,gain_percent,gain_percent_lo95,gain_percent_hi95,gain_band_percent_lo95,gain_band_percent_hi95
    as delivered,larger turbine housing,2500,-0.2633398987634766,-1.3633398987634766,0.8366601012365236,-2.133339898763477,1.6066601012365236
    as delivered,larger turbine housing,2600,-0.23122448902017645,-1.3212244890201765,0.8587755109798236,-2.084224489020176,1.6217755109798235
    "###);
    let fields: Vec<usize> = curves_csv(&invented()).lines().map(|l| l.split(',').count()).collect();
    assert_eq!(fields, vec![14; 1 + 2 * 43]);
}

#[test]
fn json_reads_back_to_the_same_bits() {
    let m = invented();
    let text = to_json(&m).expect("finite");
    assert_eq!(from_json(&text).expect("own text"), m);
    assert_eq!(to_json(&from_json(&text).expect("own text")).expect("finite"), text);
}

#[test]
fn json_that_does_not_fit_is_refused_with_its_place() {
    let mut m = invented();
    m.states[1].curve[2].crank_torque_nm.hi95 = f64::INFINITY;
    insta::assert_snapshot!(to_json(&m).expect_err("infinite"), @r###"
    result has no finite number at `states[1].curve[2].crank_torque_nm.hi95`: every figure must be a number before it is written; this is a fault of the calculation, not of the input
    "###);
    m = invented();
    m.states[0].pulls[0].curve_kw[0] = Some(f64::NAN);
    insta::assert_snapshot!(to_json(&m).expect_err("not a number"), @r###"
    result has no finite number at `states[0].pulls[0].curve_kw[0]`: every figure must be a number before it is written; this is a fault of the calculation, not of the input
    "###);
    let text = to_json(&invented()).expect("finite");
    insta::assert_snapshot!(from_json(&text.replace(SCHEMA, "fairpull-result-99")).expect_err("later"), @r###"
    result JSON has schema `fairpull-result-99`, expected `fairpull-result-1`: read it with the version of fairpull that wrote it, or reduce the job again
    "###);
    insta::assert_snapshot!(from_json(&text.replacen("\"job\"", "\"jab\"", 1)).expect_err("no job"), @r###"
    result JSON, line 4039, column 1: missing field `job`; expected the keys of docs/result-schema.json
    "###);
    insta::assert_snapshot!(from_json("{\"schema\"").expect_err("cut"), @r###"
    result JSON, line 1, column 9: EOF while parsing an object; expected the keys of docs/result-schema.json
    "###);
}
