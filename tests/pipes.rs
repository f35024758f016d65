//! Pipes before and behind the engine against worked values and reference libraries.
//!
//! Where no other source stands beside a check, its expected value is the formula evaluated in 64-bit floats outside
//! this project's code.
#![allow(clippy::panic, clippy::unwrap_used)]

mod stressing;

use approx::assert_relative_eq;
use fairpull_core::Refusal;
use fairpull_stress::friction::{Viscosity, friction_factor, haaland};
use fairpull_stress::{
    Figure, Known, Pipe, PipeGiven, back_pressure_worth, charge_density, compare_diameters, fanno_length,
    pipe_loss,
};
use stressing::{CLOSE, exact, kelvin, libraries, number, pascals, tables};

fn exhaust(flow: f64, t: f64, p: f64, gamma: f64, viscosity: Viscosity) -> Pipe {
    Pipe {
        mass_flow: exact(flow),
        temperature: kelvin(t),
        known: Known::Outlet(pascals(p)),
        diameter: 0.0859,
        length: 3.0,
        roughness: 5e-5,
        loss_coefficients: 1.0,
        gamma,
        viscosity,
    }
}

/// Tubes of 2.5 to 4 inch outside with 1.5 mm wall, 3 m, four bends of K 0.25, Sutherland's viscosity.
#[test]
fn exhaust_pipes_by_diameter() {
    let pipe = exhaust(0.345, 900.0, 105e3, 1.33, Viscosity::Sutherland);
    for (d, v, mach, loss) in [
        (0.0605, 295.276_732_239_051_97, 0.5037, 35_667.629_141_618_476),
        (0.0732, 201.705_533_753_245_53, 0.3441, 15_090.572_577_346_005),
        (0.0859, 146.471_674_860_579_16, 0.2499, 7_407.865_339_208_185),
        (0.0986, 111.169_626_204_797_18, 0.1897, 4_040.850_109_678_515_8),
    ] {
        let got = pipe_loss(&Pipe { diameter: d, ..pipe }).unwrap();
        assert_relative_eq!(got.velocity.value, v, max_relative = CLOSE);
        assert!((got.mach.value - mach).abs() < 5.1e-5, "{got:?}");
        assert_relative_eq!(got.incompressible.value, loss, max_relative = CLOSE);
        // friction and loss coefficients are never exact
        assert!(got.loss.uncertainty > 0.05 * got.loss.value);
    }
    let pipe = exhaust(0.55, 1100.0, 110e3, 1.32, Viscosity::Sutherland);
    for (d, loss) in
        [(0.0732, 44_184.635_824_875_58), (0.0859, 21_664.223_313_713_91), (0.0986, 11_808.129_159_495_762)]
    {
        let got = pipe_loss(&Pipe { diameter: d, ..pipe }).unwrap();
        assert_relative_eq!(got.incompressible.value, loss, max_relative = CLOSE);
        assert!(got.compressible);
    }
}

#[test]
fn intake_pipes_by_diameter() {
    let intake = |d: f64| {
        let pipe = Pipe {
            mass_flow: exact(0.32),
            temperature: kelvin(298.15),
            known: Known::Inlet(pascals(99e3)),
            diameter: d,
            length: 0.6,
            roughness: 5e-6,
            loss_coefficients: 0.35,
            gamma: 1.4,
            viscosity: Viscosity::Sutherland,
        };
        pipe_loss(&pipe).unwrap().incompressible.value
    };
    for (inch, loss) in [
        (3.0, 999.442_050_551_746),
        (3.5, 522.168_699_461_159_8),
        (4.0, 298.467_332_628_575_83),
        (5.0, 117.848_344_613_435_64),
    ] {
        // smooth duct of the full diameter
        assert_relative_eq!(intake(inch * 0.0254), loss, max_relative = CLOSE);
    }
}

#[test]
fn charge_pipes_by_diameter() {
    for (inch, loss) in [(2.0, 6371.6147), (2.5, 2451.6261), (3.0, 1132.1838)] {
        let pipe = Pipe {
            mass_flow: exact(0.32),
            temperature: kelvin(320.0),
            known: Known::Inlet(pascals(240e3)),
            diameter: inch * 0.0254,
            length: 1.5,
            roughness: 5e-6,
            loss_coefficients: 0.9,
            gamma: 1.4,
            viscosity: Viscosity::Sutherland,
        };
        assert_relative_eq!(pipe_loss(&pipe).unwrap().incompressible.value, loss, max_relative = 1e-7);
    }
}

