//! Loss models against published tables and against the promises every loss model makes.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::{
    CoastDownForce, DrivePoint, Driveline, Element, EngineSpeed, Gearbox, Input, LossModel, Notice,
    PowerAtWheels, Refusal, RoadSpeed,
};
use fairpull_losses::{
    ALL, CoastDown, ConstantPlusShare, ElementEfficiencies, FixedPercentage, LightDutyGearbox, PriorBand,
    TorqueLossFallback, series_efficiency,
};
use toml::{Table, Value};

/// Relative agreement with values computed by other code in 64-bit floats.
const CLOSE: f64 = 1e-9;

fn fixture(name: &str) -> Table {
    let path = format!("{}/../fixtures/losses/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")).parse().unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_float().unwrap_or_else(|| value.as_str().unwrap().parse().unwrap())
}

fn cases(table: &Table) -> Vec<&Table> {
    table["case"].as_array().unwrap().iter().map(|c| c.as_table().unwrap()).collect()
}

/// Relative difference; `worst` keeps the largest, so that the test can print what it reached.
fn compare(worst: &mut f64, what: &str, got: f64, expected: f64, within: f64) {
    let off = ((got - expected) / expected).abs();
    assert!(off <= within, "{what}: got {got}, expected {expected}, relative difference {off:e}");
    *worst = worst.max(off);
}

/// Half a unit of the last printed digit, as a relative difference.
fn half_digit(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, d)| d.len());
    0.5 * libm::pow(10.0, -(decimals as f64)) / printed.parse::<f64>().unwrap() * (1.0 + 1e-9)
}

fn element(name: &str) -> Element {
    match name {
        "spur" => Element::SpurGear,
        "helical" => Element::HelicalGear,
        "bevel" => Element::BevelGear,
        "roller-chain" => Element::RollerChain,
        "silent-chain" => Element::SilentChain,
        "cogged-belt" => Element::CoggedBelt,
        "vee-belt" => Element::VeeBelt,
        "coupling" => Element::HydraulicCoupling,
        "converter" => Element::HydraulicConverter,
        other => panic!("unknown element {other}"),
    }
}

fn at(kmh: f64, rpm: f64) -> DrivePoint {
    DrivePoint::new(RoadSpeed::from_kilometres_per_hour(kmh), EngineSpeed::from_rpm(rpm))
}

#[test]
fn element_efficiencies_match_the_table() {
    let table = fixture("element-efficiencies");
    let mut worst = 0.0;
    for case in cases(&table) {
        let name = case["name"].as_str().unwrap();
        let chain: Vec<Element> =
            case["elements"].as_array().unwrap().iter().map(|e| element(e.as_str().unwrap())).collect();
        compare(&mut worst, name, series_efficiency(&chain).unwrap(), number(&case["efficiency"]), CLOSE);
        let mut driveline = Driveline::unknown();
        driveline.elements = &chain;
        let crank = ElementEfficiencies
            .to_crank(PowerAtWheels::from_watts(10_000.0), &DrivePoint::unknown(), &driveline)
            .unwrap();
        compare(&mut worst, name, crank.power.watts() / 10_000.0, number(&case["alpha_2"]), CLOSE);
    }
    assert_eq!(series_efficiency(&[]), Some(1.0), "power taken at the crankshaft");
    println!(
        "element efficiencies | {} | {} cases | worst {worst:e}",
        table["document"],
        cases(&table).len()
    );
}

