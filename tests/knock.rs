//! Knock models against a second integration, the literature, and the promises every knock model makes.
#![allow(clippy::panic, clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_conformance::knock_tests;
use fairpull_core::{Anchor, Changes, CycleState, Fuel, KnockModel, KnockPoint, Notice, Refusal, Span};
use fairpull_fuels::delay::{induction_time, integral_at_onset, required_octane};
use fairpull_fuels::{
    Choices, Cycle, DeclaredSlopes, EndGas, K_BOOSTED_DIRECT, KNOCK_MODELS, KnockInput, OctaneIndex, Slopes,
    Verdict, advance_left, knock, knock_limited_starts, mixed_temperature, octane_index, requirement_map,
    residual_fraction, sensitivities,
};
use toml::{Table, Value};

knock_tests!(octane_index_keeps_its_promises, OctaneIndex);
knock_tests!(end_gas_keeps_its_promises, EndGas::REFERENCE);
knock_tests!(slopes_keep_their_promises, DeclaredSlopes::RUSS);
knock_tests!(weather_slopes_keep_their_promises, DeclaredSlopes::WEATHER);
knock_tests!(own_slopes_keep_their_promises, DeclaredSlopes::own(Slopes::RUSS));

fn fixture() -> Table {
    let path = format!("{}/../fixtures/knock/cycles.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")).parse().unwrap()
}

fn tables<'a>(table: &'a Table, key: &str) -> Vec<&'a Table> {
    table[key].as_array().unwrap().iter().map(|c| c.as_table().unwrap()).collect()
}

fn number(table: &Table, key: &str) -> f64 {
    table[key].as_float().unwrap()
}

fn pairs(value: &Value) -> Vec<[f64; 2]> {
    let pair = |v: &Value| {
        let v = v.as_array().unwrap();
        [v[0].as_float().unwrap(), v[1].as_float().unwrap()]
    };
    value.as_array().unwrap().iter().map(pair).collect()
}

fn state(v: &[f64]) -> CycleState {
    CycleState::new([v[0], v[1], v[2]], v[3], v[4], [v[5], v[6], v[7]], [v[8], v[9]], v[10])
}

fn cases() -> Vec<(CycleState, Table)> {
    let table = fixture();
    let input =
        |t: &Table| t["input"].as_array().unwrap().iter().map(|v| v.as_float().unwrap()).collect::<Vec<_>>();
    tables(&table, "cycle").into_iter().map(|t| (state(&input(t)), t.clone())).collect()
}

/// Form of the correlation: Douaud and Eyzat, SAE 780080; times in ms from the printed constants.
#[test]
fn induction_times() {
    let printed = [
        (100.0, 1.01325, 800.0, 2_043.530_150_440_677_7),
        (95.0, 40.0, 800.0, 3.317_515_882_834_042),
        (95.0, 60.0, 850.0, 1.259_246_877_908_388_5),
        (98.0, 60.0, 850.0, 1.399_736_498_468_063),
        (91.0, 50.0, 825.0, 1.698_231_982_489_270_4),
        (102.0, 80.0, 900.0, 0.767_172_665_960_578_6),
        (100.0, 30.0, 750.0, 8.841_373_626_092_48),
    ];
    for (octane, bar, kelvin, ms) in printed {
        assert_relative_eq!(induction_time(octane, bar * 1e5, kelvin) * 1e3, ms, max_relative = 1e-9);
    }
}