/// 3 m of 0.0732 and 0.0859 m, 0.345 kg/s at 900 K and 115 kPa, friction only.
#[test]
fn compressible_pipe() {
    let at = |d: f64| {
        let mut pipe = exhaust(0.345, 900.0, 115e3, 1.33, Viscosity::Sutherland);
        (pipe.diameter, pipe.loss_coefficients) = (d, 0.0);
        pipe.known = Known::Inlet(pascals(115e3));
        pipe_loss(&pipe).unwrap()
    };
    let small = at(0.0732);
    assert_relative_eq!(115e3 - small.isothermal.unwrap().value, 107_509.832_584_607_5, max_relative = 1e-9);
    assert!((small.incompressible.value - 6229.40).abs() < 0.005);
    assert!(small.compressible && small.loss.value == small.adiabatic.unwrap().value);
    let large = at(0.0859);
    assert_relative_eq!(115e3 - large.isothermal.unwrap().value, 111_963.893_518_346_4, max_relative = 1e-9);
    assert!(!large.compressible);
    for (m, g, length) in [
        (0.2, 1.4, 14.533_266_481_951_351),
        (0.3, 1.4, 5.299_253_105_091_152),
        (0.5, 1.4, 1.069_060_312_718_255_9),
        (0.3, 1.33, 5.613_986_082_753_92),
    ] {
        assert_relative_eq!(fanno_length(m, g), length, max_relative = CLOSE);
    }
}

/// The same pipe from its other end gives the same loss.
#[test]
fn known_outlet_and_known_inlet_agree() {
    let mut pipe = exhaust(0.345, 900.0, 115e3, 1.33, Viscosity::DiluteGas);
    (pipe.diameter, pipe.known) = (0.0732, Known::Inlet(pascals(115e3)));
    let forward = pipe_loss(&pipe).unwrap();
    let outlet = 115e3 - forward.isothermal.unwrap().value;
    let back = pipe_loss(&Pipe { known: Known::Outlet(pascals(outlet)), ..pipe }).unwrap();
    assert_relative_eq!(
        back.isothermal.unwrap().value,
        forward.isothermal.unwrap().value,
        max_relative = 1e-9
    );
}

/// fluids 1.3 (friction, isothermal flow), scipy (adiabatic flow along the pipe), CoolProp (viscosity): within 0.5 %.
#[test]
fn pipes_and_air_against_the_libraries() {
    let table = libraries();
    let mut worst = [0.0_f64; 4];
    let mut off = |slot: usize, got: f64, expected: f64| {
        let o = (got / expected - 1.0).abs();
        worst[slot] = worst[slot].max(o);
        assert!(o < 0.005, "{slot}: {got} against {expected}");
    };
    for t in tables(&table, "friction") {
        off(0, friction_factor(number(t, "reynolds"), number(t, "roughness")), number(t, "factor"));
    }
    for t in tables(&table, "air") {
        off(1, Viscosity::DiluteGas.of(number(t, "kelvin")), number(t, "viscosity"));
        let density =
            charge_density(&pascals(number(t, "pascals")), &kelvin(number(t, "kelvin").min(599.0))).unwrap();
        if number(t, "kelvin") < 599.0 {
            off(2, density.value, number(t, "density"));
        }
    }
    for t in tables(&table, "pipe") {
        let pipe = Pipe {
            mass_flow: exact(number(t, "flow")),
            temperature: kelvin(number(t, "kelvin")),
            known: Known::Inlet(pascals(number(t, "pascals"))),
            diameter: number(t, "diameter"),
            length: number(t, "length"),
            roughness: 5e-5,
            loss_coefficients: 0.0,
            gamma: number(t, "gamma"),
            viscosity: Viscosity::DiluteGas,
        };
        let got = pipe_loss(&pipe).unwrap();
        let p = number(t, "pascals");
        off(3, got.isothermal.unwrap().value, p - number(t, "isothermal_outlet"));
        off(3, got.adiabatic.unwrap().value, p - number(t, "adiabatic_outlet"));
        off(3, got.incompressible.value, number(t, "incompressible_loss"));
    }
    let percent = worst.map(|w| w * 100.0);
    println!(
        "friction {:.1e} %, viscosity {:.3} %, density {:.3} %, losses {:.3} %",
        percent[0], percent[1], percent[2], percent[3]
    );
}

