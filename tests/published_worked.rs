//! Worked examples from print: Mathur & Sharma, Internal Combustion Engine (2010), ch. 27.

use crate::{Tally, air, factor};
use fairpull_core::family::{EngineFactor, diesel, fuel_per_cycle, power_law};
use fairpull_core::{Charging, Engine, Ignition, PressureBasis, ReferenceAir};
use fairpull_iso_3046::{Ambient, Case, Relative, relative, substitute_pressure};
use fairpull_tests::{fixture, maybe, number, text};
use toml::Table;

fn table<'a>(t: &'a Table, key: &str) -> &'a Table {
    t.get(key).and_then(|v| v.as_table()).unwrap_or_else(|| panic!("no table {key}"))
}

fn ambient(t: &Table) -> Ambient {
    Ambient::new(number(t, "pressure_kpa"), number(t, "temperature_k"), number(t, "coolant_k"))
        .humid(maybe(t, "humidity").unwrap_or(0.0), maybe(t, "saturation_kpa").unwrap_or(0.0))
}

/// A bed or site as a reference: total less vapour, and the text's kelvin.
fn reference(t: &Table) -> ReferenceAir {
    let vapour_kpa = number(t, "humidity") * number(t, "saturation_kpa");
    ReferenceAir {
        basis: PressureBasis::Dry,
        pressure_kpa: number(t, "total_kpa") - vapour_kpa,
        vapour_kpa,
        temperature_c: number(t, "temperature_k") - 273.0,
        kelvin_offset: 273.0,
    }
}

fn breathed(r: &ReferenceAir) -> fairpull_core::Air {
    air(r.total_kpa(), r.vapour_kpa, r.temperature_c)
}

/// Book examples and their two tallies: full precision and printed digits.
struct Book {
    file: Table,
    full: Tally,
    print: Tally,
}

impl Book {
    fn open(standard: &str) -> Self {
        let source = "Mathur & Sharma (2010), ch. 27";
        Self {
            file: fixture("standards/mathur-sharma-2010"),
            full: Tally::new(standard, source),
            print: Tally::new(standard, &format!("{source}, printed")),
        }
    }

    /// Holds a result to the value and to the printed digits, whichever the fixture has.
    fn hold(&mut self, example: &str, key: &str, got: f64) {
        let entry = table(table(&self.file, example), key);
        let name = format!("{example}, {key}");
        if let Some(want) = maybe(entry, "value") {
            self.full.close(&name, got, want);
        }
        if entry.contains_key("printed") {
            self.print.printed(&name, got, text(entry, "printed"));
        }
    }

    fn close(self) {
        self.full.print("relative");
        if self.print.cases > 0 {
            self.print.print("units of the last digit");
        }
    }
}

fn ask(case: &Case, from: &Ambient, to: &Ambient, efficiency: f64) -> Relative {
    relative(case, from, to, efficiency).unwrap_or_else(|r| panic!("{r}"))
}

#[test]
fn relative_power() {
    let mut book = Book::open("iso-3046");

    let name = "example_27_1";
    let t = table(&book.file, name).clone();
    let r = ask(
        &Case::A,
        &ambient(table(&t, "reference")),
        &ambient(table(&t, "site")),
        number(&t, "efficiency"),
    );
    book.hold(name, "k", r.k);
    book.hold(name, "alpha", r.alpha);
    book.hold(name, "beta", r.beta);
    book.hold(name, "site_power_kw", number(&t, "power_kw") * r.alpha);
    book.hold(name, "site_consumption_g_per_kwh", number(&t, "consumption_g_per_kwh") * r.beta);

    let name = "example_27_2";
    let t = table(&book.file, name).clone();
    let (eta, power) = (number(&t, "efficiency"), number(&t, "power_kw"));
    let site = ambient(table(&t, "site"));
    let substitute =
        substitute_pressure(100.0, number(&t, "ratio_at_reference"), number(&t, "largest_ratio"));
    let from = |kpa: f64| Ambient::new(kpa, number(&t, "substitute_temperature_k"), 298.0);
    book.hold(name, "substituted_alpha", ask(&Case::D, &from(substitute), &site, eta).alpha);
    let rounded = ask(&Case::D, &from(number(&t, "rounded_pressure_kpa")), &site, eta);
    book.hold(name, "rounded_alpha", rounded.alpha);
    book.hold(name, "rounded_power_kw", power * rounded.alpha);
    let plain = ask(&Case::D, &ambient(table(&t, "reference")), &site, eta);
    book.hold(name, "unsubstituted_k", plain.k);
    book.hold(name, "unsubstituted_alpha", plain.alpha);
    book.hold(name, "unsubstituted_power_kw", power * plain.alpha);

    let name = "example_27_3";
    let t = table(&book.file, name).clone();
    let (eta, power) = (number(&t, "efficiency"), number(&t, "site_power_kw"));
    let reference = ambient(table(&t, "reference"));
    let site = ask(&Case::D, &reference, &ambient(table(&t, "site")), eta);
    let bed = ask(&Case::D, &reference, &ambient(table(&t, "bed")), eta);
    book.hold(name, "site_k", site.k);
    book.hold(name, "site_alpha", site.alpha);
    book.hold(name, "reference_power_kw", power / site.alpha);
    book.hold(name, "bed_k", bed.k);
    book.hold(name, "bed_alpha", bed.alpha);
    book.hold(name, "bed_power_kw", bed.alpha * (power / site.alpha));
    // the companion's own round-off: k truncated to three digits, then α = k − 0.7 (1 − k)(1/η − 1)
    let k = number(&t, "truncated_k");
    let alpha = k - 0.7 * (1.0 - k) * (1.0 / eta - 1.0);
    book.hold(name, "truncated_bed_power_kw", bed.alpha * (power / alpha));

    let name = "example_27_4";
    let t = table(&book.file, name).clone();
    let only_pressure = Case { m: number(&t, "pressure_exponent"), ..Case::D };
    let at = |key: &str| Ambient::new(number(&t, key), 298.0, 298.0);
    let r = ask(&only_pressure, &at("site_pressure_kpa"), &at("bed_pressure_kpa"), number(&t, "efficiency"));
    book.hold(name, "k", r.k);
    book.hold(name, "alpha", r.alpha);
    book.hold(name, "bed_power_kw", number(&t, "site_power_kw") * r.alpha);
    book.hold(name, "site_consumption_g_per_kwh", number(&t, "bed_consumption_g_per_kwh") / r.beta);
    book.close();
}

