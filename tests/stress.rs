//! Stress figures against worked values, reference libraries and impossible input.
//!
//! Where no other source stands beside a check, its expected value is the formula evaluated in 64-bit floats outside
//! this project's code.
#![allow(clippy::panic, clippy::unwrap_used)]

mod stressing;

use approx::assert_relative_eq;
use fairpull_core::{AbsolutePressure, GaugePressure, Refusal, Temperature};
use fairpull_stress::turbine::{self, Balance};
use fairpull_stress::{
    AbsoluteReading, CoolerPoint, FLOW_EXPONENT, Figure, Injectors, PressureGiven, StressInput,
    air_by_speed_density, air_from_fuel, bmep_from_power, bmep_from_torque, brake_efficiency, changes,
    charge_density, compressor, cooler, corrected_flow, fuel_from_power, injector_load, mean_piston_speed,
    power_to_limit, specific_power, stress, volumetric_efficiency,
};
use stressing::{CLOSE, exact, kelvin, libraries, number, pascals, tables};

fn close(got: Figure, expected: f64) {
    assert_relative_eq!(got.value, expected, max_relative = CLOSE);
    assert_eq!(got.uncertainty, 0.0);
}

#[test]
fn mean_effective_pressure_and_piston_speed() {
    close(bmep_from_torque(exact(400.0), exact(1.984e-3)).unwrap().scaled(1e-5), 25.335_424_625_724_14);
    close(bmep_from_torque(exact(200.0), exact(1.998e-3)).unwrap().scaled(1e-5), 12.578_949_563_923_095);
    close(bmep_from_torque(exact(500.0), exact(2.894e-3)).unwrap().scaled(1e-5), 21.711_075_698_616_398);
    let by_power = bmep_from_power(exact(250e3), exact(6500.0), exact(1.984e-3)).unwrap();
    close(by_power.scaled(1e-5), 23.263_027_295_285_355);
    close(mean_piston_speed(exact(0.086), exact(7000.0)).unwrap(), 20.066_666_666_666_666);
    close(mean_piston_speed(exact(0.0928), exact(6500.0)).unwrap(), 20.106_666_666_666_666);
    close(mean_piston_speed(exact(0.0774), exact(9000.0)).unwrap(), 23.22);
    close(specific_power(exact(250e3), exact(1.984e-3)).unwrap().scaled(1e-6), 250.0 / 1.984);
}

#[test]
fn air_and_fuel() {
    for (kw, bsfc, ratio, fuel, air) in [
        (250.0, 300.0, 12.5, 0.020_833_333_333_333_332, 0.260_416_666_666_666_63),
        (300.0, 320.0, 12.0, 0.026_666_666_666_666_67, 0.32),
        (110.0, 270.0, 14.1, 0.008_25, 0.116_325),
    ] {
        let m = fuel_from_power(exact(kw * 1e3), exact(bsfc)).unwrap();
        close(m, fuel);
        close(air_from_fuel(m, exact(1.0), exact(ratio)).unwrap(), air);
    }
    close(brake_efficiency(exact(300.0), exact(42.5e6)).unwrap(), 0.282_352_941_176_470_6);
    close(brake_efficiency(exact(250.0), exact(43.0e6)).unwrap(), 0.334_883_720_930_232_56);
    let air = exact(0.260_416_666_666_666_63);
    let ve = |p: f64, t: f64| {
        volumetric_efficiency(air, &pascals(p), &kelvin(t), exact(1.984e-3), exact(6500.0)).unwrap()
    };
    close(ve(101_325.0, 298.15), 2.046_778_044_674_606);
    close(ve(240e3, 318.15), 0.922_089_834_780_907_7);
    let back = air_by_speed_density(
        ve(240e3, 318.15),
        &pascals(240e3),
        &kelvin(318.15),
        exact(1.984e-3),
        exact(6500.0),
    );
    close(back.unwrap(), air.value);
    close(charge_density(&pascals(240e3), &kelvin(318.15)).unwrap(), 240e3 / (287.05 * 318.15));
}

