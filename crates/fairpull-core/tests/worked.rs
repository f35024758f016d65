//! What the core calculates itself, against values worked by hand from the definitions, and each rule from both sides.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use fairpull_core::family::{self, DieselRule, EngineFactor, Exponents};
use fairpull_core::*;

const HERE: Cite = Cite::new("worked", "1", Reading::Derived);

fn close(got: f64, meant: f64) {
    assert!((got - meant).abs() <= 1e-12 * meant.abs().max(1e-3), "{got} for {meant}");
}

fn air(kpa: f64, celsius: f64, vapour: f64) -> Result<Air, Refusal> {
    Air::new(
        AbsolutePressure::from_kilopascals(kpa),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour),
    )
}

#[test]
fn scales_of_quantities() {
    close(Temperature::from_celsius(25.0).kelvin(), 298.15);
    close(Temperature::from_kelvin(300.0).celsius(), 26.85);
    close(Temperature::from_fahrenheit(212.0).celsius(), 100.0);
    close(Temperature::from_celsius(-40.0).fahrenheit(), -40.0);
    assert!(Temperature::from_kelvin(1.0).is_finite() && !Temperature::from_kelvin(f64::NAN).is_finite());
    close(AbsolutePressure::from_hectopascals(1013.25).kilopascals(), 101.325);
    close(VapourPressure::from_pascals(1234.0).hectopascals(), 12.34);
    close(RoadSpeed::from_kilometres_per_hour(90.0).metres_per_second(), 25.0);
    close(RoadSpeed::from_metres_per_second(10.0).kilometres_per_hour(), 36.0);
    close(EngineSpeed::from_rpm(60.0).radians_per_second(), 2.0 * core::f64::consts::PI);
    assert!(
        PowerAtHubs::from_kilowatts(1.0).is_finite() && !PowerAtHubs::from_watts(f64::INFINITY).is_finite()
    );
    close(PowerAtWheels::from_kilowatts(1.5).watts(), 1500.0);
    close(PowerAtHubs::from_kilowatts(1.5).watts(), 1500.0);
    close(PowerAtCrank::from_kilowatts(1.5).watts(), 1500.0);
    close(DryPressure::from_kilopascals(1.5).pascals(), 1500.0);
    close(DryPressure::from_hectopascals(1.5).pascals(), 150.0);
    close(GaugePressure::from_hectopascals(1.5).pascals(), 150.0);
    close(AbsolutePressure::from_kilopascals(1.5).pascals(), 1500.0);
    close(AxleTorque::from_newton_metres(1.5).newton_metres(), 1.5);
    // the quantity inside is in the coherent unit
    assert_eq!(CrankTorque::from_newton_metres(1.5).get().value, 1.5);
    assert_eq!(AxleTorque::from_newton_metres(1.5).get().value, 1.5);
    assert_eq!(PowerAtCrank::from_watts(1.5).get().value, 1.5);
    assert_eq!(PowerAtHubs::from_watts(1.5).get().value, 1.5);
    assert_eq!(PowerAtWheels::from_watts(1.5).get().value, 1.5);
    assert_eq!(AbsolutePressure::from_pascals(1.5).get().value, 1.5);
    assert_eq!(GaugePressure::from_pascals(1.5).get().value, 1.5);
    assert_eq!(DryPressure::new(AbsolutePressure::from_pascals(1.5).get()).pascals(), 1.5);
    assert_eq!(VapourPressure::from_pascals(1.5).get().value, 1.5);
    assert_eq!(RoadSpeed::from_metres_per_second(1.5).get().value, 1.5);
    assert_eq!(EngineSpeed::from_radians_per_second(1.5).get().value, 1.5);
    assert_eq!(Temperature::from_kelvin(1.5).get().value, 1.5);
}