/// Livengood and Wu's integral on a prescribed pressure p = 20 + 40 t/3 bar over 3 ms, Tu = 700 (p/20)^(0.32/1.32);
/// reference values from a quadrature outside this project's code. Here: Simpson's rule with 3000 intervals.
#[test]
fn livengood_wu_separates_the_octane_number() {
    let integral = |octane: f64| {
        let rate = |ms: f64| {
            let bar = 20.0 + 40.0 * ms / 3.0;
            1e-3 / induction_time(octane, bar * 1e5, 700.0 * libm::pow(bar / 20.0, 0.32 / 1.32))
        };
        let (n, h) = (3000_i32, 1e-3);
        (0..n)
            .map(|i| f64::from(i) * h)
            .fold(0.0, |sum, t| sum + h / 6.0 * (rate(t) + 4.0 * rate(t + 0.5 * h) + rate(t + h)))
    };
    for (octane, expected) in [
        (91.0, 1.475_636_642_903_756),
        (95.0, 1.274_742_726_258_317_3),
        (98.0, 1.146_798_558_110_070_6),
        (102.0, 1.000_876_433_197_850_8),
        (100.0, 1.070_627_138_382_743_5),
    ] {
        assert_relative_eq!(integral(octane), expected, max_relative = 1e-9);
        assert_relative_eq!(
            integral(octane),
            integral(100.0) / integral_at_onset(octane),
            max_relative = 1e-12
        );
    }
    assert_relative_eq!(required_octane(integral(100.0)), 102.026_269_412_204_43, max_relative = 1e-9);
}

/// Both reference cycles against scipy's DOP853 at 1e-12 (fixture): octane numbers to 1e-6, integral to 1e-6.
#[test]
fn cycles_agree_with_a_second_integration() {
    for (at, t) in cases() {
        let cycle = Cycle::new(&at, &Choices::REFERENCE).unwrap();
        let s = cycle.summary().unwrap();
        let close = |what: &str, got: f64, within: f64| {
            let expected = number(&t, what);
            println!("{what}: {got} ({:.2e} relative)", got / expected - 1.0);
            assert!((got / expected - 1.0).abs() < within, "{what}: {got}, expected {expected}");
        };
        close("volume_ivc", cycle.volume(at.ivc_angle), 1e-12);
        close("volume_30", cycle.volume(30.0), 1e-12);
        close("mass", cycle.mass(), 1e-12);
        close("heat", cycle.heat(), 1e-12);
        close("limit_angle", s.limit_angle, 1e-12);
        close("integral_100", s.integral_100, 1e-6);
        close("pressure_at_top", s.pressure_at_top, 1e-6);
        close("peak_pressure", s.peak_pressure, 1e-6);
        close("peak_angle", s.peak_angle, 1e-6);
        close("unburned_at_peak", s.unburned_at_peak, 1e-6);
        close("unburned_at_limit", s.unburned_at_limit, 1e-6);
        close("work_per_volume", s.work_per_volume, 1e-6);
        close("wall_heat", s.wall_heat, 1e-6);
        let miss = s.required_octane - number(&t, "required_octane");
        println!("required octane {} differs by {miss:.2e}", s.required_octane);
        assert!(miss.abs() < 1e-6, "{miss}");
        assert!((cycle.required_octane().unwrap() - s.required_octane).abs() < 1e-9);
        for [octane, angle] in pairs(&t["onset"]) {
            let got = cycle.onset(octane).unwrap().unwrap();
            assert!((got - angle).abs() < 1e-5, "onset at {octane}: {got}, expected {angle}");
        }
        for [octane, retard] in pairs(&t["retard"]) {
            let got = -advance_left(&at, &Choices::REFERENCE, octane).unwrap().unwrap();
            println!("retard to {octane}: {got} ({:.2e})", got - retard);
            assert!((got - retard).abs() < 1e-5, "retard to {octane}: {got}, expected {retard}");
        }
        println!("energy imbalance {:.2e}", s.energy_imbalance);
        assert!(s.energy_imbalance.abs() < 1e-3);
    }
}

#[test]
fn halving_the_step_hardly_moves_the_answer() {
    for (at, _) in cases() {
        let octane = |step: f64| {
            let mut c = Choices::REFERENCE;
            c.step = step;
            Cycle::new(&at, &c).unwrap().required_octane().unwrap()
        };
        let moved = octane(0.5) - octane(0.25);
        println!("halving the step moves the requirement by {moved:.2e}");
        assert!(moved.abs() < 1e-4, "{moved}");
        assert!((octane(1.0) - octane(0.5)).abs() < 1e-4);
    }
}