#[test]
fn torque_loss_fallback_matches_the_table() {
    let table = fixture("eu-2017-2400");
    let mut worst = 0.0;
    for case in cases(&table) {
        let (t_in, rpm) = (number(&case["input_torque_nm"]), number(&case["engine_speed_rpm"]));
        let kinds = [
            ("tooth_direct", Gearbox::ToothClutch, true),
            ("tooth_indirect", Gearbox::ToothClutch, false),
            ("planetary_indirect", Gearbox::Planetary, false),
        ];
        for (key, gearbox, direct) in kinds {
            let row = case[key].as_array().unwrap();
            let (loss, efficiency) = (number(&row[0]), number(&row[1]));
            compare(&mut worst, key, 1.0 - loss / t_in, efficiency, CLOSE);
            let mut d = Driveline::unknown();
            d.gearbox = Some(gearbox);
            d.direct_gear = Some(direct);
            d.max_input_torque = Some(number(&table["max_input_torque_nm"]));
            let omega = EngineSpeed::from_rpm(rpm).radians_per_second();
            let out = PowerAtWheels::from_watts((t_in - loss) * omega);
            let crank = TorqueLossFallback.to_crank(out, &at(100.0, rpm), &d).unwrap();
            // the last digit of a coefficient is 1e-11 of the torque
            compare(&mut worst, key, crank.power.watts() / omega, t_in, 2e-13);
        }
    }
    println!("torque-loss fallback | {} | {} cases | worst {worst:e}", table["document"], 12);
}

#[test]
fn an_angle_drive_adds_four_points() {
    // (EU) 2017/2400 Annex VI Appendix 8: f_T,add = 0.04.
    let mut d = Driveline::unknown();
    (d.gearbox, d.direct_gear, d.max_input_torque) = (Some(Gearbox::ToothClutch), Some(true), Some(300.0));
    let wheel = PowerAtWheels::from_watts(50_000.0);
    let without = TorqueLossFallback.to_crank(wheel, &at(100.0, 3000.0), &d).unwrap().power.watts();
    d.angle_drive = true;
    let with = TorqueLossFallback.to_crank(wheel, &at(100.0, 3000.0), &d).unwrap().power.watts();
    approx::assert_relative_eq!(with / without, 0.99 / 0.95, max_relative = CLOSE);
}

#[test]
fn light_duty_gearbox_matches_the_table() {
    let table = fixture("ec-light-duty-gearbox");
    let mut worst = 0.0;
    for case in cases(&table) {
        let (t_in, rpm) = (number(&case["input_torque_nm"]), number(&case["engine_speed_rpm"]));
        let kinds = [
            ("tooth_warm", Gearbox::ToothClutch, true),
            ("tooth_cold", Gearbox::ToothClutch, false),
            ("converter_warm", Gearbox::Converter, true),
            ("converter_cold", Gearbox::Converter, false),
        ];
        for (key, gearbox, warm) in kinds {
            let mut d = Driveline::unknown();
            d.gearbox = Some(gearbox);
            d.warm = warm;
            d.max_input_torque = Some(number(&table["max_input_torque_nm"]));
            let omega = EngineSpeed::from_rpm(rpm).radians_per_second();
            // Two driven wheels: final drive 1.00; four: 0.98.
            for (wheels, axle) in [(2, 1.0), (4, 0.98)] {
                d.driven_wheels = Some(wheels);
                let out = PowerAtWheels::from_watts(t_in * omega * number(&case[key]) * axle);
                let crank = LightDutyGearbox.to_crank(out, &at(100.0, rpm), &d).unwrap();
                compare(&mut worst, key, crank.power.watts() / omega, t_in, CLOSE);
            }
        }
    }
    println!("light-duty gearbox | {} | {} cases | worst {worst:e}", table["document"], 32);
}

#[test]
fn coast_down_matches_the_worked_run() {
    let table = fixture("coast-down");
    let mut worst = 0.0;
    let v = RoadSpeed::from_kilometres_per_hour(number(&table["speed_kmh"])).metres_per_second();
    compare(&mut worst, "drag power", number(&table["drag_n"]) * v, number(&table["drag_w"]), CLOSE);
    for case in cases(&table) {
        let mut d = Driveline::unknown();
        d.coast_down =
            Some(CoastDownForce { a: number(&table["drag_n"]), b: 0.0, c: 0.0, covariance: [[0.0; 3]; 3] });
        d.accelerating = Some((number(&table["accelerating_w"]), 0.0));
        d.load_share = Some((1.0 - number(&case["efficiency"]), 0.0));
        let wheel = PowerAtWheels::from_watts(number(&table["wheel_w"]));
        let crank = CoastDown.to_crank(wheel, &at(number(&table["speed_kmh"]), 4000.0), &d).unwrap();
        compare(&mut worst, "crank power", crank.power.watts(), number(&case["crank_w"]), CLOSE);
        assert_eq!(crank.uncertainty, 0.0);
        assert_eq!(crank.notices.iter().count(), 0);
    }
    println!("coast-down | {} | {} cases | worst {worst:e}", table["document"], cases(&table).len());
}