/// What is not said is unknown, cold, zero or ordinary, as each field's documentation states.
#[test]
fn what_is_not_said() {
    let fuel = Fuel::new(None, Some(Span::new(85.0, 0.5)));
    assert_eq!((fuel.octane_correlation, fuel.mon), (0.0, Some(Span { value: 85.0, uncertainty: 0.5 })));
    let cycle = CycleState::new([0.1, 0.09, 0.15], 10.0, 3000.0, [1e5, 340.0, -140.0], [-5.0, 50.0], 14.0);
    assert_eq!((cycle.residual_fraction, cycle.stroke, cycle.burn_duration), (0.05, 0.09, 50.0));
    let line = Driveline::unknown();
    assert!(line.warm && !line.angle_drive && line.elements.is_empty());
    let none = Changes::NONE;
    let sum = none.spark_advance
        + none.intake_temperature
        + none.intake_pressure
        + none.compression_ratio
        + none.exhaust_pressure
        + none.coolant_temperature
        + none.humidity
        + none.altitude;
    assert!(sum == 0.0 && none.lambda.is_none());
    assert!(!Engine::new(Ignition::Spark, Charging::None).ambient_compensated);
}

#[test]
fn pressures_add_and_subtract() {
    let barometer = AbsolutePressure::from_kilopascals(98.0);
    close(GaugePressure::from_kilopascals(120.0).to_absolute(barometer).kilopascals(), 218.0);
    close(AbsolutePressure::from_kilopascals(250.0).above(barometer).kilopascals(), 152.0);
    close(barometer.less(VapourPressure::from_kilopascals(1.5)).kilopascals(), 96.5);
    let a = air(98.0, 24.0, 1.5).unwrap();
    close(a.dry().kilopascals(), 96.5);
    close(a.station().kilopascals() + a.vapour().kilopascals() + a.temperature().celsius(), 123.5);
}

#[test]
fn torque_times_speed_is_power() {
    let speed = EngineSpeed::from_radians_per_second(500.0);
    close(CrankTorque::from_newton_metres(300.0).power_at(speed).kilowatts(), 150.0);
    close(PowerAtCrank::from_kilowatts(150.0).torque_at(speed).newton_metres(), 300.0);
}

#[test]
fn impossible_air_is_refused_at_each_edge() {
    for (kpa, c, vapour) in [(40.0, -60.0, 0.0), (120.0, 80.0, 60.0), (100.0, 20.0, 50.0)] {
        assert!(air(kpa, c, vapour).is_ok(), "{kpa} {c} {vapour}");
    }
    for (kpa, c, vapour) in [
        (39.9, 20.0, 1.0),
        (120.1, 20.0, 1.0),
        (100.0, -60.1, 1.0),
        (100.0, 80.1, 1.0),
        (100.0, 20.0, -0.1),
        (100.0, 20.0, 50.1),
        (f64::NAN, 20.0, 1.0),
        (100.0, f64::NAN, 1.0),
        (100.0, 20.0, f64::INFINITY),
    ] {
        assert!(air(kpa, c, vapour).is_err(), "{kpa} {c} {vapour}");
    }
}

#[test]
fn a_limit_includes_its_ends() {
    let limit = Limit { what: "x", unit: "kPa", low: 1.0, high: 2.0, cite: HERE };
    assert_eq!((limit.check(1.0), limit.check(2.0)), (Ok(1.0), Ok(2.0)));
    for outside in [0.999, 2.001, f64::NAN] {
        assert!(limit.check(outside).is_err());
    }
    assert_eq!(limit.check(3.0).unwrap_err().to_string(), "x is 3 kPa, outside 1 to 2 kPa (worked, 1)");
    let remembered = Limit { unit: "1", cite: Cite::new("text", "", Reading::Remembered), ..limit };
    let text = remembered.check(2.5).unwrap_err().to_string();
    assert_eq!(text, "x is 2.5, outside 1 to 2 (text; from memory, believed right)");
}