/// Forward differences against the second integration.
#[test]
fn sensitivities_agree_with_a_second_integration() {
    for (at, t) in cases() {
        let s = sensitivities(&at, &Choices::REFERENCE).unwrap();
        let t = t["sensitivity"].as_table().unwrap();
        for (key, got) in [
            ("spark_1_degree", s.spark_1_degree),
            ("temperature_10_k", s.temperature_10_k),
            ("pressure_10_kpa", s.pressure_10_kpa),
            ("pressure_3_percent", s.pressure_3_percent),
            ("compression_ratio_1", s.compression_ratio_1),
            ("speed_1000", s.speed_1000),
            ("residuals_3_percent", s.residuals_3_percent),
            ("burn_limit_5_percent", s.burn_limit_5_percent),
            ("unburned_gamma_1_percent", s.unburned_gamma_1_percent),
            ("heat_transfer_50_percent", s.heat_transfer_50_percent),
        ] {
            assert!((got - number(t, key)).abs() < 5e-6, "{key}: {got}, expected {}", number(t, key));
        }
    }
}

/// Against the guideline of Russ, SAE 960497: spark and boost of the boosted case within a factor of two.
#[test]
fn slopes_have_the_size_of_the_published_ones() {
    for (at, _) in cases() {
        let s = sensitivities(&at, &Choices::REFERENCE).unwrap();
        for (what, model, published) in [
            ("spark, 1 degree", s.spark_1_degree, 1.0),
            ("temperature, 10 K", s.temperature_10_k, 10.0 / 7.0),
            ("pressure, 10 kPa", s.pressure_10_kpa, 3.5),
            ("compression ratio, 1", s.compression_ratio_1, 5.0),
        ] {
            let ratio = model / published;
            println!("{what}: model {model:.2}, published {published:.2}, ratio {ratio:.2}");
            assert!((0.5..2.0).contains(&ratio), "{what}: {ratio}");
        }
    }
}

/// Octane-rating engine at the compression ratios of the guide table for the research method (ASTM D2699-15a, from a
/// public copy, to be checked against the standard).
///
/// A regression test and a warning, not a proof: the burn limit 0.70 was chosen after seeing where the onsets fall,
/// so the *level* is fitted. With the usual limit of 0.85 the requirement comes out 12 to 16 octane numbers too high.
/// What is tested independently is the onset angle (measured knock point 12.0 degrees for PRF98, 11.03 ± 0.97 for
/// PRF100) and the slope of requirement over octane number.
#[test]
fn octane_rating_engine() {
    let table = fixture();
    for t in tables(&table, "rating_engine") {
        let octane = number(t, "octane");
        let mut at = state(&[
            0.08255,
            0.1143,
            0.254,
            number(t, "ratio"),
            600.0,
            1.01e5,
            400.0,
            -152.0,
            -10.0,
            36.3254,
            13.44,
        ]);
        at.residual_fraction = 0.06;
        let mut c = Choices::REFERENCE;
        (c.lower_heating_value, c.combustion_efficiency, c.wall_temperature, c.heat_factor) =
            (44.3e6, 0.9, 430.0, 1.5);
        let usual = Cycle::new(&at, &c).unwrap();
        c.burn_limit = 0.7;
        let low = Cycle::new(&at, &c).unwrap();
        let onset = low.onset(octane).unwrap().unwrap();
        let required = low.required_octane().unwrap();
        println!("PRF{octane}: onset {onset:.3}, burned {:.3}, required {required:.3}", low.burned(onset));
        assert!((onset - number(t, "onset")).abs() < 1e-5);
        assert!((low.burned(onset) - number(t, "burned")).abs() < 1e-6);
        assert!((required - number(t, "required_at_70")).abs() < 1e-5);
        assert!((usual.required_octane().unwrap() - number(t, "required_at_85")).abs() < 1e-5);
        assert!((required - octane).abs() < 4.0);
        let measured = match octane {
            98.0 => Some(12.0),
            100.0 => Some(11.03),
            _ => None,
        };
        assert!(measured.is_none_or(|m| (onset - m).abs() < 1.5));
    }
}