#[test]
fn compressor_outlet() {
    for (ratio, eta, isentropic, t2) in [
        (1.5, 0.75, 334.770_053_713_377_1, 346.976_738_284_502_8),
        (2.0, 0.72, 363.448_921_001_064_3, 388.842_945_834_811_6),
        (2.5, 0.70, 387.375_329_820_995_4, 425.614_756_887_136_25),
        (3.0, 0.68, 408.089_266_495_372_3, 459.825_391_904_959_3),
    ] {
        let at = |e: f64| compressor::outlet_temperature(&kelvin(298.15), exact(ratio), exact(e)).unwrap();
        close(at(1.0), isentropic);
        close(at(eta), t2);
        close(compressor::efficiency(&kelvin(298.15), &kelvin(t2), exact(ratio)).unwrap(), eta);
    }
}

/// Cantera 3.2 (ideal gas, heat capacity of temperature) and CoolProp 8 (real gas): within 0.5 % of kelvin.
#[test]
fn compressor_outlet_against_the_libraries() {
    let table = libraries();
    let (mut worst, mut worst_work): (f64, f64) = (0.0, 0.0);
    for t in tables(&table, "compressor") {
        let inlet = kelvin(number(t, "t1"));
        let got =
            compressor::outlet_temperature(&inlet, exact(number(t, "ratio")), exact(number(t, "efficiency")))
                .unwrap();
        for key in ["cantera", "coolprop"] {
            worst = worst.max((got.value / number(t, key) - 1.0).abs());
        }
        let power = compressor::power(exact(1.0), &inlet, &kelvin(got.value)).unwrap();
        worst_work = worst_work.max((power.value / number(t, "work") - 1.0).abs());
    }
    println!(
        "outlet temperature within {:.3} %, specific work within {:.3} %",
        worst * 100.0,
        worst_work * 100.0
    );
    assert!(worst < 0.005 && worst_work < 0.005);
}

#[test]
fn charge_cooler() {
    let (hot, coolant) = (kelvin(388.0), kelvin(298.15));
    let cooled = cooler::cooled_temperature(&hot, &coolant, exact(0.75)).unwrap();
    close(cooled, 320.6125);
    let ratio = |p: f64, t: f64, pa: f64, ta: f64| {
        cooler::density_ratio(&pascals(p), &kelvin(t), &pascals(pa), &kelvin(ta)).unwrap()
    };
    close(ratio(1.92e5, cooled.value, 1e5, 298.15), 1.785_482_474_950_290_7);
    close(ratio(2.0e5, 388.0, 1e5, 298.15), 1.536_855_670_103_092_9);
    let better = cooler::cooled_temperature(&hot, &coolant, exact(0.9)).unwrap();
    close(better, 307.135);
    close(ratio(1.95e5, better.value, 1e5, 298.15), 1.892_954_238_364_237_3);
    let third = cooler::cooled_temperature(&kelvin(430.0), &kelvin(308.15), exact(0.7)).unwrap();
    close(third, 344.705);
    close(ratio(2.35e5, third.value, 98e3, 303.15), 2.108_879_553_620_087_5);
    close(cooler::effectiveness(&hot, &kelvin(cooled.value), &coolant).unwrap(), 0.75);
    close(cooler::pressure_drop(&pascals(2e5), &pascals(1.92e5)).unwrap(), 8e3);
    close(cooler::heat_rejected(exact(0.3), &hot, &kelvin(cooled.value)).unwrap(), 0.3 * 1005.0 * 67.3875);
}

fn cooler_point() -> CoolerPoint {
    let hot = compressor::outlet_temperature(&kelvin(298.15), exact(2.0), exact(0.72)).unwrap();
    assert!((hot.value - 388.84).abs() < 0.01);
    CoolerPoint {
        power: Figure::new(250e3, 2.5e3),
        inlet_pressure: pascals(1e5),
        inlet_temperature: kelvin(298.15),
        outlet_pressure: pascals(2e5),
        compressor_efficiency: Figure::new(0.72, 0.01),
        coolant: kelvin(298.15),
        effectiveness: Figure::new(0.75, 0.02),
        pressure_drop: Figure::new(8e3, 500.0),
        flow_exponent: FLOW_EXPONENT,
    }
}

