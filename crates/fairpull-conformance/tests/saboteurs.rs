//! One deliberately broken plug-in per check of the correction standards: exactly that check must fail.

use fairpull_conformance::standard;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::*;
use std::sync::atomic::{AtomicU32, Ordering};

const TEXT: Cite = Cite::new("Toy Standard 1", "clause 5", Reading::Derived);
const REFERENCE: ReferenceAir = ReferenceAir {
    basis: PressureBasis::Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};
const WINDOW: TestWindow =
    TestWindow::new(PressureBasis::Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), TEXT);
const SPARK: Exponents = Exponents::new(1.2, 0.6);
const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.5),
    liquid_cooled: Exponents::new(0.7, 1.5),
    engine_factor: EngineFactor::FROM_40,
    cite: TEXT,
};
/// 0.95281378...: hand-worked (99/101.325)^1.2 (288/298)^0.6.
const EXAMPLE: Example = Example {
    what: "sea level",
    engine: Engine::new(Ignition::Spark, Charging::None),
    total_kpa: 101.325,
    vapour_kpa: 0.0,
    temperature_c: 15.0,
    printed: "0.9528",
    cite: TEXT,
};
const CARD: StandardCard = StandardCard {
    id: "toy-1",
    designation: "Toy Standard 1",
    title: "Toy",
    edition: "1",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: WINDOW,
    compression: WINDOW,
    formula: "(99/p)^1.2 (T/298)^0.6",
    compensation: Compensation::FactorOne(TEXT),
    compensates_spark_only: true,
    sources: &[Source { what: "all of it", cite: TEXT }],
    gaps: &[],
    aliases: &[],
    examples: &[EXAMPLE],
};

/// The honest toy's value.
fn value(air: &Air, engine: &Engine) -> Result<f64, Refusal> {
    match engine.ignition {
        Ignition::Spark => Ok(SPARK.factor(&REFERENCE, air)),
        Ignition::Compression => DIESEL.factor(&REFERENCE, air, engine),
    }
}

fn honest(air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    Ok(CARD.judge(value(air, engine)?, air, engine))
}

/// A value changed in some way, otherwise honest.
fn with(air: &Air, engine: &Engine, change: impl Fn(f64) -> f64) -> Result<Factor, Refusal> {
    CARD.admit(engine)?;
    Ok(CARD.judge(change(value(air, engine)?), air, engine))
}

struct Toy {
    card: &'static StandardCard,
    factor: fn(&Air, &Engine) -> Result<Factor, Refusal>,
}

impl CorrectionStandard for Toy {
    fn card(&self) -> &'static StandardCard {
        self.card
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        (self.factor)(air, engine)
    }
}

fn broken(
    card: &'static StandardCard,
    factor: fn(&Air, &Engine) -> Result<Factor, Refusal>,
) -> Vec<&'static str> {
    standard::run(&Toy { card, factor }).iter().map(|f| f.check).collect()
}

static HONEST: StandardCard = CARD;
static NO_EXAMPLE: StandardCard = StandardCard { examples: &[], ..CARD };

#[test]
fn the_honest_toy_passes() {
    assert_eq!(broken(&HONEST, honest), [""; 0]);
    assert_eq!(standard::CHECKS.len(), 11);
}

#[test]
fn a_shabby_card_is_caught() {
    static SHOUTING: StandardCard = StandardCard { id: "Toy 1", ..CARD };
    static UNCITED: StandardCard = StandardCard { sources: &[], ..CARD };
    static UPSIDE_DOWN: StandardCard = StandardCard {
        compression: TestWindow { pressure: None, ..WINDOW },
        spark: TestWindow {
            temperature: Some(Limit { what: "t", unit: "K", low: 310.0, high: 320.0, cite: TEXT }),
            ..WINDOW
        },
        ..CARD
    };
    assert_eq!(broken(&SHOUTING, honest), ["card_is_well_formed"]);
    assert_eq!(broken(&UNCITED, honest), ["card_is_well_formed"]);
    // a reference outside its own range also makes the formula ignore that range
    assert!(broken(&UPSIDE_DOWN, honest).contains(&"card_is_well_formed"));
}

#[test]
fn mixed_kelvin_offsets_are_caught() {
    let factor = |air: &Air, engine: &Engine| {
        let shift = (air.temperature().celsius() + 273.15) / (air.temperature().celsius() + 273.0);
        with(air, engine, |v| v * libm::pow(shift, 0.6))
    };
    assert_eq!(broken(&NO_EXAMPLE, factor), ["is_one_at_its_own_reference"]);
}