/// Six decimals between 0.001 and 10⁹, every digit outside.
#[test]
fn numbers_in_messages() {
    let what = &Input { name: "x", unit: "m" };
    let shown = |value| Notice::Assumed { what, value, cite: &HERE }.to_string();
    for (value, text) in [
        (0.123_456_789, "0.123457"),
        (1e-3, "0.001"),
        (0.000_123_456_78, "0.00012345678"),
        (-0.000_999_999_99, "-0.00099999999"),
        (123_456_789.123_456_7, "123456789.123457"),
        (1_234_567_890.123_456_7, "1234567890.1234567"),
    ] {
        assert_eq!(shown(value), format!("x assumed {text} m (worked, 1)"));
    }
}

#[test]
fn notices_are_kept_once_and_counted_when_there_is_no_room() {
    let what = &Input { name: "x", unit: "1" };
    let note = |value: f64| Notice::Assumed { what, value, cite: &HERE };
    let mut all = Notices::NONE;
    for n in 0..10 {
        all.push(note(f64::from(n)));
        all.push(note(f64::from(n.min(7))));
    }
    assert_eq!((all.iter().count(), all.dropped()), (8, 2));
    let mut other = Notices::NONE;
    other.push(note(100.0));
    other.extend(&all);
    assert_eq!((other.iter().count(), other.dropped()), (8, 3));
    assert!(!other.outside_range());
    let mut out = Notices::NONE;
    out.push(note(1.0));
    static RATIO: Limit = Limit { what: "x", unit: "1", low: 0.0, high: 1.0, cite: HERE };
    out.push(Notice::OutsideRange(Outside::of(&RATIO, 2.0).unwrap()));
    assert!(out.outside_range());
}

#[test]
fn an_estimate_adds_in_squares() {
    let e = Estimate { value: 10.0, run: 3.0, rig: 4.0, run_dof: 5.0 };
    close(e.combined(), 5.0);
    // Welch and Satterthwaite with one finite part: u⁴ ν / run⁴ = 625 · 5 / 81
    close(e.dof(), 3125.0 / 81.0);
    assert_eq!(Estimate { run: 0.0, ..e }.dof(), f64::INFINITY);
    let half = e.scaled(-0.5);
    assert_eq!((half.value, half.run, half.rig, half.run_dof), (-5.0, 1.5, 2.0, 5.0));
    let exact = Estimate::exact(7.0);
    assert_eq!((exact.value, exact.combined(), exact.dof()), (7.0, 0.0, f64::INFINITY));
}

#[test]
fn the_force_of_a_coast_down_and_its_uncertainty() {
    let covariance = [[4.0, 0.5, 0.25], [0.5, 1.0, 0.125], [0.25, 0.125, 0.0625]];
    let f = CoastDownForce { a: 100.0, b: 2.0, c: 0.5, covariance };
    close(f.at(10.0), 170.0);
    // g = (1, 2, 4): 4·1 + 1·4 + 0.0625·16 + 2·(0.5·2 + 0.25·4 + 0.125·8) = 15
    close(f.uncertainty_at(2.0), libm::sqrt(15.0));
    let negative = CoastDownForce { covariance: [[-1.0, 0.0, 0.0], [0.0; 3], [0.0; 3]], ..f };
    assert_eq!(negative.uncertainty_at(1.0), 0.0);
}

#[test]
fn corrected_figures_stand_beside_each_other_on_one_basis_only() {
    let factor = Factor::plain(1.25);
    let a = Corrected::new(PowerAtCrank::from_watts(100.0), "one", &factor);
    let b = Corrected::new(PowerAtCrank::from_watts(80.0), "one", &factor);
    let c = Corrected::new(PowerAtCrank::from_watts(80.0), "two", &factor);
    assert_eq!((a.figure().watts(), a.standard(), a.factor()), (125.0, "one", 1.25));
    close(a.observed().watts(), 100.0);
    assert_eq!(a.beside(&b).unwrap().1.watts(), 100.0);
    assert_eq!(a.beside(&c), Err(DifferentStandards { left: "one", right: "two" }));
    let mut room = [Room::EMPTY; 1];
    let one = CorrectedSlice::new([PowerAtCrank::from_watts(100.0)], &mut room, "one", &factor).unwrap();
    assert!(!one.is_empty() && one.get(0) == Some(a));
    let none =
        CorrectedSlice::new([], &mut [Room::<PowerAtCrank>::EMPTY; 0], "one", &factor).unwrap().is_empty();
    assert!(none);
}