/// With a limit equal to the charge temperature of the measured point the cooler carries exactly that power; with an
/// effectiveness that does not fall with flow the limit follows in closed form.
#[test]
fn power_that_the_cooler_still_carries() {
    let point = cooler_point();
    let here =
        cooler::cooled_temperature(&kelvin(388.842_945_834_811_6), &kelvin(298.15), exact(0.75)).unwrap();
    let same = power_to_limit(&point, &kelvin(here.value)).unwrap();
    assert_relative_eq!(same.power.value, 250e3, max_relative = 1e-6);
    assert_relative_eq!(same.pressure_ratio.value, 2.0, max_relative = 1e-6);
    let more = power_to_limit(&point, &kelvin(333.15)).unwrap();
    println!("60 °C charge limit: {:?} at pressure ratio {:?}", more.power, more.pressure_ratio);
    assert!(more.power.value > 260e3 && more.power.value < 400e3);
    assert!(more.power.uncertainty > 2.5e3);
    let constant = CoolerPoint { flow_exponent: exact(0.0), pressure_drop: exact(0.0), ..point };
    let got = power_to_limit(&constant, &kelvin(333.15)).unwrap();
    // T2 = (T3 − ε Tc)/(1 − ε); PR = (1 + η (T2/T1 − 1))^3.5; power goes with p3/T3
    let t2 = (333.15 - 0.75 * 298.15) / 0.25;
    let pr = libm::pow(1.0 + 0.72 * (t2 / 298.15 - 1.0), 3.5);
    assert_relative_eq!(got.pressure_ratio.value, pr, max_relative = 1e-9);
    assert_relative_eq!(got.power.value, 250e3 * (pr / 333.15) / (2.0 / here.value), max_relative = 1e-9);
    assert!(matches!(power_to_limit(&point, &kelvin(590.0)), Err(Refusal::NotApplicable { .. })));
    assert!(matches!(power_to_limit(&point, &kelvin(280.0)), Err(Refusal::OutOfRange(_))));
}

#[test]
fn corrected_flow_depends_on_the_reference_state() {
    let at = |w: f64, t: f64, p: f64, tr: f64, pr: f64| {
        corrected_flow(exact(w), &pascals(p), &kelvin(t), &pascals(pr), Temperature::from_kelvin(tr)).unwrap()
    };
    for (tr, pr, first, second) in [
        (298.15, 100e3, 0.326_530_612_244_898, 0.278_236_064_522_439_76),
        (288.15, 101_325.0, 0.336_549_236_713_566_4, 0.286_772_911_386_99),
        (302.6, 96.2e3, 0.311_804_170_439_762_4, 0.265_687_693_684_833_25),
        (293.15, 98.1e3, 0.323_046_743_598_042_86, 0.275_267_467_198_746_6),
    ] {
        close(at(0.32, 298.15, 98e3, tr, pr), first);
        assert_relative_eq!(at(0.26, 308.15, 95e3, tr, pr).value, second, max_relative = 1e-8);
    }
}

fn balance(ratio: f64, compressor: f64, turbine: f64, mechanical: f64, air_fuel: f64) -> Balance {
    Balance {
        pressure_ratio: exact(ratio),
        inlet: kelvin(298.15),
        compressor_efficiency: exact(compressor),
        exhaust: kelvin(1223.15),
        turbine_efficiency: exact(turbine),
        mechanical_efficiency: exact(mechanical),
        air_fuel_ratio: exact(air_fuel),
    }
}

#[test]
fn turbine_balance() {
    for (pr, c, t, m, afr, er, over) in [
        (2.0, 0.72, 0.65, 0.97, 12.5, 1.496_333_172_507_382_7, 0.824_510_115_463_251_7),
        (2.0, 0.72, 0.55, 0.95, 12.5, 1.634_920_825_507_810_1, 0.900_874_740_586_096_5),
        (2.5, 0.70, 0.65, 0.97, 12.5, 1.783_617_256_271_855_7, 0.786_247_606_846_369_1),
        (2.5, 0.70, 0.55, 0.95, 12.5, 2.032_684_487_574_632_4, 0.896_040_508_808_409_5),
        (3.0, 0.68, 0.60, 0.96, 12.0, 2.281_993_767_672_638_3, 0.838_283_424_859_336_5),
    ] {
        let got = turbine::expansion_from_balance(&balance(pr, c, t, m, afr)).unwrap();
        close(got, er);
        // 108 kPa behind the turbine, 98 kPa before the compressor
        let ratio = turbine::pressure_ratio(&pascals(got.value * 108e3), &pascals(pr * 98e3)).unwrap();
        assert_relative_eq!(ratio.value, over, max_relative = 1e-9);
    }
    let hopeless = turbine::expansion_from_balance(&balance(6.0, 0.4, 0.25, 0.6, 20.0));
    assert!(matches!(hopeless, Err(Refusal::NotApplicable { .. })), "{hopeless:?}");
}