#[test]
fn a_wrong_example_is_caught() {
    static WRONG: StandardCard =
        StandardCard { examples: &[Example { printed: "0.9529", ..EXAMPLE }], ..CARD };
    assert_eq!(broken(&WRONG, honest), ["examples_reproduce"]);
}

#[test]
fn a_silent_clamp_is_caught() {
    assert_eq!(broken(&HONEST, |a, e| with(a, e, |v| v.clamp(0.93, 1.07))), ["limits_are_named"]);
}

#[test]
fn swallowed_range_notices_are_caught() {
    const OPEN: StandardCard =
        StandardCard { spark: TestWindow::OPEN, compression: TestWindow::OPEN, ..CARD };
    assert_eq!(broken(&HONEST, |a, e| Ok(OPEN.judge(value(a, e)?, a, e))), ["limits_are_named"]);
}

#[test]
fn nan_let_through_is_caught() {
    let factor = |a: &Air, e: &Engine| with(a, e, |v| v + 0.0 * e.mechanical_efficiency.unwrap_or(1.0));
    assert_eq!(broken(&HONEST, factor), ["hostile_inputs_are_refused_or_finite"]);
}

#[test]
fn a_panic_is_caught() {
    let factor = |a: &Air, e: &Engine| {
        assert!(e.mechanical_efficiency.unwrap_or(1.0) >= 0.0, "a saboteur's panic, wanted here");
        honest(a, e)
    };
    assert_eq!(broken(&HONEST, factor), ["hostile_inputs_are_refused_or_finite"]);
}

#[test]
fn a_factor_that_falls_in_thin_air_is_caught() {
    static WIDE: StandardCard =
        StandardCard { spark: TestWindow::OPEN, compression: TestWindow::OPEN, examples: &[], ..CARD };
    assert_eq!(
        broken(&WIDE, |a, e| Ok(WIDE.judge(1.0 / value(a, e)?, a, e))),
        ["thinner_air_never_lowers_the_factor"]
    );
}

#[test]
fn a_memory_is_caught() {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let factor = |a: &Air, e: &Engine| {
        let cold = (5.0..14.0).contains(&a.temperature().celsius());
        let n = if cold { COUNT.fetch_add(1, Ordering::Relaxed) } else { 0 };
        with(a, e, |v| v * (1.0 + 1e-12 * f64::from(n)))
    };
    assert_eq!(broken(&HONEST, factor), ["same_input_gives_same_bits"]);
}

#[test]
fn a_jump_is_caught() {
    let factor = |a: &Air, e: &Engine| {
        let hot = a.temperature().celsius() > 50.0;
        with(a, e, |v| if hot { v * 1.01 } else { v })
    };
    assert_eq!(broken(&HONEST, factor), ["does_not_jump"]);
}

#[test]
fn a_mute_refusal_is_caught() {
    let factor = |a: &Air, e: &Engine| {
        honest(a, e).map_err(|_| Refusal::Missing {
            what: "",
            mend: "",
            cite: Cite::new("", "", Reading::Derived),
        })
    };
    assert_eq!(broken(&HONEST, factor), ["refusals_name_what_and_where"]);
}

#[test]
fn an_ignored_scope_is_caught() {
    static SPARK_ONLY: StandardCard = StandardCard {
        applies: Applicability { spark: true, compression: false, charged: true },
        compression: TestWindow::OPEN,
        ..CARD
    };
    assert_eq!(
        broken(&SPARK_ONLY, |a, e| Ok(SPARK_ONLY.judge(value(a, e)?, a, e))),
        ["engines_out_of_scope_are_refused"]
    );
}

#[test]
fn a_double_correction_is_caught() {
    assert_eq!(broken(&HONEST, |a, e| honest(a, &e.compensated(false))), ["compensation_is_told"]);
}

#[test]
fn a_failure_tells_the_whole_story() {
    let failures = standard::run(&Toy { card: &HONEST, factor: |a, e| with(a, e, |v| v.clamp(0.93, 1.07)) });
    let text = failures[0].to_string();
    for part in ["toy-1", "limits_are_named", "kPa", "expected", "got", "tolerance", "0.93"] {
        assert!(text.contains(part), "{part} is missing in\n{text}");
    }
}
