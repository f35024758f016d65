//! What must hold for every input of a kind, over drawn inputs: each test states its property. Those of one room stand
//! with it (units, figures, moist air, fuels, recordings); here are the ones that run through several.
#![allow(clippy::panic)]

#[allow(dead_code)] // shared with the test `hostile` and the fuzz targets
#[path = "fuzz/src/lib.rs"]
mod fuzz;
#[path = "../crates/fairpull-report/src/schema_check.rs"]
mod schema_check;

use fairpull::builtin;
use fairpull::core::{
    AbsolutePressure, Air, ChargeCooling, Charging, CorrectionStandard, Engine, Ignition, PowerAtCrank,
    PowerAtWheels, Temperature, VapourPressure,
};
use fairpull::recordings::{Column, Layout, Role, read};
use fairpull::reduction::{Job, reduce};
use fairpull::restate::{Figure, Knowledge, KnownAir, Target, restate};
use fairpull::units::{Unit, convert, units};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn draws(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(20_260_511),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn air(kpa: f64, celsius: f64, vapour: f64) -> Air {
    Air::new(
        AbsolutePressure::from_kilopascals(kpa),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour),
    )
    .unwrap_or_else(|e| panic!("{kpa} kPa, {celsius} °C, {vapour} kPa: {e}"))
}

/// A standard by its id, which says in a report which one it was.
#[derive(Clone, Copy)]
struct Chosen(&'static dyn CorrectionStandard);

impl core::fmt::Debug for Chosen {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.0.card().id)
    }
}

fn a_standard() -> impl Strategy<Value = Chosen> {
    let all = builtin();
    (0..all.standards().len()).prop_map(move |n| Chosen(all.standards()[n]))
}

fn an_engine() -> impl Strategy<Value = Engine> {
    let ignition = prop_oneof![Just(Ignition::Spark), Just(Ignition::Compression)];
    let charging =
        prop_oneof![Just(Charging::None), Just(Charging::Supercharged), Just(Charging::Turbocharged)];
    let cooling =
        prop_oneof![Just(ChargeCooling::None), Just(ChargeCooling::Air), Just(ChargeCooling::Liquid)];
    (ignition, charging, cooling, 20.0..90.0_f64, 1.0..3.0_f64, 0.75..0.95_f64).prop_map(
        |(ignition, charging, cooling, q, r, efficiency)| {
            Engine::new(ignition, charging)
                .cooled(cooling)
                .fuelled(q, r)
                .with_mechanical_efficiency(efficiency)
        },
    )
}

/// How many times the larger is the smaller.
fn apart(a: f64, b: f64) -> f64 {
    (a / b).max(b / a)
}