fn pump(ron: f64, mon: f64) -> Fuel {
    Fuel::new(Some(Span::new(ron, 0.25)), Some(Span::new(mon, 0.32)))
}

fn boosted() -> CycleState {
    cases()[1].0
}

fn anchored() -> KnockPoint {
    let mut point = KnockPoint::unknown();
    point.k = Some(K_BOOSTED_DIRECT);
    point.cycle = Some(boosted());
    point.anchor = Some(Anchor::new(boosted(), Span::new(97.0, 2.0)));
    point
}

#[test]
fn at_its_anchor_the_borderline_fuel_has_no_margin() {
    let m = EndGas::REFERENCE.margin(&pump(95.0, 85.0), &anchored()).unwrap();
    assert!(m.anchored);
    assert!(m.octane.value.abs() < 1e-9, "{m:?}");
    assert_eq!(m.requirement_change, Some(Span::new(0.0, 0.0)));
    assert!(m.spark_degrees.unwrap().abs() < 1e-6, "{m:?}");
    // 2 ON of the anchor, 3 ON of K times sensitivity 10, 0.3 of the fuel
    assert!((m.octane.uncertainty - 3.62).abs() < 0.01, "{m:?}");
}

#[test]
fn more_boost_and_heat_cost_margin_and_the_spark_pays_for_it() {
    let mut point = anchored();
    let mut hot = boosted();
    hot.ivc_pressure += 1.0e4;
    hot.ivc_temperature += 5.0;
    point.cycle = Some(hot);
    let m = EndGas::REFERENCE.margin(&pump(95.0, 85.0), &point).unwrap();
    assert!(m.octane.value < -3.0 && m.octane.value > -4.0, "{m:?}");
    let spark = m.spark_degrees.unwrap();
    assert!(spark < -1.5 && spark > -2.6, "{m:?}");
    // the retarded cycle needs exactly what the fuel has
    hot.burn_start -= spark;
    point.cycle = Some(hot);
    let m = EndGas::REFERENCE.margin(&pump(95.0, 85.0), &point).unwrap();
    assert!(m.octane.value.abs() < 1e-6, "{m:?}");
}

#[test]
fn without_an_anchor_the_answer_is_wide_and_says_so() {
    let mut point = anchored();
    point.anchor = None;
    let m = EndGas::REFERENCE.margin(&pump(95.0, 85.0), &point).unwrap();
    assert!(!m.anchored && m.octane.uncertainty > 8.0);
    assert!(m.notices.iter().any(|n| n.to_string().contains("not anchored")));
}

#[test]
fn a_margin_always_defers_to_a_measurement() {
    for model in KNOCK_MODELS {
        let (fuel, point) = model.card().example;
        let m = model.margin(&fuel, &point).unwrap();
        let said = |n: &Notice| n.to_string().contains("never replaces a knock measurement");
        assert!(m.notices.iter().any(said), "{}", model.card().id);
    }
}

#[test]
fn impossible_cycles_are_refused_with_value_unit_and_range() {
    let refused = |change: fn(&mut CycleState)| {
        let mut point = anchored();
        let mut at = boosted();
        change(&mut at);
        point.cycle = Some(at);
        EndGas::REFERENCE.margin(&pump(95.0, 85.0), &point).unwrap_err().to_string()
    };
    insta::assert_snapshot!(refused(|c| c.speed_rpm = -4000.0), @"engine speed is -4000 1/min, outside 100 to 20000 1/min (fairpull, range of road-going spark-ignition engines)");
    insta::assert_snapshot!(refused(|c| c.ivc_pressure = 220.0), @"pressure at intake valve closing is 220 Pa absolute, outside 20000 to 800000 Pa absolute (fairpull, range of road-going spark-ignition engines)");
    insta::assert_snapshot!(refused(|c| c.compression_ratio = f64::NAN), @"compression ratio is NaN, outside 3 to 25 (fairpull, range of road-going spark-ignition engines)");
    let no_mon = Fuel::new(Some(Span::new(96.0, 0.25)), None);
    let got = EndGas::REFERENCE.margin(&no_mon, &anchored()).unwrap_err();
    assert!(matches!(got, Refusal::Missing { what: "motor octane number MON", .. }));
}