#[test]
fn spark_ignition_to_reference() {
    let mut book = Book::open("iso-15550");
    let t = table(&book.file, "spark").clone();
    let vapour = number(&t, "humidity") * number(&t, "saturation_kpa");
    let a = air(number(&t, "total_kpa"), vapour, number(&t, "temperature_k") - 273.0);
    let f = factor(text(&t, "standard"), &a, &Engine::new(Ignition::Spark, Charging::None));
    book.hold("spark", "factor", f);
    book.hold("spark", "corrected_kw", number(&t, "power_kw") * f);
    book.close();
}

/// q, q_c and f_m of an example, through the fuel flow.
fn fuel(book: &mut Book, name: &str, t: &Table) -> f64 {
    let q = fuel_per_cycle(number(t, "fuel_g_per_s"), number(t, "swept_l"), number(t, "speed_rpm"), false);
    let ratio = number(t, "pressure_ratio");
    book.hold(name, "fuel_per_cycle", q);
    book.hold(name, "corrected_fuel", q / ratio);
    let fm = EngineFactor::FROM_40.at(q / ratio);
    book.hold(name, "engine_factor", fm);
    fm
}

#[test]
fn turbocharged_compression_ignition() {
    let mut book = Book::open("ISO 1585 family");

    let name = "turbocharged";
    let t = table(&book.file, name).clone();
    let fm = fuel(&mut book, name, &t);
    let (site, bed) = (reference(table(&t, "site")), reference(table(&t, "bed")));
    let f = diesel(&site, &breathed(&bed), 0.7, 1.5, fm);
    book.hold(name, "atmospheric_factor", power_law(&site, &breathed(&bed), 0.7, 1.5));
    book.hold(name, "factor", f);
    book.hold(name, "site_power_kw", number(&t, "power_kw") * f);
    let mut mended = table(&t, "bed").clone();
    mended.insert("saturation_kpa".into(), number(&t, "mended_saturation_kpa").into());
    let f = diesel(&site, &breathed(&reference(&mended)), 0.7, 1.5, fm);
    book.hold(name, "mended_site_power_kw", number(&t, "power_kw") * f);

    let name = "out_of_range";
    let t = table(&book.file, name).clone();
    let fm = fuel(&mut book, name, &t);
    let (site, bed) = (reference(table(&t, "site")), reference(table(&t, "bed")));
    let direct = diesel(&site, &breathed(&bed), 0.7, 1.5, fm);
    book.hold(name, "direct_factor", direct);
    assert!(direct < 0.9);
    let standard =
        ReferenceAir { pressure_kpa: number(&t, "reference_dry_kpa"), temperature_c: 25.0, ..site };
    let up = diesel(&standard, &breathed(&bed), 0.7, 1.5, fm);
    book.hold(name, "to_reference", up);
    let s = table(&t, "site");
    let at = Ambient::new(number(s, "total_kpa"), number(s, "temperature_k"), 298.0);
    let r = ask(&Case::C, &ambient(table(&t, "reference")), &at, number(&t, "efficiency"));
    book.hold(name, "k", r.k);
    book.hold(name, "alpha", r.alpha);
    book.hold(name, "site_power_kw", number(&t, "power_kw") * (up * r.alpha));
    book.close();
}

/// 80/1269/EEC as first printed, compression ignition: (99/p)^0.65·(T/298)^0.5, by hand at half the pressure, at 1.1
/// times the temperature, and for a turbocharged engine, whose factor is 1.
#[test]
fn the_first_diesel_factor_of_80_1269() {
    let aspirated = Engine::new(Ignition::Compression, Charging::None);
    let id = "ec-80-1269-1980";
    let half = factor(id, &air(49.5, 0.0, 25.0), &aspirated);
    assert!((half - 1.569_168_195_793_501_6).abs() < 1e-14, "{half}");
    let warm = factor(id, &air(99.0, 0.0, 54.8), &aspirated);
    assert!((warm - 1.048_808_848_170_151_6).abs() < 1e-14, "{warm}");
    let turbo = Engine::new(Ignition::Compression, Charging::Turbocharged);
    assert_eq!(factor(id, &air(49.5, 0.0, 25.0), &turbo), 1.0);
}