#[test]
fn coast_down_uncertainty_follows_the_covariance() {
    // GUM, JCGM 100:2008, 5.1.2 and 5.2.2, by central differences on the same formula.
    let base = ([120.0, 2.0, 0.35], 2_500.0, 0.03);
    let cov = [[36.0, -1.1, 0.012], [-1.1, 0.09, -0.0016], [0.012, -0.0016, 0.00004]];
    let model = |(abc, acc, s): ([f64; 3], f64, f64)| {
        let mut d = Driveline::unknown();
        d.coast_down = Some(CoastDownForce { a: abc[0], b: abc[1], c: abc[2], covariance: cov });
        (d.accelerating, d.load_share) = (Some((acc, 80.0)), Some((s, 0.004)));
        CoastDown.to_crank(PowerAtWheels::from_watts(90_000.0), &at(108.0, 4000.0), &d).unwrap()
    };
    let slope = |step: &dyn Fn(f64) -> ([f64; 3], f64, f64)| {
        (model(step(1e-4)).power.watts() - model(step(-1e-4)).power.watts()) / 2e-4
    };
    let g: Vec<f64> = (0..3)
        .map(|i| {
            slope(&|h| {
                let mut b = base;
                b.0[i] += h;
                b
            })
        })
        .collect();
    let mut variance = 0.0;
    for i in 0..3 {
        for j in 0..3 {
            variance += g[i] * g[j] * cov[i][j];
        }
    }
    let square = |x: f64| x * x;
    variance += square(slope(&|h| (base.0, base.1 + h, base.2)) * 80.0);
    variance += square(slope(&|h| (base.0, base.1, base.2 + h)) * 0.004);
    approx::assert_relative_eq!(model(base).uncertainty, libm::sqrt(variance), max_relative = 1e-6);
}