#[test]
fn friction_factors() {
    for (re, rough, colebrook, explicit) in [
        (1e4, 1e-4, 0.031_037_212_200_998_63, 0.030_990_343_480_878_074),
        (1e5, 1e-4, 0.018_513_866_077_471_648, 0.018_265_053_014_793_857),
        (1e5, 1e-3, 0.022_174_535_944_515_097, 0.021_966_214_014_076_606),
        (1e6, 1e-4, 0.013_441_437_692_508_489, 0.013_326_159_538_701_88),
    ] {
        assert_relative_eq!(friction_factor(re, rough), colebrook, max_relative = CLOSE);
        assert_relative_eq!(haaland(re, rough), explicit, max_relative = CLOSE);
    }
    assert_relative_eq!(friction_factor(1000.0, 0.0), 0.064, max_relative = 1e-15);
    assert_relative_eq!(Viscosity::Sutherland.of(298.15), 1.837_234_235_890_388e-5, max_relative = CLOSE);
    assert_relative_eq!(Viscosity::Sutherland.of(900.0), 3.896_080_760_095_012e-5, max_relative = CLOSE);
}

/// The trade reports about 0.7 bar less before the turbine from 3.5 to 4 inch (common practice, no source); pipe
/// friction explains a few kilopascals. Both stand side by side, and neither is fitted to the other.
#[test]
fn two_diameters_side_by_side() {
    let pipe = exhaust(0.345, 900.0, 105e3, 1.33, Viscosity::Sutherland);
    let expansion = exact(1.783_617_256_271_855_7);
    let got =
        compare_diameters(&pipe, 0.0859, 0.0986, Some(expansion), Some(Figure::new(-70e3, 2.5e3))).unwrap();
    assert_relative_eq!(got.explained.value, -3_367.015_229_529_67, max_relative = 1e-8);
    let before = got.explained_before_turbine.unwrap();
    assert!((before.value + 6005.0).abs() < 1.0, "{before:?}");
    assert_eq!(got.measured.unwrap().value, -70e3);
    assert_relative_eq!(got.unexplained.unwrap().value, -70e3 - before.value, max_relative = 1e-12);
    assert!(got.words.contains("differ"));
    // 6 kPa are worth 0.65 kW and 0.2 octane numbers
    let worth = back_pressure_worth(before, exact(1.984e-3), exact(6500.0)).unwrap();
    assert!((worth.power.value + 645.0).abs() < 1.0, "{worth:?}");
    assert!((worth.octane.value + 0.20).abs() < 0.001, "{worth:?}");
    let silent = compare_diameters(&pipe, 0.0859, 0.0986, None, None).unwrap();
    assert!(silent.unexplained.is_none() && silent.words.contains("no measurement"));
}

#[test]
fn a_choked_pipe_is_refused_and_never_guessed() {
    let mut pipe = exhaust(0.55, 1100.0, 110e3, 1.32, Viscosity::DiluteGas);
    (pipe.diameter, pipe.known) = (0.06, Known::Inlet(pascals(140e3)));
    let got = pipe_loss(&pipe).unwrap_err();
    assert!(got.to_string().contains("chokes"), "{got}");
}

#[test]
fn a_pipe_question_as_data() {
    let text = r#"
mass_flow_kg_s = { value = 0.345, uncertainty = 0.007 }
temperature_c = { value = 626.85, uncertainty = 15.0 }
outlet = { gauge_kpa = 2.5 }
barometer = { absolute_kpa = 98.5, uncertainty_kpa = 0.1 }
before_mm = 85.9
after_mm = 98.6
length_m = 3.0
roughness_mm = 0.05
loss_coefficients = 1.0
expansion_ratio = { value = 1.78, uncertainty = 0.05 }
measured_change_kpa = { value = -70.0, uncertainty = 2.5 }
"#;
    let question: PipeGiven = toml::from_str(text).unwrap();
    let report = question.compare().unwrap();
    println!("{report:#?}");
    // about 3.7 kPa by the pipe, 6.6 before the turbine, 63 not explained
    assert!((report.explained_kpa.value + 3.7).abs() < 0.2, "{report:?}");
    assert!((report.unexplained_kpa.unwrap().value + 63.3).abs() < 1.0, "{report:?}");
    assert!(report.trade.contains("no source") && report.caution.contains("local codes"));
    let mut ends = question.clone();
    ends.inlet = ends.outlet;
    assert!(matches!(ends.compare(), Err(Refusal::Missing { .. })));
    let mut gauge = question.clone();
    gauge.barometer = None;
    assert!(gauge.compare().unwrap_err().to_string().contains("give the barometer"));
    let mut small = question;
    small.after_mm = -98.6;
    assert!(small.compare().unwrap_err().to_string().contains("inside diameter is -0.0986 m"));
}