fn reference(basis: PressureBasis) -> ReferenceAir {
    ReferenceAir { basis, pressure_kpa: 99.0, vapour_kpa: 1.0, temperature_c: 25.0, kelvin_offset: 273.0 }
}

#[test]
fn the_laws_of_the_families() {
    let (dry, total) = (reference(PressureBasis::Dry), reference(PressureBasis::Total));
    assert_eq!((dry.total_kpa(), total.total_kpa(), dry.kelvin()), (100.0, 99.0, 298.0));
    let a = air(51.5, 76.0, 2.0).unwrap();
    close(family::pressure_kpa(&dry, &a), 49.5);
    close(family::pressure_kpa(&total, &a), 51.5);
    close(family::kelvin(&dry, &a), 349.0);
    // 99/49.5 = 2, 349/298
    let t: f64 = 349.0 / 298.0;
    close(family::power_law(&dry, &a, 1.0, 1.0), 2.0 * t);
    close(family::power_law(&dry, &a, 1.0, 0.5), 2.0 * libm::sqrt(t));
    close(family::power_law(&dry, &a, 3.0, 0.0), 8.0);
    close(Exponents::new(2.0, 0.0).factor(&dry, &a), 4.0);
    close(family::affine(&dry, &a, 1.0, 0.0, 1.18, 0.18), 2.18);
    close(family::diesel(&dry, &a, 1.0, 0.0, 3.0), 8.0);
    close(family::on_indicated(1.04, 0.8), 1.05);
    assert_eq!(family::on_indicated_checked(1.04, 0.8, HERE), Ok(family::on_indicated(1.04, 0.8)));
    close(family::on_indicated_checked(0.9, 0.8, HERE).unwrap(), 0.875);
    assert!(family::on_indicated_checked(0.5, 0.5, HERE).is_err());
    // 120 000 · 10 / (2 · 4000) mg a cycle and litre
    close(family::fuel_per_cycle(10.0, 2.0, 4000.0, false), 150.0);
    close(family::fuel_per_cycle(10.0, 2.0, 4000.0, true), 75.0);
}

#[test]
fn mechanical_efficiency_is_taken_or_assumed_and_said() {
    let plain = Engine::new(Ignition::Spark, Charging::None);
    let (value, notice) = family::mechanical_efficiency(&plain, 0.85, &HERE).unwrap();
    assert!(value == 0.85 && notice.is_some());
    let of = |eta: f64| family::mechanical_efficiency(&plain.with_mechanical_efficiency(eta), 0.85, &HERE);
    assert_eq!(of(0.9), Ok((0.9, None)));
    assert_eq!((of(0.1), of(1.0)), (Ok((0.1, None)), Ok((1.0, None))));
    for no in [0.099, 1.001, f64::NAN] {
        assert!(of(no).is_err(), "{no}");
    }
}

#[test]
fn the_engine_factor_of_a_diesel() {
    let f = EngineFactor::FROM_40;
    assert_eq!((f.at(39.999), f.at(65.001)), (0.3, 1.2));
    close(f.at(40.0), 0.3);
    close(f.at(50.0), 0.66);
    close(f.at(65.0), 1.2);
    let low = EngineFactor::FROM_37_2;
    assert_eq!((low.at(37.19), low.at(66.0)), (0.2, 1.2));
    close(low.at(37.2), 0.036 * 37.2 - 1.14);
    let turbo = Engine::new(Ignition::Compression, Charging::Turbocharged);
    close(f.of(&turbo.fuelled(100.0, 2.0), HERE).unwrap(), 0.66);
    let mut aspirated = Engine::new(Ignition::Compression, Charging::None);
    aspirated.fuel_per_cycle = Some(50.0);
    close(f.of(&aspirated, HERE).unwrap(), 0.66);
    let mut unsaid = turbo;
    unsaid.fuel_per_cycle = Some(50.0);
    assert!(matches!(f.of(&unsaid, HERE), Err(Refusal::Missing { what: "charge pressure ratio", .. })));
    assert!(matches!(f.of(&turbo, HERE), Err(Refusal::Missing { what: "fuel per cycle", .. })));
    for (q, r) in [(0.0, 1.0), (1000.0, 10.0)] {
        assert!(f.of(&turbo.fuelled(q, r), HERE).is_ok(), "{q} {r}");
    }
    for (q, r) in
        [(-0.1, 2.0), (1000.1, 2.0), (50.0, 0.99), (50.0, 10.1), (f64::NAN, 2.0), (50.0, f64::INFINITY)]
    {
        assert!(f.of(&turbo.fuelled(q, r), HERE).is_err(), "{q} {r}");
    }
}

