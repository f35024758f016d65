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

const NO_RULE: StandardCard = StandardCard {
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

/// A text without a rule for an engine that holds its charge leaves the formula's factor and says that it corrects too
/// much; of any other engine it says nothing.
#[test]
fn a_compensated_engine_by_a_text_without_a_rule() {
    let judged = |ignition, charging, compensated| {
        let engine = Engine::new(ignition, charging).compensated(compensated);
        let f = NO_RULE.judge(1.04, &air(95.0, 25.0), &engine);
        assert_eq!((f.value(), f.blind()), (1.04, 1.04));
        f.notices().iter().any(|n| matches!(n, Notice::NoRuleForCompensated { .. }))
    };
    assert!(judged(Ignition::Spark, Charging::Turbocharged, true));
    assert!(!judged(Ignition::Spark, Charging::Turbocharged, false));
    assert!(!judged(Ignition::Spark, Charging::None, true));
}

/// Ranges first, then the compensation rule, then what the plug-in adds in its order; equal remarks once; a factor that
/// says the same is equal, whatever air it came from.
#[test]
fn a_factor_tells_its_remarks_in_one_order() {
    static RULE: StandardCard = StandardCard {
        id: "invented-3",
        spark: TestWindow::new(PressureBasis::Dry, None, Some([90.0, 110.0]), Some([0.9, 1.1]), HERE),
        compensation: Compensation::FactorOne(HERE),
        ..NO_RULE
    };
    const SHAKY: Source = Source { what: "exponent", cite: Cite::new("text", "2", Reading::Doubtful) };
    let engine = Engine::new(Ignition::Spark, Charging::Turbocharged).compensated(true);
    let judged = RULE.judge(1.2, &air(80.0, 25.0), &engine);
    let habit = Notice::Convention { what: "a habit" };
    let factor = judged.noting(habit).resting_on(&[SHAKY]).noting(habit);
    let told: Vec<String> = factor.notices().each().map(|n| n.to_string()).collect();
    let starts = [
        "outside the standard's range: dry pressure is 80 kPa",
        "outside the standard's range: correction factor is 1.2",
        "factor 1 by ambient compensation (worked, 1); the formula alone would claim 1.2000",
        "convention: a habit",
        "exponent rests on text, 2",
    ];
    assert_eq!(told.len(), starts.len(), "{told:?}");
    assert!(told.iter().zip(starts).all(|(t, s)| t.starts_with(s)), "{told:?}");
    assert!(factor.outside_range() && (factor.value(), factor.blind()) == (1.0, 1.2));
    let within =
        |celsius| RULE.judge(1.0, &air(99.0, celsius), &Engine::new(Ignition::Spark, Charging::None));
    assert!(!within(20.0).outside_range() && within(20.0) == within(30.0));
    assert!(within(20.0) != within(20.0).noting(habit) && within(20.0) != Factor::plain(0.99));
}

/// What a plug-in found outside a range of its own counts as well.
#[test]
fn a_range_of_the_plug_ins_own() {
    static FUEL: Limit = Limit { what: "q", unit: "1", low: 40.0, high: 65.0, cite: HERE };
    assert_eq!((Outside::of(&FUEL, 40.0), Outside::of(&FUEL, 65.0)), (None, None));
    assert_eq!(Outside::above(&FUEL, 70.0, 70.0), None);
    assert!(Outside::of(&FUEL, f64::NAN).is_some());
    let out = Outside::above(&FUEL, 70.0, 71.0).unwrap();
    assert_eq!(out.range(), OutOfRange { got: 71.0, limit: Limit { high: 70.0, ..FUEL } });
    assert!(Factor::plain(1.0).noting(Notice::OutsideRange(out)).outside_range());
    assert!(!Factor::plain(1.0).noting(Notice::Convention { what: "x" }).outside_range());
}

/// A plug-in can add eight times; what comes after is counted. Sources in one call are one addition.
#[test]
fn additions_beyond_the_room_are_counted() {
    const TEXT: [&str; 10] = ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"];
    let noted = |n: usize| {
        TEXT.iter()
            .take(n)
            .fold(Factor::plain(1.0), |f, what| f.noting(Notice::Convention { what }))
            .notices()
    };
    assert_eq!((noted(8).iter().count(), noted(8).dropped()), (8, 0));
    assert_eq!((noted(10).iter().count(), noted(10).dropped()), (8, 2));
    const SHAKY: Source = Source { what: "x", cite: Cite::new("text", "", Reading::Remembered) };
    static SOURCES: [Source; 6] = {
        let mut all = [SHAKY; 6];
        let mut i = 0;
        while i < all.len() {
            all[i].what = TEXT[i];
            i += 1;
        }
        all
    };
    let rests = Factor::plain(1.0).resting_on(&SOURCES).notices();
    assert_eq!((rests.iter().count(), rests.dropped()), (6, 0));
}

/// Another vapour pressure in the same air is held against the same ends.
#[test]
fn vapour_is_checked_alone() {
    let vapour = VapourPressure::from_kilopascals;
    let (dry, kpa) = (air(100.0, 25.0), |e| vapour(e).kilopascals());
    for e in [0.0, 2.0, 50.0] {
        let moist = dry.with_vapour::<Refusal>(vapour(e)).unwrap();
        assert_eq!(Ok(moist), Air::new(dry.station(), dry.temperature(), vapour(e)));
        assert_eq!(moist.vapour().kilopascals(), kpa(e));
    }
    for e in [-1e-9, 50.001, f64::NAN, f64::INFINITY] {
        let [alone, whole] =
            [dry.with_vapour::<Refusal>(vapour(e)), Air::new(dry.station(), dry.temperature(), vapour(e))]
                .map(|a| a.unwrap_err().to_string());
        assert_eq!(alone, whole);
        assert!(alone.starts_with("vapour pressure is "), "{alone}");
    }
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