proptest! {
    #![proptest_config(draws(2000))]

    /// Thinner or warmer air never lowers a factor: less power was developed in it.
    #[test]
    fn a_factor_never_falls_as_the_air_thins(
        Chosen(s) in a_standard(), engine in an_engine(),
        kpa in 70.0..108.0_f64, less in 0.0..0.1_f64, celsius in -15.0..45.0_f64, warmer in 0.0..10.0_f64, vapour in 0.0..3.0_f64,
    ) {
        let here = s.factor(&air(kpa, celsius, vapour), &engine);
        let there = s.factor(&air(kpa * (1.0 - less), celsius + warmer, vapour), &engine);
        if let (Ok(here), Ok(there)) = (here, there) {
            prop_assert!(there.value() >= here.value() * (1.0 - 4.0 * f64::EPSILON), "{}: {} then {}", s.card().id, here.value(), there.value());
        }
    }

    /// A factor is finite, positive, and within what the pressure and temperature ratios to a steep power allow.
    #[test]
    fn a_factor_stays_near_what_the_air_says(
        Chosen(s) in a_standard(), engine in an_engine(), kpa in 50.0..115.0_f64, celsius in -30.0..55.0_f64, vapour in 0.0..4.0_f64,
    ) {
        let reference = &s.card().reference;
        if let Ok(f) = s.factor(&air(kpa, celsius, vapour), &engine) {
            let thin = apart(reference.total_kpa(), kpa - vapour);
            let warm = apart(celsius + 273.15, reference.temperature_c + 273.15);
            // no text raises a ratio to more than its square
            let most = 1.1 * thin * thin * warm * warm;
            prop_assert!(f.value() > 1.0 / most && f.value() < most, "{}: {} beyond {most}", s.card().id, f.value());
        }
    }

    /// A text reads the dry pressure or the total one, nothing between: moisture at the same pressure of its kind
    /// changes nothing.
    #[test]
    fn only_the_pressure_that_a_text_reads_counts(
        Chosen(s) in a_standard(), engine in an_engine(), kpa in 80.0..104.0_f64, celsius in -10.0..40.0_f64, a in 0.0..3.0_f64, b in 0.0..3.0_f64,
    ) {
        let factor = |total: f64, vapour: f64| s.factor(&air(total, celsius, vapour), &engine).map(|f| f.value());
        let same = |x: f64, y: f64| (x / y - 1.0).abs() < 1e-13;
        if let (Ok(dry_a), Ok(dry_b), Ok(total_b)) = (factor(kpa + a, a), factor(kpa + b, b), factor(kpa + a, b)) {
            prop_assert!(same(dry_a, dry_b) || same(dry_a, total_b), "{}: {dry_a}, {dry_b}, {total_b}", s.card().id);
        }
    }

    /// A loss model gives more at the crank for more at the wheels, never less than at the wheels, and its inverse
    /// returns the wheel power.
    #[test]
    fn a_loss_adds_rises_and_turns_back(n in 0usize..7, wheel in 5e3..600e3_f64, more in 1.0..100e3_f64) {
        let all = builtin();
        let model = all.losses()[n % all.losses().len()];
        let (at, line) = &model.card().example;
        let crank = |w: f64| model.to_crank(PowerAtWheels::from_watts(w), at, line).map(|a| a.power.watts());
        if let (Ok(a), Ok(b)) = (crank(wheel), crank(wheel + more)) {
            prop_assert!(a >= wheel && b > a, "{}: {wheel} W gives {a}, {more} more gives {b}", model.card().id);
            let (back, _) = model.to_wheels(PowerAtCrank::from_watts(a), at, line).unwrap_or_else(|e| panic!("{e}"));
            prop_assert!((back.watts() / wheel - 1.0).abs() < 1e-9, "{}: {} for {wheel}", model.card().id, back.watts());
        }
    }

    /// A value converted to a unit of its kind and back is the value, to rounding.
    #[test]
    fn every_pair_of_units_converts_back(a in 0usize..500, b in 0usize..500, value in -1e6..1e6_f64) {
        let all: Vec<&'static Unit> = units().collect();
        let from = all[a % all.len()];
        let same: Vec<&'static Unit> = all.iter().copied().filter(|u| u.dimension() == from.dimension()).collect();
        let to = same[b % same.len()];
        if let Ok(there) = convert(value, from, to) {
            let back = convert(there, to, from).unwrap_or_else(|e| panic!("{value} {from} is {there} {to}: {e}"));
            // a temperature carries the zero of its scale along
            let scale = value.abs().max(if from.dimension() == fairpull::units::Dimension::Temperature { 1e3 } else { 0.0 });
            prop_assert!((back - value).abs() <= 1e-12 * scale, "{value} {from} through {to}: {back}");
        }
    }
}