/// Octane index, Kalghatgi: K = 0.5 gives the antiknock index, K = 0 the research number.
#[test]
fn octane_index_values() {
    for (ron, mon, k, expected) in [
        (95.0, 85.0, 0.5, 90.0),
        (95.0, 85.0, 0.0, 95.0),
        (95.0, 85.0, -0.2, 97.0),
        (98.0, 88.0, -0.3, 101.0),
        (102.0, 88.0, -0.4, 107.6),
        (100.0, 88.0, 0.2, 97.6),
    ] {
        let got = octane_index(&pump(ron, mon), Some(Span::new(k, 0.0))).unwrap();
        assert_relative_eq!(got.value, expected, max_relative = 1e-12);
    }
    let wide = octane_index(&pump(95.0, 85.0), Some(Span::new(-0.2, 0.3))).unwrap();
    assert!((wide.uncertainty - 3.015).abs() < 0.01, "{wide:?}");
}

#[test]
fn octane_index_against_a_requirement() {
    let mut point = KnockPoint::unknown();
    point.k = Some(Span::new(-0.2, 0.3));
    point.requirement = Some(Span::new(94.0, 2.0));
    let m = OctaneIndex.margin(&pump(95.0, 85.0), &point).unwrap();
    assert_relative_eq!(m.octane.value, 3.0, max_relative = 1e-12);
    assert!(m.anchored && m.requirement == 94.0);
    point.requirement = None;
    assert!(matches!(OctaneIndex.margin(&pump(95.0, 85.0), &point), Err(Refusal::Missing { .. })));
}

/// Russ, SAE 960497 (abstract): each printed rule gives one octane number.
#[test]
fn each_rule_of_russ() {
    let rule = |change: &dyn Fn(&mut Changes)| {
        let mut changes = Changes::NONE;
        change(&mut changes);
        Slopes::RUSS.change(&changes, fairpull_fuels::RUSS).unwrap().value
    };
    assert_relative_eq!(rule(&|c| c.spark_advance = 1.0), 1.0, max_relative = 1e-12);
    assert_relative_eq!(rule(&|c| c.intake_temperature = 7.0), 1.0, max_relative = 1e-12);
    assert_relative_eq!(rule(&|c| c.intake_pressure = 10.0), 3.5, max_relative = 1e-12);
    assert_relative_eq!(rule(&|c| c.compression_ratio = 1.0), 5.0, max_relative = 1e-12);
    assert_relative_eq!(rule(&|c| c.exhaust_pressure = 30.0), 1.0, max_relative = 1e-12);
    assert_relative_eq!(rule(&|c| c.coolant_temperature = 10.0), 1.0, max_relative = 1e-12);
    // one air-fuel ratio richer than the worst mixture relieves by 2 ON
    let worst = 1.0 / 1.05;
    let richer = worst - 1.0 / 14.574_906_546_326_279;
    assert_relative_eq!(rule(&|c| c.lambda = Some([worst, richer])), -2.0, max_relative = 1e-9);
}

#[test]
fn a_change_without_a_slope_is_refused_by_name() {
    let mut point = KnockPoint::unknown();
    point.k = Some(Span::new(0.0, 0.25));
    point.requirement = Some(Span::new(96.0, 2.0));
    point.changes.humidity = 5.0;
    let got = DeclaredSlopes::RUSS.margin(&pump(98.0, 88.0), &point).unwrap_err();
    insta::assert_snapshot!(got.to_string(), @"change of humidity is missing: this set has no slope for it: give your own slope with its uncertainty (Russ, SAE 960497 (1996), abstract: test-engine guideline)");
}