#[test]
fn the_exponents_follow_charging_and_cooling() {
    let rule = DieselRule {
        aspirated: Exponents::new(1.0, 0.0),
        turbocharged: Exponents::new(2.0, 0.0),
        liquid_cooled: Exponents::new(3.0, 0.0),
        engine_factor: EngineFactor::FROM_40,
        cite: HERE,
    };
    let engine = |c, cooling| Engine::new(Ignition::Compression, c).cooled(cooling).fuelled(70.0, 1.0);
    let a = air(51.5, 25.0, 2.0).unwrap();
    for (charging, cooling, power) in [
        (Charging::None, ChargeCooling::Liquid, 1.0),
        (Charging::Supercharged, ChargeCooling::Liquid, 1.0),
        (Charging::Turbocharged, ChargeCooling::None, 2.0),
        (Charging::Turbocharged, ChargeCooling::Air, 2.0),
        (Charging::Turbocharged, ChargeCooling::Liquid, 3.0),
    ] {
        let got = rule.factor(&reference(PressureBasis::Dry), &a, &engine(charging, cooling)).unwrap();
        close(got, libm::pow(libm::pow(2.0, power), 1.2));
    }
}

struct Invented(&'static StandardCard);

impl CorrectionStandard for Invented {
    fn card(&self) -> &'static StandardCard {
        self.0
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        self.0.admit(engine)?;
        Ok(self.0.judge(family::power_law(&self.0.reference, air, 1.0, 0.0), air, engine))
    }
}

const WINDOW: TestWindow =
    TestWindow::new(PressureBasis::Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.95, 1.05]), HERE);

const CARD: StandardCard = StandardCard {
    id: "invented-1",
    designation: "Invented 1",
    title: "Invented",
    edition: "1",
    status: Status::Unknown,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: false, charged: false },
    reference: ReferenceAir {
        basis: PressureBasis::Dry,
        pressure_kpa: 99.0,
        vapour_kpa: 1.0,
        temperature_c: 25.0,
        kelvin_offset: 273.0,
    },
    spark: WINDOW,
    compression: TestWindow::OPEN,
    formula: "99/p",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[Source { what: "formula", cite: HERE }],
    gaps: &[],
    aliases: &[],
    examples: &[],
};
static SPARK_ONLY: StandardCard = CARD;
static COMPENSATING: StandardCard = StandardCard {
    id: "invented-2",
    applies: Applicability { spark: true, compression: true, charged: true },
    compensation: Compensation::FactorOne(HERE),
    compensates_spark_only: true,
    ..CARD
};

static ALIASED: StandardCard = StandardCard {
    id: "invented-3",
    aliases: &[Alias { id: "invented-1", designation: "Invented 1", cite: HERE }],
    ..CARD
};

