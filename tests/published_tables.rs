//! The tables of values, and the published table of 110 cells.

use crate::{Tally, air, factor, standard};
use fairpull_core::family::{EngineFactor, power_law};
use fairpull_core::{Air, ChargeCooling, Charging, Engine, Ignition, Notice, PressureBasis, ReferenceAir};
use fairpull_iso_3046::{Ambient, Case, relative};
use fairpull_tests::{fixture, maybe, number, rows, text};
use std::collections::BTreeMap;
use toml::Table;

/// The airs by name.
fn points() -> BTreeMap<String, Air> {
    let file = fixture("standards/points");
    let point = |p: &Table| {
        let a = air(number(p, "total_kpa"), number(p, "vapour_kpa"), number(p, "temperature_c"));
        assert!(libm::fabs(a.dry().kilopascals() - number(p, "dry_kpa")) < 1e-12);
        (text(p, "name").to_owned(), a)
    };
    rows(&file, "point").into_iter().map(point).collect()
}

fn table<'a>(t: &'a Table, key: &str) -> &'a Table {
    t.get(key).and_then(|v| v.as_table()).unwrap_or_else(|| panic!("no table {key}"))
}

fn engine(t: &Table) -> Engine {
    let ignition = match text(t, "ignition") {
        "spark" => Ignition::Spark,
        "compression" => Ignition::Compression,
        other => panic!("ignition {other}"),
    };
    let charging = match text(t, "charging") {
        "none" => Charging::None,
        "supercharged" => Charging::Supercharged,
        "turbocharged" => Charging::Turbocharged,
        other => panic!("charging {other}"),
    };
    let cooling = match t.get("charge_cooling").and_then(|v| v.as_str()) {
        None | Some("none") => ChargeCooling::None,
        Some("air") => ChargeCooling::Air,
        Some("liquid") => ChargeCooling::Liquid,
        Some(other) => panic!("charge cooling {other}"),
    };
    let mut engine = Engine::new(ignition, charging).cooled(cooling);
    engine.fuel_per_cycle = maybe(t, "fuel_per_cycle");
    engine.charge_pressure_ratio = maybe(t, "charge_pressure_ratio");
    engine.mechanical_efficiency =
        maybe(t, "mechanical_efficiency").or(maybe(t, "friction_of_100").map(|f| 100.0 / (100.0 + f)));
    engine
}

/// Every `[[table]]` of a fixture on every standard it names.
fn check(name: &str) {
    let points = points();
    let file = fixture(&format!("standards/{name}"));
    let source = text(table(&file, "source"), "document");
    let mut tallies = BTreeMap::new();
    for t in rows(&file, "table") {
        let e = table(t, "engine");
        // a table of corrected power at 100 counts in that unit
        let scale = if e.contains_key("friction_of_100") { 100.0 } else { 1.0 };
        let shift = maybe(t, "shift").map_or(1.0, |x| libm::pow(99.04 / 99.0, x));
        for id in t["standards"].as_array().expect("standards") {
            let id = id.as_str().expect("an id");
            let tally = tallies.entry(id.to_owned()).or_insert_with(|| Tally::new(id, source));
            for point in table(t, "values").keys() {
                let want = number(table(t, "values"), point) * shift;
                let got = scale * factor(id, &points[point], &engine(e));
                tally.close(&format!("{}, {point}", text(t, "what")), got, want);
            }
            if let Some(outside) = t.get("outside").and_then(|v| v.as_table()) {
                ranges(id, &engine(e), &points, outside);
            }
        }
    }
    tallies.values().for_each(|t| t.print("relative"));
}

/// Exactly the named limits are left at each point.
fn ranges(id: &str, engine: &Engine, points: &BTreeMap<String, Air>, outside: &Table) {
    for (point, a) in points {
        let factor = standard(id).factor(a, engine).expect("a factor");
        let got: Vec<&str> = factor
            .notices()
            .iter()
            .filter_map(|n| match n {
                Notice::OutsideRange(out) => Some(out.range().limit.what),
                _ => None,
            })
            .collect();
        let want: Vec<&str> = outside
            .get(point)
            .and_then(|v| v.as_array())
            .map_or(Vec::new(), |v| v.iter().filter_map(|w| w.as_str()).collect());
        assert_eq!(got, want, "{id} at {point}");
    }
}

#[test]
fn iso_1585_and_the_texts_that_repeat_it() {
    check("iso-1585");
}

#[test]
fn iso_15550() {
    check("iso-15550");
}