#[test]
fn coast_down_says_what_it_assumes() {
    let mut d = Driveline::unknown();
    d.coast_down = Some(CoastDownForce { a: 500.0, b: 0.0, c: 0.0, covariance: [[0.0; 3]; 3] });
    let crank = CoastDown.to_crank(PowerAtWheels::from_watts(9e4), &at(100.0, 4000.0), &d).unwrap();
    let words: Vec<String> = crank.notices.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(words.join("\n"), @r"
    convention: the power that accelerates engine and driveline is not added: right for a steady run, low for a sweep
    load-proportional share assumed 0.025 (load-dependent mesh efficiency 0.96 to 0.99, common practice, no source)
    ");
}

#[test]
fn a_fixed_percentage_misleads_as_its_card_says() {
    let table = fixture("fixed-percentage");
    let mut d = Driveline::unknown();
    d.constant_drag = Some((number(&table["drag_kw"]) * 1e3, 0.0));
    d.load_share = Some((number(&table["share"]), 0.0));
    let here = DrivePoint::unknown();
    let mut worst = 0.0;
    for case in cases(&table) {
        let (engine, wheel) = (number(&case["engine_kw"]), number(&case["wheel_kw"]));
        let crank = ConstantPlusShare.to_crank(PowerAtWheels::from_kilowatts(wheel), &here, &d).unwrap();
        compare(&mut worst, "crank power", crank.power.kilowatts(), engine, CLOSE);
        let percent = (1.0 - wheel / engine) * 100.0;
        let printed = case["loss_percent"].as_str().unwrap();
        compare(&mut 0.0, "loss", percent, printed.parse().unwrap(), half_digit(printed));
    }
    let habit = |wheel: f64| {
        let mut d = Driveline::unknown();
        d.load_share = Some((1.0 - 1.0 / number(&table["factor_on_110"]), 0.0));
        FixedPercentage.to_crank(PowerAtWheels::from_kilowatts(wheel), &here, &d).unwrap()
    };
    let printed = table["claimed_for_150_w"].as_str().unwrap();
    let stronger = habit(136.0);
    compare(&mut 0.0, "claim", stronger.power.watts(), printed.parse().unwrap(), half_digit(printed));
    let printed = table["claimed_gain_kw"].as_str().unwrap();
    let gain = stronger.power.kilowatts() - habit(97.20).power.kilowatts();
    compare(&mut 0.0, "gain", gain, printed.parse().unwrap(), half_digit(printed));
    // The interval must hold the truth, 150 kW.
    assert!((stronger.power.watts() - 150_000.0).abs() < 1.96 * stronger.uncertainty);
    assert!(
        FixedPercentage.card().habit
            && stronger.notices.iter().any(|n| matches!(n, Notice::Convention { .. }))
    );
    println!("constant plus share | {} | {} cases | worst {worst:e}", table["document"], cases(&table).len());
}

/// Standard uncertainties by hand from what docs/losses.md states for each model.
#[test]
fn uncertainties_are_the_stated_ones() {
    let root3 = libm::sqrt(3.0);
    let wheel = PowerAtWheels::from_kilowatts(100.0);
    let lost = |a: &fairpull_core::AtCrank| a.power.watts() - 100e3;
    let near = |got: f64, meant: f64| approx::assert_relative_eq!(got, meant, max_relative = 1e-12);
    // half of the loss, rectangular
    let (at, line) = &ElementEfficiencies.card().example;
    let a = ElementEfficiencies.to_crank(wheel, at, line).unwrap();
    near(a.uncertainty, 0.5 * lost(&a) / root3);
    let (at, line) = &LightDutyGearbox.card().example;
    let a = LightDutyGearbox.to_crank(wheel, at, line).unwrap();
    near(a.uncertainty, 0.5 * lost(&a) / root3);
    // the whole of the loss, rectangular
    let (at, line) = &TorqueLossFallback.card().example;
    let a = TorqueLossFallback.to_crank(wheel, at, line).unwrap();
    near(a.uncertainty, lost(&a) / root3);
    // half of the loss, or what the claim's own uncertainty gives where that is more: P s_u / (1 - s)
    let habit = |u: f64| {
        let mut d = Driveline::unknown();
        d.load_share = Some((0.2, u));
        FixedPercentage.to_crank(wheel, &DrivePoint::unknown(), &d).unwrap().uncertainty
    };
    near(habit(0.0), 12_500.0);
    near(habit(0.05), 12_500.0);
    near(habit(0.16), 25_000.0);
}

/// Each range that the models state, from both sides of both ends.
#[test]
fn the_stated_ranges_are_held() {
    let fallback = |rpm: f64, torque: f64| {
        let (at, mut line) = TorqueLossFallback.card().example;
        line.max_input_torque = Some(torque);
        let at = DrivePoint::new(
            at.road_speed.unwrap_or(RoadSpeed::from_metres_per_second(30.0)),
            EngineSpeed::from_rpm(rpm),
        );
        TorqueLossFallback.to_crank(PowerAtWheels::from_watts(0.0), &at, &line).is_ok()
    };
    for (rpm, torque) in [(50.001, 300.0), (29_999.999, 300.0), (3000.0, 1.0), (3000.0, 20_000.0)] {
        assert!(fallback(rpm, torque), "{rpm} {torque}");
    }
    for (rpm, torque) in [(49.999, 300.0), (30_000.001, 300.0), (3000.0, 0.999), (3000.0, 20_000.001)] {
        assert!(!fallback(rpm, torque), "{rpm} {torque}");
    }
    let share = |s: f64, watts: f64| {
        let mut d = Driveline::unknown();
        d.load_share = Some((s, 0.0));
        FixedPercentage.to_crank(PowerAtWheels::from_watts(watts), &DrivePoint::unknown(), &d).is_ok()
    };
    assert!(share(0.0, 1e7) && share(0.5, 0.0));
    assert!(!share(-0.001, 1e5) && !share(0.501, 1e5) && !share(0.1, 1.001e7) && !share(0.1, -1.0));
    let coast = |v: f64| {
        let (_, line) = CoastDown.card().example;
        let at = DrivePoint::new(RoadSpeed::from_metres_per_second(v), EngineSpeed::from_rpm(3000.0));
        CoastDown.to_crank(PowerAtWheels::from_kilowatts(100.0), &at, &line).is_ok()
    };
    assert!(coast(200.0) && coast(0.0) && !coast(200.1) && !coast(-0.1));
    let drag = |newtons: f64| {
        let (at, mut line) = CoastDown.card().example;
        line.coast_down = Some(CoastDownForce { a: newtons, b: 0.0, c: 0.0, covariance: [[0.0; 3]; 3] });
        line.accelerating = Some((0.0, 0.0));
        CoastDown.to_crank(PowerAtWheels::from_kilowatts(100.0), &at, &line).is_ok()
    };
    assert!(drag(0.0) && drag(1e5) && !drag(-0.01) && !drag(1.0001e5));
}

/// What accelerates or drags, and what a chain leaves, from both sides of what the models state.
#[test]
fn evidence_to_its_ends() {
    let wheel = PowerAtWheels::from_kilowatts(100.0);
    let constant = |drag: f64, accelerating: f64| {
        let (at, mut line) = ConstantPlusShare.card().example;
        (line.constant_drag, line.accelerating) = (Some((drag, 0.0)), Some((accelerating, 0.0)));
        ConstantPlusShare.to_crank(wheel, &at, &line)
    };
    // a slowing engine gives back at most what the drag takes
    assert!(constant(9_500.0, -9_500.0).is_ok() && constant(9_500.0, -9_501.0).is_err());
    assert!(constant(1e7, 0.0).is_ok() && constant(1.005e7, 0.0).is_err());
    // a chain that leaves more than a tenth, and one that leaves less
    let chain = |couplings: usize, other: Element, others: usize| {
        let elements = [vec![Element::HydraulicCoupling; couplings], vec![other; others]].concat();
        let mut line = Driveline::unknown();
        line.elements = &elements;
        ElementEfficiencies.to_crank(wheel, &DrivePoint::unknown(), &line).map(|a| a.power.kilowatts())
    };
    approx::assert_relative_eq!(
        chain(22, Element::RollerChain, 9).unwrap(),
        100.0 / 0.100_657_154_531_684_64,
        max_relative = 1e-12
    );
    assert!(matches!(chain(24, Element::VeeBelt, 5), Err(Refusal::NotApplicable { .. })));
    // wheels: a gearbox model knows 2 to 4, the prior 1 to 4
    let wheels = |model: &dyn LossModel, n: u8| {
        let (at, mut line) = model.card().example;
        line.driven_wheels = Some(n);
        model.to_crank(wheel, &at, &line).is_ok()
    };
    assert_eq!([1, 2, 3, 4, 5].map(|n| wheels(&LightDutyGearbox, n)), [false, true, true, true, false]);
    assert_eq!([0, 1, 2, 4, 5].map(|n| wheels(&PriorBand, n)), [false, true, true, true, false]);
    // two driven wheels are two, not more: the band of two
    let band = |n: u8| {
        let (at, mut line) = PriorBand.card().example;
        (line.gearbox, line.driven_wheels) = (Some(Gearbox::ToothClutch), Some(n));
        PriorBand.to_crank(wheel, &at, &line).unwrap().power.kilowatts()
    };
    assert_eq!(band(1), band(2));
    assert!(band(3) > band(2));
}

/// What a model assumes it says, with the value it used.
#[test]
fn assumed_values_are_told() {
    let wheel = PowerAtWheels::from_kilowatts(100.0);
    let told = |model: &dyn LossModel, line: &Driveline<'_>| {
        let answer = model.to_crank(wheel, &model.card().example.0, line).unwrap();
        answer
            .notices
            .iter()
            .filter(|n| !matches!(n, Notice::Extrapolated { .. }))
            .copied()
            .collect::<Vec<_>>()
    };
    let (_, mut line) = LightDutyGearbox.card().example;
    line.driven_wheels = None;
    assert!(matches!(
        told(&LightDutyGearbox, &line)[..],
        [Notice::Assumed { what: Input { name: "driven wheels", .. }, value: 2.0, .. }]
    ));
    // the prior's one efficiency: the reciprocal of the middle of 1/0.94 to 1/0.88
    let mut line = Driveline::unknown();
    (line.gearbox, line.driven_wheels) = (Some(Gearbox::ToothClutch), Some(2));
    let [Notice::Assumed { value, .. }] = told(&PriorBand, &line)[..] else { panic!("one assumption") };
    approx::assert_relative_eq!(value, 2.0 / (1.0 / 0.94 + 1.0 / 0.88), max_relative = 1e-12);
    // a gearbox asked for more than its rated input torque
    let torque = |rated: f64| {
        let (_, mut line) = TorqueLossFallback.card().example;
        line.max_input_torque = Some(rated);
        let found = told(&TorqueLossFallback, &line);
        let asked = TorqueLossFallback.to_crank(wheel, &TorqueLossFallback.card().example.0, &line).unwrap();
        (found, asked.power.watts() / 400.0)
    };
    // 100 kW at 400 rad/s and the example's losses: the rating at which input and rating meet is found by halving
    let (mut low, mut high) = (200.0, 400.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if torque(middle).1 > middle { low = middle } else { high = middle }
    }
    assert!(torque(high * (1.0 + 1e-6)).0.is_empty());
    let over = high * (1.0 - 1e-6);
    let (found, asked) = torque(over);
    let [Notice::OutsideRange(out)] = found[..] else { panic!("{found:?}") };
    approx::assert_relative_eq!(out.range().got, asked, max_relative = 1e-12);
    approx::assert_relative_eq!(out.range().limit.high, over, max_relative = 1e-8);
}