#[test]
fn pumping() {
    let cost = |e: f64, i: f64| {
        let p = turbine::pumping_pressure(&pascals(e), &pascals(i));
        turbine::pumping_power(p, exact(1.984e-3), exact(6500.0)).unwrap()
    };
    close(cost(230e3, 220e3), 1_074.666_666_666_666_7);
    close(cost(330e3, 220e3), 11_821.333_333_333_333);
    close(
        turbine::pumping_power(exact(20e3), exact(1.984e-3), exact(6500.0)).unwrap(),
        2_149.333_333_333_333_3,
    );
}

#[test]
fn injectors() {
    let set = |count: f64, rated: f64| Injectors {
        count,
        rated_cm3_min: exact(rated),
        rated_drop_kpa: 300.0,
        rated_density: None,
    };
    let at = |set: &Injectors, fuel: f64, rho: f64, drop: f64| {
        injector_load(set, exact(fuel), exact(rho), &pascals(240e3 + drop), &pascals(240e3), exact(6500.0))
            .unwrap()
    };
    let fuel = 0.020_833_333_333_333_332;
    let four = at(&set(4.0, 550.0), fuel, 745.0, 300e3);
    close(four.duty, 0.762_660_158_633_313_2);
    close(four.pulse.scaled(1e3), 14.079_879_851_691_937);
    let higher = at(&set(4.0, 550.0), fuel, 745.0, 400e3);
    close(higher.flow_cm3_min, 635.085_296_108_588_3);
    close(higher.duty, 0.660_483_071_830_719);
    let six = at(&set(6.0, 1000.0), 400e3 * 320.0 / 3.6e9, 780.0, 400e3);
    close(six.duty, 0.394_769_414_830_513_37);
    // at 7000 1/min as the worked value has it
    assert_relative_eq!(six.duty.value * 120.0 / 7000.0 * 1e3, 6.767_475_682_808_801, max_relative = CLOSE);
    let dense = Injectors { rated_density: Some(684.0), ..set(4.0, 550.0) };
    let mass = at(&dense, fuel, 745.0, 300e3);
    assert_relative_eq!(mass.duty.value / four.duty.value, libm::sqrt(745.0 / 684.0), max_relative = 1e-12);
}

/// JCGM 100:2008: uncertainty of a product and of a difference.
#[test]
fn uncertainty_passes_through() {
    let p = AbsoluteReading::new(AbsolutePressure::from_kilopascals(300.0), 3.0).unwrap();
    let m = AbsoluteReading::new(AbsolutePressure::from_kilopascals(200.0), 2.0).unwrap();
    let ratio = turbine::pressure_ratio(&p, &m).unwrap();
    assert_relative_eq!(ratio.uncertainty, 1.5 * libm::sqrt(2.0) * 0.01, max_relative = 1e-3);
    let pumping = turbine::pumping_pressure(&p, &m);
    assert_relative_eq!(pumping.uncertainty, 1e3 * libm::sqrt(13.0), max_relative = 1e-12);
    let shared = Figure::new(3.0, 0.5).less(&Figure::new(2.0, 0.5), 1.0);
    assert_eq!((shared.value, shared.uncertainty), (1.0, 0.0));
}