#[test]
fn a_shop_writes_its_own_slopes() {
    let text = "[spark_per_degree]\nvalue = 1.2\nuncertainty = 0.2\n[humidity_per_g_kg]\nvalue = -0.3\nuncertainty = 0.1\n";
    let own = DeclaredSlopes::own(toml::from_str(text).unwrap());
    let mut point = KnockPoint::unknown();
    point.k = Some(Span::new(0.0, 0.0));
    point.requirement = Some(Span::new(96.0, 2.0));
    point.changes.spark_advance = 1.0;
    point.changes.humidity = 2.0;
    let m = own.margin(&pump(98.0, 88.0), &point).unwrap();
    assert_relative_eq!(m.octane.value, 98.0 - (96.0 + 1.2 - 0.6), max_relative = 1e-12);
    assert_relative_eq!(m.spark_degrees.unwrap(), 1.4 / 1.2, max_relative = 1e-12);
    assert!(toml::from_str::<Slopes>("[sparks]\nvalue = 1.0\nuncertainty = 0.1\n").is_err());
}

/// Formula of Fox, Cheng and Heywood, SAE 931025 (from memory), worked by hand at p_i = p_e = 1 bar: 0.632/10.
#[test]
fn residuals_and_mixed_temperature() {
    let bar = fairpull_core::AbsolutePressure::from_kilopascals(100.0);
    assert_relative_eq!(
        residual_fraction(bar, bar, 3000.0, 1.0, 1.0, 10.0).unwrap(),
        0.0632,
        max_relative = 1e-12
    );
    let kelvin = fairpull_core::Temperature::from_kelvin;
    let t = mixed_temperature(kelvin(330.0), kelvin(1100.0), 0.05).unwrap();
    assert_relative_eq!(t.kelvin(), 368.5, max_relative = 1e-12);
    assert!(residual_fraction(bar, bar, -3000.0, 1.0, 1.0, 10.0).is_err());
}

#[test]
fn a_map_is_the_single_points() {
    let starts = [-6.0, -2.0, 2.0];
    let pressures = [2.0e5, 2.2e5];
    let mut out = [0.0; 6];
    requirement_map(&boosted(), &Choices::REFERENCE, &starts, &pressures, &mut out).unwrap();
    let mut at = boosted();
    at.burn_start = 2.0;
    let single = Cycle::new(&at, &Choices::REFERENCE).unwrap().required_octane().unwrap();
    assert_eq!(out[5], single);
    assert!(out[0] > out[1] && out[1] > out[2] && out[3] > out[0]);
    assert!(requirement_map(&boosted(), &Choices::REFERENCE, &starts, &pressures, &mut [0.0; 5]).is_err());
    // at the knock-limited start of its row a cycle requires exactly the fuel's octane number
    let mut limits = [None; 2];
    knock_limited_starts(&boosted(), &Choices::REFERENCE, 97.0, &pressures, &mut limits).unwrap();
    at.ivc_pressure = pressures[0];
    at.burn_start = limits[0].unwrap();
    let there = Cycle::new(&at, &Choices::REFERENCE).unwrap().required_octane().unwrap();
    assert!((there - 97.0).abs() < 1e-6, "{there}");
    assert!(limits[1] > limits[0]);
}