#[test]
fn the_prior_widens_with_what_is_not_known() {
    let wheel = PowerAtWheels::from_kilowatts(100.0);
    let u = |gearbox, wheels| {
        let mut d = Driveline::unknown();
        (d.gearbox, d.driven_wheels) = (gearbox, wheels);
        PriorBand.to_crank(wheel, &DrivePoint::unknown(), &d).unwrap()
    };
    let known = u(Some(Gearbox::ToothClutch), Some(2));
    // 100/0.94 and 100/0.88 are the ends of a rectangular band.
    approx::assert_relative_eq!(
        known.power.kilowatts(),
        0.5 * (100.0 / 0.94 + 100.0 / 0.88),
        max_relative = 1e-12
    );
    approx::assert_relative_eq!(
        known.uncertainty,
        0.5e3 * (100.0 / 0.88 - 100.0 / 0.94) / libm::sqrt(3.0),
        max_relative = 1e-9
    );
    let nothing = u(None, None);
    assert!(nothing.uncertainty > u(Some(Gearbox::ToothClutch), None).uncertainty);
    assert!(nothing.uncertainty > u(None, Some(2)).uncertainty);
    // the ends of each band, as the model states them: what is not known takes the wider end
    for (gearbox, wheels, low, high) in [
        (Some(Gearbox::ToothClutch), Some(4), 0.84, 0.92),
        (Some(Gearbox::ToothClutch), None, 0.84, 0.94),
        (Some(Gearbox::Converter), Some(2), 0.85, 0.92),
        (Some(Gearbox::Planetary), Some(4), 0.81, 0.90),
        (None, Some(2), 0.85, 0.94),
        (None, None, 0.81, 0.94),
    ] {
        let a = u(gearbox, wheels);
        approx::assert_relative_eq!(a.power.kilowatts(), 50.0 / low + 50.0 / high, max_relative = 1e-12);
    }
    assert!(u(Some(Gearbox::Converter), Some(2)).power.watts() > known.power.watts());
    assert!(u(Some(Gearbox::ToothClutch), Some(4)).power.watts() > known.power.watts());
}