proptest! {
    #![proptest_config(draws(200))]

    /// From one standard to another and back, in known air: the figure, to rounding.
    #[test]
    fn restated_there_and_back_is_the_same_figure(
        Chosen(a) in a_standard(), Chosen(b) in a_standard(), watts in 20e3..500e3_f64,
        kpa in 80.0..104.0_f64, celsius in -5.0..38.0_f64, vapour in 0.0..0.6_f64,
    ) {
        let (catalogue, knowledge) = (builtin(), Knowledge::new());
        let unit = Unit::find("W").unwrap_or_else(|| panic!("no watt"));
        let here = KnownAir::exact(&air(kpa, celsius, vapour));
        let figure = Figure::new(watts, unit).unwrap_or_else(|| panic!("{watts} W"));
        let figure = figure.at(fairpull::restate::Site::Crank).corrected(a.card().id).in_air(here);
        let there = restate(&figure, &Target::standard(b.card().id), &catalogue, &knowledge);
        if let Ok(there) = there {
            let plain = Figure { interval: None, ..there.figure };
            let back = restate(&plain, &Target::standard(a.card().id), &catalogue, &knowledge);
            let back = back.unwrap_or_else(|e| panic!("{} to {} but not back: {e}", a.card().id, b.card().id));
            prop_assert!((back.value / watts - 1.0).abs() < 1e-12, "{watts} came back as {}", back.value);
        }
    }

    /// The order of the columns in a log changes nothing that is read from it.
    #[test]
    fn the_order_of_columns_does_not_matter(
        rows in prop::collection::vec((1200.0..7000.0_f64, 20.0..200.0_f64, 30.0..250.0_f64), 3..40),
        order in Just([0usize, 1, 2, 3]).prop_shuffle(),
    ) {
        let names = ["Time [s]", "Engine [rpm]", "Roller [km/h]", "Manifold [kPa]"];
        let log = |order: [usize; 4]| {
            let line = |cells: [String; 4]| order.map(|n| cells[n].clone()).join(",") + "\n";
            let mut text = line(names.map(String::from));
            for (n, (a, b, c)) in rows.iter().enumerate() {
                text += &line([format!("{:.2}", n as f64 * 0.05), format!("{a:.1}"), format!("{b:.2}"), format!("{c:.1}")]);
            }
            text
        };
        let layout = Layout::of(vec![
            Column::new(Role::Time, "Time").unit("s"),
            Column::new(Role::EngineSpeed, "Engine").unit("rpm"),
            Column::new(Role::RollerSpeed, "Roller").unit("km/h"),
            Column::new(Role::ManifoldPressure, "Manifold").unit("kPa").reference(fairpull::recordings::PressureReference::Absolute),
        ]);
        let plain = read(log([0, 1, 2, 3]).as_bytes(), "log.csv", &layout);
        let mixed = read(log(order).as_bytes(), "log.csv", &layout);
        match (plain, mixed) {
            (Ok(a), Ok(b)) => {
                prop_assert_eq!(bits(&a.time), bits(&b.time));
                for role in [Role::EngineSpeed, Role::RollerSpeed, Role::ManifoldPressure] {
                    let of = |r: &fairpull::recordings::Recording| r.channel(role).map(|c| bits(&c.values));
                    prop_assert_eq!(of(&a), of(&b), "{:?}", role);
                }
                let told = |r: &fairpull::recordings::Recording| {
                    let mut all: Vec<String> = r.repairs.iter().map(ToString::to_string).collect();
                    all.sort();
                    all
                };
                prop_assert_eq!(told(&a), told(&b));
            }
            (Err(_), Err(_)) => {}
            (a, b) => prop_assert!(false, "one order is read, the other refused: {:?} {:?}", a.err(), b.err()),
        }
    }

    /// A quantity of a job file means the same in whatever unit of its kind it is written.
    #[test]
    fn a_job_reads_the_same_in_any_unit(
        tyre in 0.15..0.9_f64, inertia in 0.01..5.0_f64, roller in 0.5..200.0_f64, radius in 0.06..2.0_f64, drag in 0.0..900.0_f64,
        pick in prop::array::uniform4(0usize..50),
    ) {
        let write = |si: f64, symbol: &str, pick: usize| {
            let base = Unit::find(symbol).unwrap_or_else(|| panic!("no {symbol}"));
            let same: Vec<&'static Unit> = units().filter(|u| u.dimension() == base.dimension()).collect();
            let unit = same[pick % same.len()];
            let value = convert(si, base, unit).unwrap_or_else(|e| panic!("{e}"));
            format!("{value}{}", unit.symbol())
        };
        let job = |pick: [usize; 4]| {
            let (plain, _) = fuzz::recipe::made(&[]);
            let text: Vec<String> = plain.lines().map(|l| match l.split(' ').next().unwrap_or("") {
                "tyre_radius" => format!("tyre_radius = \"{}\"", write(tyre, "m", pick[0])),
                "engine_inertia" => format!("engine_inertia = \"{}\"", write(inertia, "kg·m²", pick[1])),
                "roller_inertia" => format!("roller_inertia = \"{}\"", write(roller, "kg·m²", pick[1])),
                "roller_radius" => format!("roller_radius = \"{}\"", write(radius, "m", pick[2])),
                "parasitic_a" => format!("parasitic_a = \"{}\"", write(drag, "N", pick[3])),
                _ => l.to_owned(),
            }).collect();
            Job::parse(&text.join("\n"), "job.toml").unwrap_or_else(|e| panic!("{e}\n{}", text.join("\n")))
        };
        let job = job(pick);
        let read = [job.vehicle.tyre_radius.value, job.vehicle.engine_inertia.value, job.rig.inertia.value, job.rig.radius.value, job.rig.parasitic[0]];
        for (got, meant) in read.into_iter().zip([tyre, inertia, roller, radius, drag]) {
            prop_assert!((got - meant).abs() <= 1e-12 * meant.abs().max(1e-3), "{got} for {meant}");
        }
    }
}

fn bits(values: &[f64]) -> Vec<u64> {
    values.iter().map(|v| v.to_bits()).collect()
}

proptest! {
    #![proptest_config(draws(24))]

    /// Whatever a job asks for, what comes out is JSON to the published schema.
    #[test]
    fn every_result_keeps_to_the_published_schema(choices in prop::collection::vec(prop_oneof![4 => Just(0u8), 1 => any::<u8>()], 0..60)) {
        let (job, logs) = fuzz::recipe::made(&choices);
        let Ok(job) = Job::parse(&job, "job.toml") else { return Ok(()) };
        let mut logs = logs.into_iter();
        let mut give = |_: &str| logs.next().ok_or_else(|| "no such file".to_owned());
        let catalogue = builtin();
        if let Ok(outcome) = reduce(&job, &catalogue, &mut give, &mut |_, _| true) {
            let json = fairpull::report::to_json(&fairpull::present(&job, &outcome, &catalogue));
            let json = json.unwrap_or_else(|e| panic!("{e}"));
            let value = serde_json::from_str(&json).unwrap_or_else(|e| panic!("{e}"));
            let (faults, _) = schema_check::faults(&value);
            prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
        }
    }
}
