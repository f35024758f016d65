//! Claims: messages for bad input, single checks on published cases, and 400 invented claims with known truth.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_claims::{Check, Claim, Outcome, Vetting, vet};
use fairpull_core::Catalogue;
use fairpull_road::*;
use fairpull_uncertainty::Random;

static STANDARDS: &[&dyn fairpull_core::CorrectionStandard] =
    &[&fairpull_iso_1585::Iso1585, &fairpull_sae_j1349::SaeJ1349];
static LOSSES: &[&dyn fairpull_core::LossModel] = &[&fairpull_losses::PriorBand];

fn catalogue() -> Catalogue<'static> {
    Catalogue::new(STANDARDS, LOSSES, fairpull_fuels::KNOCK_MODELS).unwrap()
}

fn vetted(body: &str) -> Vetting {
    let claim = Claim::parse(&format!("schema = \"fairpull-claim-1\"\n{body}"), "claim.toml").unwrap();
    vet(&claim, &catalogue()).unwrap()
}

fn find<'a>(v: &'a Vetting, id: &str) -> &'a Check {
    v.checks.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("{id} was not run: {:?}", v.not_run))
}

#[test]
fn bad_claims_are_refused_with_place_field_value_and_mend() {
    let say = |body: &str| {
        Claim::parse(&format!("schema = \"fairpull-claim-1\"\n{body}"), "claim.toml").unwrap_err().to_string()
    };
    insta::assert_snapshot!(say("[engine]\npower = \"400Nm\"\n"), @r#"claim.toml:3:9: engine.power: "400Nm": N·m is a unit of torque, but a power was expected; units of power: kW, W, MW, PS, hp, lbf·ft/s; write e.g. power = "221kW""#);
    insta::assert_snapshot!(say("[engine]\npower = 400\n"), @r#"claim.toml:3:9: engine.power: 400 has no unit; a power was expected; write power = "221kW""#);
    insta::assert_snapshot!(say("[engine]\npwoer = \"400kW\"\n"), @"claim.toml:3:1: engine.pwoer: is not a field of a claim; did you mean power?");
    insta::assert_snapshot!(say("[motor]\npower = \"400kW\"\n"), @"claim.toml:2:2: motor: is not a field of a claim; known here: engine, stock, fuel, parts, car, time, curve, schema, title");
    insta::assert_snapshot!(say("[car]\nmass = \"0kg\"\n"), @r#"claim.toml:3:8: car.mass: is 0kg; expected 30.00 kg to 100000 kg; write e.g. mass = "1650kg""#);
    insta::assert_snapshot!(say("[engine]\ncharging = \"turbo\"\n"), @r#"claim.toml:3:12: engine.charging: is "turbo"; expected one of none, supercharged, turbocharged; write e.g. charging = "turbocharged""#);
    insta::assert_snapshot!(say("[[time]]\nfrom = \"200km/h\"\nto = \"100km/h\"\ntime = \"9s\"\n"), @r#"claim.toml:4:6: time[1].to: is 100.0 km/h, not above the start speed 200.0 km/h; give the lower speed as "from""#);
    insta::assert_snapshot!(say("[[time]]\nto = \"100km/h\"\ntime = \"6s\"\n[[time]]\nto = \"200km/h\"\ntime = \"5s\"\n"), @"claim.toml:7:8: time[2].time: is 5 s, but another time from the same start is 6 s: the longer way cannot take less time; check which time belongs to which speed or distance");
    insta::assert_snapshot!(say("[[time]]\nto = \"100km/h\"\n"), @r#"claim.toml:2:1: time[1].time: is missing; write time = "9.1s""#);
    insta::assert_snapshot!(say("[car]\ngears = [2.1, 3.6]\n"), @"claim.toml:3:9: car.gears: gear 1 is not shorter than gear 2; give the ratios from first gear on, falling");
    insta::assert_snapshot!(say("[engine\n"), @r#"claim.toml:2:8: file: unclosed table, expected `]`; write TOML: key = "number and unit""#);
    insta::assert_snapshot!(Claim::parse("[engine]\n", "claim.toml").unwrap_err(), @r#"claim.toml:1:1: schema: is missing; write schema = "fairpull-claim-1" first"#);
    insta::assert_snapshot!(Claim::parse("schema = \"fairpull-claim-9\"\n", "claim.toml").unwrap_err(), @r#"claim.toml:1:10: schema: is "fairpull-claim-9", this reads "fairpull-claim-1"; write schema = "fairpull-claim-1""#);
    insta::assert_snapshot!(Claim::default().set("engine", "power", "400xx").unwrap_err(), @r#"--flags:0:0: engine.power: "400xx": "xx" is not a known unit of power; units of power: kW, W, MW, PS, hp, lbf·ft/s; write e.g. power = "221kW""#);
}

#[test]
fn flags_and_file_say_the_same() {
    let mut flags = Claim::default();
    flags.set("engine", "power", "221kW").unwrap();
    flags.set("car", "mass", "1650kg").unwrap();
    flags.set("engine", "cylinders", "4").unwrap();
    let file = Claim::parse(
        "schema = \"fairpull-claim-1\"\n[engine]\npower = \"221kW\"\ncylinders = 4\n[car]\nmass = \"1650kg\"\n",
        "claim.toml",
    )
    .unwrap();
    assert_eq!(flags, file);
}

#[test]
fn identity_of_power_torque_and_speed() {
    let case = |hp: f64, rpm: f64, torque: f64| {
        let v = vetted(&format!(
            "[engine]\npower = \"{hp}hp\"\npower_speed = \"{rpm}rpm\"\ntorque = \"{torque}lbf.ft\"\n"
        ));
        let c = find(&v, "torque-identity");
        (c.outcome, c.value / c.high.unwrap())
    };
    // The two rows of the open 47-car table that contradict themselves, and rounding.
    let (outcome, ratio) = case(645.0, 5000.0, 600.0);
    assert!(outcome == Outcome::Contradicted && (ratio - 1.1292).abs() < 1e-4, "{ratio}");
    let (outcome, ratio) = case(545.0, 6400.0, 436.0);
    assert!(outcome == Outcome::Contradicted && (ratio - 1.0258).abs() < 1e-4, "{ratio}");
    assert_eq!(case(500.0, 6000.0, 436.0).0, Outcome::CannotTell);
    assert_eq!(case(400.0, 6000.0, 420.0).0, Outcome::Consistent);
    // Torque held to an engine speed at which it would make more than the peak power.
    let v = vetted(
        "[engine]\npower = \"200kW\"\npower_speed = \"6000rpm\"\ntorque = \"400Nm\"\ntorque_speed_end = \"5500rpm\"\n",
    );
    assert_eq!(find(&v, "torque-at-speed").outcome, Outcome::Contradicted);
}

#[test]
fn own_judgement_never_contradicts() {
    // 50 bar of mean pressure and 32 m/s of piston speed: unheard of on the road, but the bounds are own judgement.
    let v = vetted(
        "[engine]\npower = \"800kW\"\npower_speed = \"10000rpm\"\ntorque = \"800Nm\"\ndisplacement = \"1950cm3\"\nstroke = \"96mm\"\ncharging = \"turbocharged\"\n",
    );
    for id in ["bmep-torque", "bmep-power", "piston-speed", "specific-power"] {
        let c = find(&v, id);
        assert_eq!(c.outcome, Outcome::CannotTell, "{c:?}");
        assert!(c.place.contains("contradicts nothing"), "{}", c.place);
    }
    assert_ne!(v.outcome, Outcome::Contradicted);
    // 25.8 bar: 400 N·m from 1950 cm³.
    let v = vetted("[engine]\ntorque = \"400Nm\"\ndisplacement = \"1950cm3\"\ncharging = \"turbocharged\"\n");
    let c = find(&v, "bmep-torque");
    assert!((c.value - 25.77717049099318).abs() < 1e-9);
    assert_eq!(c.outcome, Outcome::Consistent);
}

#[test]
fn air_fuel_and_parts() {
    let engine = "[engine]\npower = \"250kW\"\npower_speed = \"6500rpm\"\ndisplacement = \"1950cm3\"\nignition = \"spark\"\ncharging = \"turbocharged\"\nsite = \"crank\"\n";
    // 250 kW at 300 g/kWh is 75 kg/h.
    let v = vetted(&format!("{engine}[fuel]\nflow = \"75kg/h\"\nconsumption = \"300g/kWh\"\n"));
    assert_eq!(find(&v, "fuel-flow").outcome, Outcome::Consistent);
    let v = vetted(&format!("{engine}[fuel]\nflow = \"68kg/h\"\nconsumption = \"300g/kWh\"\n"));
    assert_eq!(find(&v, "fuel-flow").outcome, Outcome::Contradicted);
    let v = vetted(&format!("{engine}[fuel]\nflow = \"50kg/h\"\n"));
    assert_eq!(find(&v, "fuel-flow").outcome, Outcome::Contradicted, "200 g/kWh");
    let v = vetted(&format!(
        "{engine}[parts]\ncompressor_flow = \"0.20kg/s\"\ninjectors = 4\ninjector_flow = \"300cm3/min\"\nmanifold_pressure = \"150kPa(a)\"\n"
    ));
    assert_eq!(find(&v, "compressor-flow").outcome, Outcome::Contradicted);
    assert_eq!(find(&v, "injectors").outcome, Outcome::Contradicted);
    assert_eq!(find(&v, "manifold").outcome, Outcome::Contradicted);
    // Worked example: 4 injectors of 550 cm³/min at 3 bar are open 76.27 % of the time.
    let v = vetted(&format!(
        "{engine}[parts]\ncompressor_flow = \"0.32kg/s\"\ninjectors = 4\ninjector_flow = \"550cm3/min\"\nmanifold_pressure = \"240kPa(a)\"\ncharge_temperature = \"45C\"\n"
    ));
    let c = find(&v, "injectors");
    assert!((c.value - 0.7626601586333132).abs() < 1e-9, "{}", c.value);
    assert_eq!(c.outcome, Outcome::Consistent);
    assert_eq!(find(&v, "manifold").outcome, Outcome::Consistent);
    assert_eq!(find(&v, "compressor-flow").outcome, Outcome::Consistent);
}

#[test]
fn basis_loss_gain_and_fuel() {
    let v = vetted("[engine]\npower = \"300hp\"\n");
    assert_eq!(find(&v, "horsepower").outcome, Outcome::CannotTell);
    let c = find(&v, "basis");
    assert_eq!(c.outcome, Outcome::CannotTell, "{}", c.place);
    assert!(c.high.unwrap() / c.low.unwrap() > 1.05, "{c:?}");
    let v = vetted(
        "[engine]\npower = \"220kW\"\nsite = \"crank\"\nstandard = \"iso-1585\"\nwheel_power = \"225kW\"\n",
    );
    assert_eq!(find(&v, "basis").outcome, Outcome::Consistent);
    assert_eq!(find(&v, "loss").outcome, Outcome::Contradicted);
    let v = vetted("[engine]\npower = \"220kW\"\nwheel_power = \"200kW\"\n");
    assert_eq!(find(&v, "loss").outcome, Outcome::Consistent);
    let v = vetted("[engine]\npower = \"220kW\"\nwheel_power = \"140kW\"\n");
    assert_eq!(find(&v, "loss").outcome, Outcome::CannotTell);
    let gain = |percent: f64| {
        let v = vetted(&format!("[stock]\npower = \"200kW\"\ngain_percent = {percent}\n"));
        find(&v, "gain").outcome
    };
    assert_eq!((gain(1.5), gain(12.0)), (Outcome::CannotTell, Outcome::Consistent));
    let v = vetted("[engine]\npower = \"240kW\"\n[stock]\npower = \"200kW\"\ngain = \"50kW\"\n");
    assert_eq!(find(&v, "gain-sum").outcome, Outcome::Contradicted);
    let knock = |fuel: &str| {
        let v = vetted(&format!("[fuel]\ngrade = \"{fuel}\"\nrequired_ron = 98\n"));
        find(&v, "knock").outcome
    };
    assert_eq!((knock("RON 95 MON 85"), knock("RON 100 MON 88")), (Outcome::CannotTell, Outcome::Consistent));
}

#[test]
fn a_lone_time_speaks_no_louder_than_its_spread() {
    let claim = |kw: f64| {
        let v = vetted(&format!(
            "[engine]\npower = \"{kw}kW\"\nsite = \"crank\"\n[car]\nmass = \"1500kg\"\n[[time]]\nto = \"100km/h\"\ntime = \"5.5s\"\n"
        ));
        find(&v, "road-time").outcome
    };
    // About 125 kW at the crankshaft at every speed would just do it: a fifth less is not contradicted, half is.
    assert_ne!(claim(105.0), Outcome::Contradicted);
    assert_eq!(claim(60.0), Outcome::Contradicted);
    // A time too slow for the power refutes nothing: the launch, the shifts and the driver are not known.
    assert_ne!(claim(400.0), Outcome::Contradicted);
}

/// An invented car with true values drawn around what its brochure states, and its brochure.
fn brochure(random: &mut Random, planted: f64, kind: usize) -> String {
    let power = 120.0 + 280.0 * random.uniform();
    let mass = 1250.0 + 700.0 * random.uniform();
    let (drag, rolling) = (0.58 + 0.2 * random.uniform(), 0.009 + 0.004 * random.uniform());
    let (factor, eta) = (1.04 + 0.02 * random.uniform(), 0.88 + 0.06 * random.uniform());
    let rpm = 5600.0 + 1400.0 * random.uniform();
    // Torque rises to a plateau and falls to 86 % at peak power.
    let shape = |share: f64| {
        let torque = if share < 0.35 {
            0.7 + 0.3 * share / 0.35
        } else if share < 0.75 {
            1.0
        } else {
            1.0 - 0.14 * (share - 0.75) / 0.25
        };
        torque * share / 0.86
    };
    let gears = [3.6, 2.2, 1.55, 1.18, 0.95, 0.78];
    let (final_drive, radius) = (3.4, 0.32);
    let curve: Vec<(f64, f64)> = (2..=11)
        .map(|i| 0.1 * f64::from(i))
        .map(|s| {
            let p = if s <= 1.0 { shape(s) } else { 0.965 };
            (s * rpm, p)
        })
        .collect();
    let mut near = |u: f64| 1.0 + u * random.normal();
    // Truth: what the car really is, off from the brochure by the stated uncertainties.
    let true_mass = mass * near(0.01);
    let mut load = RoadLoad::from_drag_area(true_mass, drag * near(0.03), rolling, 1.2).unwrap();
    load.f0_n *= near(0.1);
    let car = Car {
        mass_kg: true_mass,
        rotating: Rotating::MassFactor(factor + 0.01 * (near(1.0) - 1.0)),
        load,
        traction: None,
        drive: Drive::Geared(Geared {
            curve: curve
                .iter()
                .map(|(n, p)| EnginePower { engine_speed_rpm: *n, crank_power_kw: power * p })
                .collect(),
            driveline_efficiency: eta * near(0.01),
            gear_ratios: gears.to_vec(),
            final_drive,
            tyre_radius_m: radius,
            slip: 0.0,
            shift_rpm: None,
            shift_s: 0.3 + 0.05 * (near(1.0) - 1.0).clamp(-3.0, 3.0),
            launch_rpm: None,
        }),
    };
    let on = Conditions {
        density_kg_per_m3: 1.2 * near(0.005),
        slope_percent: 0.05 * (near(1.0) - 1.0),
        headwind_mps: 0.5 * (near(1.0) - 1.0),
    };
    let claimed = power * planted;
    let mut text = format!(
        "[engine]\npower = \"{claimed:.1}kW\"\npower_speed = \"{rpm:.0}rpm\"\ntorque = \"{:.0}Nm\"\nignition = \"spark\"\ncharging = \"turbocharged\"\nsite = \"crank\"\nstandard = \"iso-1585\"\n",
        // Rounded up, as brochures do.
        libm::ceil(9549.29658551372 * claimed / rpm / 0.86)
    );
    if kind != 1 {
        text += &format!(
            "[car]\nmass = \"{mass:.0}kg\"\nmass_percent = 1\ndrag_area = \"{drag:.3}m2\"\ndrag_percent = 3\nrolling = {rolling:.4}\nmass_factor = {factor:.3}\ndriveline_efficiency = {eta:.3}\ndriveline_efficiency_percent = 1\nair_density = \"1.2kg/m3\"\ngears = {gears:?}\nfinal_drive = {final_drive}\ntyre_radius = \"{radius}m\"\nshift_time = \"0.3s\"\n"
        );
        let (from, to) = (80.0, if power / mass > 0.13 { 180.0 } else { 150.0 });
        let t = time(&car, on, Measure::kmh(from, to)).unwrap().time_s * near(0.003);
        text += &format!(
            "[[time]]\nfrom = \"{from}km/h\"\nto = \"{to}km/h\"\ntime = \"{t:.2}s\"\nuncertainty = \"{:.3}s\"\n",
            0.003 * t
        );
        for (n, p) in &curve {
            text += &format!("[[curve]]\nspeed = \"{n:.0}rpm\"\npower = \"{:.2}kW\"\n", claimed * p);
        }
    }
    if kind != 0 {
        let consumption = 270.0 + 50.0 * near(0.3).clamp(0.0, 1.5);
        let flow = power * consumption / 1000.0 * near(0.015) * near(0.01);
        text += &format!(
            "[fuel]\nflow = \"{flow:.2}kg/h\"\nflow_percent = 1.5\nconsumption = \"{consumption:.0}g/kWh\"\n"
        );
    }
    text
}

#[test]
fn two_hundred_consistent_and_two_hundred_planted_claims() {
    let mut random = Random::new(600);
    let mut false_alarms = 0;
    for i in 0..200 {
        let text = brochure(&mut random, 1.0, i % 3);
        let v = vetted(&text);
        if v.outcome == Outcome::Contradicted {
            false_alarms += 1;
            println!("false alarm: {}", v.statement);
        }
    }
    let (mut found, mut by_kind) = (0, [[0_usize; 2]; 3]);
    for i in 0..200 {
        // 8 to 30 % too much, one in four too little.
        let error = 0.08 + 0.22 * random.uniform();
        let planted = if i % 4 == 3 { 1.0 / (1.0 + error) } else { 1.0 + error };
        let v = vetted(&brochure(&mut random, planted, i % 3));
        let caught = v.outcome == Outcome::Contradicted;
        found += usize::from(caught);
        by_kind[i % 3][0] += usize::from(caught);
        by_kind[i % 3][1] += 1;
    }
    println!(
        "200 consistent claims: {false_alarms} contradicted; 200 with power wrong by 8 to 30 %: {found} contradicted (road time {:?}, flow {:?}, both {:?})",
        by_kind[0], by_kind[1], by_kind[2]
    );
    assert!(false_alarms <= 4, "{false_alarms} of 200");
    assert!(found >= 160, "{found} of 200");
}

#[test]
fn the_statement_is_never_stronger_than_its_evidence() {
    let nothing = vetted("");
    assert_eq!(nothing.outcome, Outcome::CannotTell);
    insta::assert_snapshot!(nothing.statement, @"Cannot tell: the claim gives no check anything to work with.");
    let fine = vetted(
        "[engine]\npower = \"221kW\"\npower_speed = \"5500rpm\"\ntorque = \"400Nm\"\nsite = \"crank\"\nstandard = \"iso-1585\"\n",
    );
    insta::assert_snapshot!(fine.statement, @"Not contradicted: 2 of 2 checks are consistent with the claim (basis, torque-identity). That is no proof of the figure, only that these numbers fit together.");
    let wrong = vetted(
        "[engine]\npower = \"260kW\"\npower_speed = \"5500rpm\"\ntorque = \"400Nm\"\nsite = \"crank\"\nstandard = \"iso-1585\"\n",
    );
    insta::assert_snapshot!(wrong.statement, @"Contradicted by 1 of 2 checks (torque-identity): at least one number of the claim is wrong or stands on another basis than stated; which one, the checks do not say.");
    for v in [&nothing, &fine, &wrong] {
        let strongest = v.checks.iter().map(|c| c.outcome).max();
        assert!(v.outcome <= strongest.unwrap_or(Outcome::CannotTell).max(Outcome::CannotTell));
        assert!(serde_json::to_string(v).unwrap().contains("\"fairpull-vetting-1\""));
    }
}

#[test]
fn the_example_claims() {
    let read = |text: &str, file: &str| vet(&Claim::parse(text, file).unwrap(), &catalogue()).unwrap();
    let fine = read(include_str!("../fixtures/claims/consistent.toml"), "consistent.toml");
    assert_eq!(fine.outcome, Outcome::Consistent, "{}", fine.statement);
    assert!(fine.checks.len() >= 14, "{:?}", fine.not_run);
    let wrong = read(include_str!("../fixtures/claims/contradicted.toml"), "contradicted.toml");
    let bad: Vec<&str> =
        wrong.checks.iter().filter(|c| c.outcome == Outcome::Contradicted).map(|c| c.id).collect();
    assert_eq!(bad, ["torque-identity", "fuel-flow"], "{}", wrong.statement);
    insta::assert_snapshot!(wrong.checks.iter().find(|c| c.id == "torque-identity").unwrap(), @"
    contradicted: torque needed at the speed of peak power against peak torque [torque-identity]
      659 N·m; bound: at most 560 N·m; 117.6 % of the peak torque; rounding of the digits given allows 0.5 %
      with power 400 kW
      with speed of peak power 5800 1/min
      with peak torque 560 N·m
      source: power = torque × angular speed, definition (exact or derived)
    ");
    assert!(wrong.to_string().contains("Not run for want of input:\n"));
}