#[test]
fn engines_outside_the_scope_are_refused() {
    let engine = Engine::new;
    assert!(SPARK_ONLY.admit(&engine(Ignition::Spark, Charging::None)).is_ok());
    assert!(SPARK_ONLY.admit(&engine(Ignition::Compression, Charging::None)).is_err());
    assert!(SPARK_ONLY.admit(&engine(Ignition::Spark, Charging::Supercharged)).is_err());
    let all = [Ignition::Spark, Ignition::Compression];
    assert!(all.into_iter().all(|i| COMPENSATING.admit(&engine(i, Charging::Turbocharged)).is_ok()));
    assert_eq!(CARD.window(Ignition::Spark), &WINDOW);
    assert_eq!(CARD.window(Ignition::Compression), &TestWindow::OPEN);
    assert_eq!(CARD.grade(), Reading::Derived);
}

#[test]
fn leaving_a_range_is_said_and_never_clamped() {
    let spark = Engine::new(Ignition::Spark, Charging::None);
    let factor = |kpa, c| Invented(&SPARK_ONLY).factor(&air(kpa, c, 0.0).unwrap(), &spark).unwrap();
    assert_eq!(factor(99.0, 25.0).notices(), Notices::NONE);
    let names = |f: &Factor| f.notices().iter().map(ToString::to_string).collect::<Vec<_>>().join("; ");
    for (kpa, c, what) in [
        (99.0, 14.0, "intake air temperature is 287 K"),
        (99.0, 36.0, "intake air temperature is 309 K"),
        (75.0, 25.0, "dry pressure is 75 kPa"),
        (112.0, 25.0, "dry pressure is 112 kPa"),
        (90.0, 25.0, "correction factor is 1.1"),
    ] {
        let f = factor(kpa, c);
        assert!(names(&f).contains(what) && f.outside_range(), "{}", names(&f));
        close(f.value(), 99.0 / kpa);
    }
}

#[test]
fn compensation_holds_for_the_engines_it_is_for() {
    let thin = air(90.0, 25.0, 0.0).unwrap();
    let factor = |card, ignition, charging, yes: bool| {
        let engine = Engine::new(ignition, charging).compensated(yes);
        Invented(card).factor(&thin, &engine).unwrap()
    };
    let (s, c, turbo) = (Ignition::Spark, Ignition::Compression, Charging::Turbocharged);
    let one = factor(&COMPENSATING, s, turbo, true);
    assert_eq!(one.value(), 1.0);
    close(one.blind(), 1.1);
    for f in [
        factor(&COMPENSATING, s, turbo, false),
        factor(&COMPENSATING, c, turbo, true),
        factor(&COMPENSATING, s, Charging::None, true),
    ] {
        close(f.value(), 1.1);
        assert_eq!(f.value(), f.blind());
    }
    let plain = Factor::plain(1.2).noting(Notice::Convention { what: "x" });
    assert_eq!((plain.value(), plain.blind(), plain.notices().iter().count()), (1.2, 1.2, 1));
}

#[test]
fn only_shaky_sources_are_noticed() {
    const fn source(reading: Reading) -> Source {
        Source { what: "constants", cite: Cite::new("text", "", reading) }
    }
    static SOURCES: [Source; 5] = [
        source(Reading::Derived),
        source(Reading::Read),
        source(Reading::Corroborated),
        source(Reading::Remembered),
        source(Reading::Doubtful),
    ];
    let told = Factor::plain(1.0).resting_on(&SOURCES);
    let shaky: Vec<String> = told.notices().iter().map(ToString::to_string).collect();
    assert!(shaky.iter().all(|t| t.starts_with("constants rests on text, from memory")), "{shaky:?}");
    assert!((1..=2).contains(&shaky.len()), "{shaky:?}");
}

