//! Ends of what the core decides: each from both sides, by the definitions.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use fairpull_core::family::{self, EngineFactor};
use fairpull_core::*;

const HERE: Cite = Cite::new("worked", "1", Reading::Derived);

fn air(kpa: f64, celsius: f64) -> Air {
    Air::new(
        AbsolutePressure::from_kilopascals(kpa),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(0.0),
    )
    .unwrap()
}

/// An efficiency that is no number is not told as one that is too low.
#[test]
fn an_efficiency_that_is_no_number() {
    let mut engine = Engine::new(Ignition::Compression, Charging::None);
    for eta in [f64::NAN, f64::INFINITY] {
        engine.mechanical_efficiency = Some(eta);
        let refusal = family::mechanical_efficiency(&engine, 0.85, &HERE).unwrap_err();
        assert!(matches!(refusal, Refusal::NotFinite { what: "mechanical efficiency", .. }), "{refusal}");
    }
    engine.mechanical_efficiency = Some(0.05);
    let refusal = family::mechanical_efficiency(&engine, 0.85, &HERE).unwrap_err();
    assert!(matches!(refusal, Refusal::OutOfRange(_)), "{refusal}");
}

/// The texts print a root where the exponent is one half: the factor is the root, to the last bit, and a plain ratio
/// where it is one.
#[test]
fn a_printed_root_is_a_root() {
    let reference = ReferenceAir {
        basis: PressureBasis::Total,
        pressure_kpa: 100.0,
        vapour_kpa: 0.0,
        temperature_c: 25.0,
        kelvin_offset: 273.0,
    };
    for step in 0..400 {
        let a = air(80.0 + 0.1 * f64::from(step), 25.0);
        let ratio = 100.0 / a.station().kilopascals();
        assert_eq!(family::power_law(&reference, &a, 1.0, 0.5), ratio);
        assert_eq!(family::power_law(&reference, &a, 0.5, 1.0), libm::sqrt(ratio));
    }
}

/// Beyond the printed ends of the fuel term its ends are used, and the printed line meets them there.
#[test]
fn the_fuel_term_holds_its_ends() {
    for rule in [EngineFactor::FROM_40, EngineFactor::FROM_37_2] {
        assert_eq!(rule.at(rule.from - 1e-9), rule.lower);
        assert_eq!(rule.at(rule.to + 1e-9), rule.upper);
        for (at, meant) in [(rule.from, rule.lower), (rule.to, rule.upper)] {
            assert!((rule.at(at) - meant).abs() < 1e-3, "{at}");
        }
    }
}

/// Digits in messages: six decimals, and every digit where six would hide the number or add nothing.
#[test]
fn digits_of_a_message() {
    let shown = |value: f64| {
        let limit = Limit { what: "x", unit: "N", low: 0.0, high: 0.0, cite: HERE };
        let text = limit.check(value).unwrap_err().to_string();
        text.split(',').next().unwrap().to_owned()
    };
    assert_eq!(shown(1.234_567_89), "x is 1.234568 N");
    assert_eq!(shown(0.001_004_96), "x is 0.001005 N");
    assert_eq!(shown(0.000_999_96), "x is 0.00099996 N");
    assert_eq!(shown(999_999_999.123_456_7), "x is 999999999.123457 N");
    assert_eq!(shown(1_004_999_999.123_456_7), format!("x is {} N", 1_004_999_999.123_456_7_f64));
    assert_ne!(shown(1_004_999_999.123_456_7), "x is 1004999999.123457 N");
}

/// A text without a rule for an engine that holds its charge leaves the formula's factor and says that it corrects too
/// much; of any other engine it says nothing.
#[test]
fn a_compensated_engine_by_a_text_without_a_rule() {
    static CARD: StandardCard = StandardCard {
        id: "invented-2",
        designation: "Invented 2",
        title: "Invented",
        edition: "1",
        status: Status::Unknown,
        rating: Rating::Net,
        applies: Applicability { spark: true, compression: true, charged: true },
        reference: ReferenceAir {
            basis: PressureBasis::Dry,
            pressure_kpa: 99.0,
            vapour_kpa: 1.0,
            temperature_c: 25.0,
            kelvin_offset: 273.0,
        },
        spark: TestWindow::OPEN,
        compression: TestWindow::OPEN,
        formula: "99/p",
        compensation: Compensation::None,
        compensates_spark_only: false,
        sources: &[],
        gaps: &[],
        aliases: &[],
        examples: &[],
    };
    let judged = |ignition, charging, compensated| {
        let engine = Engine::new(ignition, charging).compensated(compensated);
        let f = CARD.judge(1.04, &air(95.0, 25.0), &engine);
        assert_eq!((f.value(), f.blind()), (1.04, 1.04));
        f.notices().iter().any(|n| matches!(n, Notice::NoRuleForCompensated { .. }))
    };
    assert!(judged(Ignition::Spark, Charging::Turbocharged, true));
    assert!(!judged(Ignition::Spark, Charging::Turbocharged, false));
    assert!(!judged(Ignition::Spark, Charging::None, true));
}

struct Share;

static SHARE: LossCard = LossCard {
    id: "invented-share",
    title: "Invented",
    contains: "a tenth",
    leaves_out: "all else",
    needs: &[],
    formula: "P_crank = P_wheel / 0.9",
    habit: false,
    sources: &[],
    example: (DrivePoint::unknown(), Driveline::unknown()),
};

impl LossModel for Share {
    fn card(&self) -> &'static LossCard {
        &SHARE
    }

    fn to_crank(&self, wheel: PowerAtWheels, _: &DrivePoint, _: &Driveline<'_>) -> Result<AtCrank, Refusal> {
        let power = PowerAtCrank::from_watts(wheel.watts() / 0.9);
        Ok(AtCrank { power, uncertainty: 0.0, notices: Notices::NONE })
    }
}

/// No power at the crankshaft has no wheel power that a model could be turned back to.
#[test]
fn no_crank_power_is_not_turned_back() {
    let back = |watts: f64| {
        Share.to_wheels(PowerAtCrank::from_watts(watts), &DrivePoint::unknown(), &Driveline::unknown())
    };
    for none in [0.0, -1.0] {
        assert!(matches!(back(none), Err(Refusal::NoConvergence { .. })), "{none}");
    }
    let (wheel, crank) = back(1e5).unwrap();
    assert!((wheel.watts() - 9e4).abs() < 1e-9 && (crank.power.watts() - 1e5).abs() < 1e-9);
}