#[test]
fn impossible_values_are_refused_with_value_unit_and_range() {
    let said = |r: Result<Figure, Refusal>| r.unwrap_err().to_string();
    insta::assert_snapshot!(said(cooler::effectiveness(&kelvin(388.0), &kelvin(290.0), &kelvin(298.15))), @"charge-cooler effectiveness is 1.090707, outside 0 to 1 (fairpull, what an engine under test can show)");
    insta::assert_snapshot!(said(compressor::pressure_ratio(&pascals(1e5), &pascals(9e4))), @"compressor pressure ratio, total over total is 0.9, outside 1 to 8 (fairpull, what an engine under test can show)");
    insta::assert_snapshot!(said(mean_piston_speed(exact(0.086), exact(-7000.0))), @"engine speed is -7000 1/min, outside 100 to 25000 1/min (fairpull, what an engine under test can show)");
    insta::assert_snapshot!(said(mean_piston_speed(exact(-0.086), exact(7000.0))), @"stroke is -0.086 m, outside 0.02 to 0.4 m (fairpull, what an engine under test can show)");
    let gauge = PressureGiven::gauge(120.0, 1.0).read("manifold pressure", None).unwrap_err();
    insta::assert_snapshot!(gauge.to_string(), @"manifold pressure is missing: it is a gauge pressure: give the barometer (station pressure, kPa absolute) too (fairpull, gauge pressure counts from the barometer of the moment)");
    assert!(compressor::efficiency(&kelvin(298.15), &kelvin(330.0), exact(2.0)).is_err());
    assert!(cooler::pressure_drop(&pascals(1.9e5), &pascals(2e5)).is_err());
    assert!(bmep_from_torque(exact(f64::NAN), exact(2e-3)).is_err());
    assert!(bmep_from_torque(Figure::new(400.0, f64::NAN), exact(2e-3)).is_err());
    assert!(turbine::expansion_ratio(&pascals(1e5), &pascals(2e5)).is_err());
    let mut both = PressureGiven::absolute(220.0, 0.0);
    both.gauge_kpa = Some(1.0);
    assert!(both.read("manifold pressure", Some(&pascals(1e5))).is_err());
}

#[test]
fn gauge_becomes_absolute_only_with_a_barometer() {
    let barometer = AbsoluteReading::new(AbsolutePressure::from_kilopascals(98.5), 0.3).unwrap();
    let got = AbsoluteReading::from_gauge(GaugePressure::from_kilopascals(120.0), 0.4, &barometer).unwrap();
    assert_relative_eq!(got.kilopascals().value, 218.5, max_relative = 1e-12);
    assert_relative_eq!(got.kilopascals().uncertainty, 0.5, max_relative = 1e-12);
}

const STATE: &str = r#"
charged = true
swept_volume_l = 1.984
stroke_mm = 92.8
engine_speed_rpm = 6500.0
intake_temperature_c = { value = 25.0, uncertainty = 0.5 }
compressor_outlet_temperature_c = { value = 140.0, uncertainty = 1.0 }
charge_temperature_c = { value = 47.0, uncertainty = 0.5 }
coolant_temperature_c = { value = 25.0, uncertainty = 0.5 }
charge_temperature_limit_c = 60.0
pre_turbine_temperature_c = { value = 920.0, uncertainty = 10.0 }
turbine_efficiency = { value = 0.65, uncertainty = 0.03 }
turbocharger_mechanical_efficiency = 0.96
consumption_g_kwh = { value = 310.0, uncertainty = 15.0 }
lambda = { value = 0.86, uncertainty = 0.01 }
stoichiometric_ratio = 14.57
fuel_density_kg_m3 = 745.0
injectors = 4.0
injector_rated_cm3_min = { value = 650.0, uncertainty = 10.0 }
injector_rated_drop_kpa = 300.0
power_kw = { value = 230.0, uncertainty = 2.3 }
[barometer]
absolute_kpa = 98.5
uncertainty_kpa = 0.1
[compressor_outlet]
gauge_kpa = 135.0
uncertainty_kpa = 1.0
[manifold]
gauge_kpa = 125.0
uncertainty_kpa = 1.0
[rail]
gauge_kpa = 500.0
uncertainty_kpa = 5.0
[post_turbine]
absolute_kpa = 118.0
uncertainty_kpa = 1.0
[pre_turbine]
absolute_kpa = 335.0
uncertainty_kpa = 2.0
"#;