#[test]
fn a_catalogue_finds_by_id_and_refuses_a_second_one() {
    let (a, b) = (Invented(&SPARK_ONLY), Invented(&COMPENSATING));
    let list: [&dyn CorrectionStandard; 2] = [&a, &b];
    let c = Catalogue::new(&list, &[], &[]).unwrap();
    assert_eq!(c.standard("invented-2").map(|s| s.card().id), Some("invented-2"));
    assert!(c.standard("invented-3").is_none() && c.loss("x").is_none() && c.knock("x").is_none());
    assert_eq!((c.standards().len(), c.losses().len(), c.knocks().len()), (2, 0, 0));
    let twice: [&dyn CorrectionStandard; 2] = [&a, &a];
    assert_eq!(Catalogue::new(&twice, &[], &[]).err().map(|e| e.id), Some("invented-1"));
    // an alias is found too, and may not be another's id
    let c = Invented(&ALIASED);
    let list: [&dyn CorrectionStandard; 2] = [&b, &c];
    let found = Catalogue::new(&list, &[], &[]).unwrap();
    assert_eq!(found.standard("invented-1").map(|s| s.card().id), Some("invented-3"));
    let clash: [&dyn CorrectionStandard; 2] = [&a, &c];
    assert_eq!(Catalogue::new(&clash, &[], &[]).err().map(|e| e.id), Some("invented-1"));
    let loss = Half;
    let losses: [&dyn LossModel; 2] = [&loss, &loss];
    assert_eq!(Catalogue::new(&[], &losses, &[]).err().map(|e| e.id), Some("half"));
    let knock = Silent;
    let knocks: [&dyn KnockModel; 2] = [&knock, &knock];
    assert_eq!(Catalogue::new(&[], &[], &knocks).err().map(|e| e.id), Some("silent"));
    let quiet = Catalogue::new(&[], &[], &knocks[..1]).unwrap();
    assert_eq!(quiet.knock("silent").map(|k| k.card().id), Some("silent"));
    assert!(quiet.knock("other").is_none());
    let once = Catalogue::new(&[], &losses[..1], &[]).unwrap();
    assert_eq!(once.loss("half").map(|l| l.card().id), Some("half"));
    assert!(once.loss("other").is_none());
}

/// A knock model that refuses every question.
struct Silent;

static SILENT: KnockCard = KnockCard {
    id: "silent",
    title: "silent",
    formula: "none",
    leaves_out: "all",
    needs: &[],
    sources: &[],
    example: (Fuel::new(None, None), KnockPoint::unknown()),
};

impl KnockModel for Silent {
    fn card(&self) -> &'static KnockCard {
        &SILENT
    }

    fn margin(&self, _: &Fuel, _: &KnockPoint) -> Result<Margin, Refusal> {
        Err(Refusal::Other { why: "silent", cite: HERE })
    }
}

/// Half of what reaches the wheels is lost on the way, and 100 W besides.
struct Half;

static HALF: LossCard = LossCard {
    id: "half",
    title: "half",
    contains: "all",
    leaves_out: "nothing",
    needs: &[],
    formula: "1.5 P + 100 W",
    habit: false,
    sources: &[Source { what: "formula", cite: HERE }],
    example: (DrivePoint::unknown(), Driveline::unknown()),
};

impl LossModel for Half {
    fn card(&self) -> &'static LossCard {
        &HALF
    }

    fn to_crank(&self, wheel: PowerAtWheels, _: &DrivePoint, _: &Driveline<'_>) -> Result<AtCrank, Refusal> {
        let power = PowerAtCrank::from_watts(1.5 * wheel.watts() + 100.0);
        Ok(AtCrank { power, uncertainty: 1.0, notices: Notices::NONE })
    }
}

#[test]
fn a_loss_is_turned_back_to_the_last_bit() {
    let (at, line) = (DrivePoint::unknown(), Driveline::unknown());
    let back = |w: f64| Half.to_wheels(PowerAtCrank::from_watts(w), &at, &line);
    for wheel in [0.0, 1.0, 1234.5, 3e5] {
        let (found, again) = back(1.5 * wheel + 100.0).unwrap();
        assert!((found.watts() - wheel).abs() <= 1e-10 * wheel.max(1e-3), "{} for {wheel}", found.watts());
        close(again.power.watts(), 1.5 * wheel + 100.0);
    }
    assert!(back(99.0).is_err() && back(0.0).is_err() && back(-5.0).is_err());
    assert!(matches!(back(f64::NAN), Err(Refusal::NotFinite { .. })));
    assert_eq!((HALF.grade(), HALF.cite()), (Reading::Derived, HERE));
}