#[test]
fn missing_evidence_is_named() {
    let nothing = Driveline::unknown();
    let wheel = PowerAtWheels::from_kilowatts(100.0);
    let words: Vec<String> = ALL
        .iter()
        .filter_map(|m| Some((m.card().id, m.to_crank(wheel, &DrivePoint::unknown(), &nothing).err()?)))
        .map(|(id, why)| {
            assert!(matches!(why, Refusal::Missing { .. }), "{id}: {why}");
            format!("{id}: {why}")
        })
        .collect();
    insta::assert_snapshot!(words.join("\n"), @r"
    coast-down: road speed is missing: give the roller surface speed of the point in m/s (power balance of tyre, driveline and flywheel, elementary mechanics)
    constant-plus-share: constant drag power is missing: give the drag of tyre and driveline in W with its standard uncertainty (power balance of tyre, driveline and flywheel, elementary mechanics)
    ec-light-duty-gearbox: engine speed is missing: give the engine speed of the point in 1/min (European Commission Joint Research Centre, light-duty vehicle CO2 model, default gearbox loss parameters, published source)
    eu-2017-2400: engine speed is missing: give the engine speed of the point in 1/min ((EU) 2017/2400 as adopted, Annex VI Appendix 8)
    element-efficiencies: list of transmission elements is missing: list the meshes, chains, belts and couplings in series between crankshaft and measuring point ((EU) 134/2014, Annex X Appendix 2, factor alpha 2)
    fixed-percentage: claimed percentage of loss is missing: give the share of crankshaft power that is said to be lost, 0 to 0.5 (common practice, no source)
    ");
}

#[test]
fn every_model_inverts_to_the_wheels() {
    for model in ALL {
        let (point, driveline) = &model.card().example;
        for kw in [1.0, 37.5, 100.0, 431.7] {
            let wheel = PowerAtWheels::from_kilowatts(kw);
            let crank = model.to_crank(wheel, point, driveline).unwrap();
            let (back, _) = model.to_wheels(crank.power, point, driveline).unwrap();
            // Bisection stops at neighbouring floats of the crank power.
            approx::assert_relative_eq!(back.watts(), wheel.watts(), max_relative = 1e-12);
        }
    }
}

#[test]
fn no_number_makes_a_model_panic_or_answer_with_nan() {
    let odd = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        -1.0,
        0.0,
        1e-300,
        1e300,
        -1e300,
        f64::MAX,
        f64::MIN_POSITIVE,
    ];
    for model in ALL {
        let (point, driveline) = &model.card().example;
        for x in odd {
            let mut tries = vec![(x, *point, *driveline)];
            let mut p = *point;
            p.road_speed = Some(RoadSpeed::from_metres_per_second(x));
            tries.push((1e5, p, *driveline));
            p = *point;
            p.engine_speed = Some(EngineSpeed::from_rpm(x));
            tries.push((1e5, p, *driveline));
            for i in 0..8 {
                let mut d = *driveline;
                match i {
                    0 => d.load_share = Some((x, 0.01)),
                    1 => d.load_share = Some((0.01, x)),
                    2 => d.constant_drag = Some((x, 1.0)),
                    3 => d.constant_drag = Some((1.0, x)),
                    4 => d.accelerating = Some((x, 1.0)),
                    5 => d.max_input_torque = Some(x),
                    6 => {
                        d.coast_down = Some(CoastDownForce { a: x, b: 1.0, c: x, covariance: [[1.0; 3]; 3] })
                    }
                    _ => {
                        d.coast_down =
                            Some(CoastDownForce { a: 9.0, b: 1.0, c: 1.0, covariance: [[x; 3]; 3] })
                    }
                }
                tries.push((1e5, *point, d));
            }
            for (w, p, d) in tries {
                if let Ok(crank) = model.to_crank(PowerAtWheels::from_watts(w), &p, &d) {
                    let id = model.card().id;
                    assert!(crank.power.is_finite() && crank.power.watts() >= w, "{id} at {x}");
                    assert!(crank.uncertainty >= 0.0, "{id} at {x}: {}", crank.uncertainty);
                }
            }
        }
    }
}