#[test]
fn a_state_gives_every_figure_it_allows() {
    let input: StressInput = toml::from_str(STATE).unwrap();
    let report = stress(&input);
    assert!(report.refused.is_empty(), "{:?}", report.refused);
    for f in &report.figures {
        println!(
            "{:26} {:10.4} ± {:.4} {} {}",
            f.id,
            f.figure.value,
            f.figure.uncertainty,
            f.unit,
            f.remark.unwrap_or("")
        );
    }
    let ids: Vec<_> = report.figures.iter().map(|f| f.id).collect();
    assert_eq!(
        ids,
        [
            "pre-turbine",
            "pre-turbine-over-manifold",
            "pumping-pressure",
            "pumping-power",
            "expansion-ratio",
            "expansion-ratio-needed",
            "compressor-ratio",
            "compressor-efficiency",
            "cooler-effectiveness",
            "cooler-drop",
            "cooler-heat",
            "cooler-power",
            "charge-density",
            "density-ratio",
            "air-fuel",
            "fuel-flow",
            "volumetric-efficiency",
            "injector-duty",
            "injector-pulse",
            "bmep",
            "piston-speed",
            "specific-power",
        ]
    );
    let ratio = report.get("pre-turbine-over-manifold").unwrap();
    assert_relative_eq!(ratio.figure.value, 335.0 / 223.5, max_relative = 1e-12);
    assert!(ratio.remark.unwrap().contains("common"));
    assert!(report.caution.contains("local codes"));
    assert!(report.figures.iter().all(|f| f.figure.uncertainty >= 0.0 && f.figure.value.is_finite()));
}

#[test]
fn a_change_can_be_real_where_the_power_change_is_not() {
    let before: StressInput = toml::from_str(STATE).unwrap();
    let mut after = before.clone();
    after.power_kw = Some(Figure::new(231.0, 2.3));
    after.pre_turbine = Some(PressureGiven::absolute(265.0, 2.0));
    let list = changes(&stress(&before), &stress(&after), 0.0);
    let of = |id: &str| list.iter().find(|c| c.id == id).unwrap();
    insta::assert_snapshot!(of("pre-turbine").words, @"pre-turbine pressure down 70.000 ± 5.544 kPa absolute");
    insta::assert_snapshot!(of("specific-power").words, @"specific power: change not detectable (+0.504 ± 3.213 kW/L)");
    assert!(of("pre-turbine").detectable && !of("specific-power").detectable);
}

#[test]
fn impossible_channels_are_told_and_the_rest_is_kept() {
    let mut input: StressInput = toml::from_str(STATE).unwrap();
    input.barometer = None;
    input.charge_temperature_c = Some(Figure::exact(10.0));
    let report = stress(&input);
    let why = |id: &str| report.refused.iter().find(|r| r.id == id).unwrap().why.clone();
    assert!(why("pumping-pressure").contains("give the barometer"));
    assert!(why("cooler-effectiveness").contains("outside 0 to 1"));
    assert!(report.get("expansion-ratio").is_some() && report.get("bmep").is_some());
    assert!(toml::from_str::<StressInput>("power_ps = 300.0\n").is_err());
}

fn hostile() -> impl proptest::strategy::Strategy<Value = f64> {
    use proptest::prelude::*;
    prop_oneof![
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::NEG_INFINITY),
        Just(0.0),
        Just(1e300),
        Just(-1e300),
        Just(1e-300),
        -1000.0..1000.0,
        any::<f64>(),
    ]
}

proptest::proptest! {
    /// Whatever the channels hold: no panic, and every figure that is given is finite.
    #[test]
    fn hostile_channels_never_panic(x in proptest::collection::vec(hostile(), 12)) {
        let mut input: StressInput = toml::from_str(STATE).unwrap();
        let figure = |a: usize, b: usize| Some(Figure::new(x[a], x[b]));
        input.power_kw = figure(0, 1);
        input.engine_speed_rpm = figure(2, 3);
        input.charge_temperature_c = figure(4, 5);
        input.compressor_outlet_temperature_c = figure(6, 7);
        input.manifold = Some(PressureGiven::gauge(x[8], x[9]));
        input.pre_turbine = Some(PressureGiven::absolute(x[10], x[11]));
        for f in stress(&input).figures {
            proptest::prop_assert!(f.figure.value.is_finite() && (0.0..f64::MAX).contains(&f.figure.uncertainty), "{f:?}");
        }
    }
}