const QUESTION: &str = r#"
fuels = ["en-228-95", "national-98", "jis-k-2202-1", "premium-102", "85% ethanol + 15% en-228-95", "no such fuel"]
k = { value = -0.2, uncertainty = 0.3 }
[cycle]
bore_mm = 82.5
stroke_mm = 92.8
rod_mm = 144.0
compression_ratio = 9.6
engine_speed_rpm = 4000.0
ivc_gauge_kpa = 131.5
barometer_kpa = 98.5
ivc_temperature_c = 96.85
ivc_angle_deg = -140.0
burn_start_deg = -2.0
burn_duration_deg = 50.0
air_fuel_ratio = 12.5
[anchor]
fuel = "national-98"
uncertainty = 2.0
cycle = { bore_mm = 82.5, stroke_mm = 92.8, rod_mm = 144.0, compression_ratio = 9.6, engine_speed_rpm = 4000.0, ivc_pressure_kpa = 220.0, ivc_temperature_c = 96.85, ivc_angle_deg = -140.0, burn_start_deg = -2.0, burn_duration_deg = 50.0, air_fuel_ratio = 12.5 }
"#;

/// 10 kPa more than at the borderline point on 98: about 2.2 octane numbers short on 98 and 5.2 on 95.
#[test]
fn a_question_is_answered_fuel_by_fuel() {
    let input: KnockInput = toml::from_str(QUESTION).unwrap();
    let report = knock(&input, KNOCK_MODELS).unwrap();
    for f in &report.fuels {
        println!("{}", f.words);
    }
    let margin = |i: usize| report.fuels[i].margin_on.unwrap();
    assert!((margin(1).value + 2.25).abs() < 0.1, "{:?}", margin(1));
    assert!((margin(0).value - margin(1).value + 3.0).abs() < 1e-9);
    // on the fuel of the anchor K cancels: what is left is the borderline point itself
    assert!(margin(1).uncertainty < 2.2, "{:?}", margin(1));
    assert!(report.fuels[1].spark_deg.unwrap() < -1.0);
    let start = report.fuels[1].knock_limited_start_deg.unwrap();
    assert!((start + 2.0 + report.fuels[1].spark_deg.unwrap()).abs() < 1e-12);
    assert_eq!(report.fuels[0].verdict, Some(Verdict::KnockExpected));
    assert_eq!(report.fuels[1].verdict, Some(Verdict::Undecided));
    // no MON in the standard: refused by name, and the other fuels keep their answers
    assert!(report.fuels[2].refused.as_ref().unwrap().contains("MON is missing"));
    assert!(report.fuels[5].refused.as_ref().unwrap().contains("did you mean"));
    assert_eq!(report.fuels[4].verdict, Some(Verdict::MarginExpected));
    assert!(report.caution.contains("never replaces a knock measurement"));
}

#[test]
fn questions_that_cannot_be_asked() {
    let said = |text: &str| knock(&toml::from_str(text).unwrap(), KNOCK_MODELS).unwrap_err().to_string();
    insta::assert_snapshot!(said(""), @"no fuel is given: list at least one grade or octane number");
    insta::assert_snapshot!(said("model = \"magic\"\nfuels = [\"AKI 93\"]\n"), @r#"no knock model has the id "magic"; there are octane-index, end-gas-autoignition, declared-slopes, declared-slopes-weather, declared-slopes-own with slopes"#);
    let gauge = QUESTION.replace("barometer_kpa = 98.5\n", "");
    insta::assert_snapshot!(said(&gauge), @"cycle: pressure at intake valve closing is missing: it is given as gauge: give barometer_kpa (station pressure, kPa absolute) too (fairpull, gauge pressure counts from the barometer of the moment)");
    assert!(toml::from_str::<KnockInput>("boost = 1.2\n").is_err());
    let own = "model = \"declared-slopes-own\"\nfuels = [\"RON 98 MON 88\"]\nk = { value = 0.0, uncertainty = 0.2 }\n\
               requirement = { value = 96.0, uncertainty = 1.0 }\nchanges = { spark_advance_deg = 1.0 }\n\
               [slopes.spark_per_degree]\nvalue = 1.2\nuncertainty = 0.2\n";
    let report = knock(&toml::from_str(own).unwrap(), KNOCK_MODELS).unwrap();
    assert!((report.fuels[0].margin_on.unwrap().value - 0.8).abs() < 1e-12);
}