#[test]
fn sae_j1349_and_j1995() {
    check("sae-j1349");
}

#[test]
fn light_vehicles_and_old_codes() {
    for name in ["eu-134-2014", "din-70020", "ec-80-1269-1980", "sae-j607", "sae-j816"] {
        check(name);
    }
}

#[test]
fn atmospheric_and_engine_factors_of_the_families() {
    let points = points();
    let file = fixture("standards/iso-1585");
    let reference = ReferenceAir {
        basis: PressureBasis::Dry,
        pressure_kpa: 99.0,
        vapour_kpa: 1.0,
        temperature_c: 25.0,
        kelvin_offset: 273.0,
    };
    let mut tally = Tally::new("f_a, f_m (families)", "ISO 1585, ISO 15550");
    for t in rows(&file, "power_law") {
        let [a, b] = [0, 1].map(|i| t["exponents"][i].as_float().expect("an exponent"));
        for point in table(t, "values").keys() {
            let got = power_law(&reference, &points[point], a, b);
            tally.close(point, got, number(table(t, "values"), point));
        }
    }
    for t in rows(&file, "engine_factor") {
        let qc = number(t, "qc");
        // "37.2 → 0.1992" is the straight part at its own lower end: the printed step of 0.0008
        tally.close("f_m, limit 40", EngineFactor::FROM_40.at(qc), number(t, "from_40"));
        tally.close("f_m, limit 37.2", EngineFactor::FROM_37_2.at(qc), number(t, "from_37_2"));
    }
    tally.print("relative");
}

#[test]
fn iso_3046_relative_power() {
    let points = points();
    let file = fixture("standards/iso-3046");
    let mut tally = Tally::new("iso-3046", "ISO 3046-1:2002");
    for t in rows(&file, "relative") {
        let (case, kind) = match text(t, "case") {
            "A" => (Case::A, Engine::new(Ignition::Compression, Charging::None)),
            "C" => (Case::C, Engine::new(Ignition::Compression, Charging::Turbocharged)),
            "D" => (
                Case::D,
                Engine::new(Ignition::Compression, Charging::Turbocharged).cooled(ChargeCooling::Air),
            ),
            other => panic!("case {other}"),
        };
        for (point, a) in &points {
            let want = number(table(t, "values"), point);
            let site = Ambient::new(a.station().kilopascals(), a.temperature().celsius() + 273.0, 298.0)
                .humid(1.0, a.vapour().kilopascals());
            let r = relative(&case, &Ambient::REFERENCE, &site, number(t, "efficiency")).expect("a result");
            let what = format!("{} of {}, {point}", text(t, "quantity"), case.name);
            match text(t, "quantity") {
                "k" => tally.close(&what, r.k, want),
                "beta" => tally.close(&what, r.beta, want),
                "alpha" => {
                    tally.close(&what, r.alpha, want);
                    // 0.80 is also what the plug-in assumes; its factor leads the other way
                    tally.close(&what, factor("iso-3046", a, &kind), 1.0 / want);
                }
                other => panic!("quantity {other}"),
            }
        }
    }
    tally.print("relative");
}

#[test]
fn workshop_sheet_of_110_cells() {
    let file = fixture("standards/workshop-sheet");
    let spark = Engine::new(Ignition::Spark, Charging::None);
    let at = |hpa: f64, celsius: f64| factor("ec-80-1269-1980-total", &air(0.1 * hpa, 0.0, celsius), &spark);
    let mut printed = Tally::new("ec-80-1269-1980-total", "workshop sheet, cells as printed");
    for t in rows(&file, "printed") {
        let got = at(number(t, "pressure_hpa"), number(t, "temperature_c"));
        printed.printed("cell", got, text(t, "factor"));
    }
    printed.print("units of the last digit");
    let mut computed = Tally::new("ec-80-1269-1980-total", "workshop sheet, decimal twin");
    for (hpa, row) in table(&file, "computed") {
        for (i, cell) in row.as_array().expect("a row").iter().enumerate() {
            let celsius = f64::from(u8::try_from(5 * i).expect("a small number"));
            let got = at(hpa.parse().expect("a pressure"), celsius);
            let cell = cell.as_str().expect("a cell");
            computed.printed(&format!("{hpa} hPa, {celsius} °C"), got, cell);
            assert_eq!(format!("{got:.4}"), cell);
        }
    }
    assert_eq!(computed.cases, 110);
    computed.print("units of the last digit");
}
