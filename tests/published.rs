//! Correction standards against published and independently computed values: `fixtures/standards/`, one file a source.
//!
//! `cargo test -p fairpull-tests --test published -- --nocapture` prints standard, source, cases, worst error.
#![allow(clippy::panic, clippy::expect_used)]

#[path = "published_tables.rs"]
mod tables;
#[path = "published_worked.rs"]
mod worked;

use fairpull_core::{AbsolutePressure, Air, CorrectionStandard, Engine, Temperature, VapourPressure};

/// Every standard of the repository.
fn standards() -> Vec<&'static dyn CorrectionStandard> {
    [
        fairpull_iso_1585::ALL,
        fairpull_iso_2534::ALL,
        fairpull_iso_15550::ALL,
        fairpull_iso_3046::ALL,
        fairpull_un_r85::ALL,
        fairpull_un_r24::ALL,
        fairpull_ec_80_1269::ALL,
        fairpull_eu_134_2014::ALL,
        fairpull_sae_j1349::ALL,
        fairpull_sae_j1995::ALL,
        fairpull_sae_j607::ALL,
        fairpull_sae_j816::ALL,
        fairpull_sae_j245::ALL,
        fairpull_din_70020::ALL,
        fairpull_jis_d_1001::ALL,
    ]
    .concat()
}

fn standard(id: &str) -> &'static dyn CorrectionStandard {
    standards().into_iter().find(|s| s.card().id == id).unwrap_or_else(|| panic!("no standard {id}"))
}

fn air(total_kpa: f64, vapour_kpa: f64, celsius: f64) -> Air {
    Air::new(
        AbsolutePressure::from_kilopascals(total_kpa),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour_kpa),
    )
    .expect("an air that can exist")
}

fn factor(id: &str, air: &Air, engine: &Engine) -> f64 {
    standard(id).factor(air, engine).unwrap_or_else(|r| panic!("{id}: {r}")).value()
}

/// One row of the printed table: cases and worst error, each held to its own tolerance as it is added.
struct Tally {
    standard: String,
    source: String,
    cases: usize,
    worst: f64,
}

impl Tally {
    fn new(standard: &str, source: &str) -> Self {
        Self { standard: standard.to_owned(), source: source.to_owned(), cases: 0, worst: 0.0 }
    }

    /// A value of full precision: 1e-9 relative.
    fn close(&mut self, what: &str, got: f64, want: f64) {
        let error = libm::fabs(got / want - 1.0);
        assert!(error <= 1e-9, "{} ({}), {what}: got {got}, want {want}", self.standard, self.source);
        self.cases += 1;
        self.worst = self.worst.max(error);
    }

    /// A printed value: half a unit of its last digit; the error counts in those units.
    fn printed(&mut self, what: &str, got: f64, text: &str) {
        let printed = fairpull_conformance::Printed::read(text).expect("a printed number");
        assert!(
            printed.agrees(got),
            "{} ({}), {what}: got {got}, printed {text}",
            self.standard,
            self.source
        );
        self.cases += 1;
        self.worst = self.worst.max(0.5 * libm::fabs(got - printed.value) / printed.half_unit);
    }

    fn print(&self, unit: &str) {
        assert!(self.cases > 0, "{}: no case", self.standard);
        println!(
            "{:24} {:44} {:4} cases, worst {:.1e} {unit}",
            self.standard, self.source, self.cases, self.worst
        );
    }
}

/// A reference on total pressure has no vapour pressure to add to it.
#[test]
fn total_pressure_has_no_vapour_beside_it() {
    let total: Vec<_> = standards()
        .into_iter()
        .map(|s| s.card())
        .filter(|c| c.reference.basis == fairpull_core::PressureBasis::Total)
        .collect();
    assert!(total.len() >= 2);
    for card in total {
        assert_eq!(card.reference.vapour_kpa, 0.0, "{}", card.id);
    }
}

/// Columns of mercury at the conventional 0.133 322 387 415 kPa a millimetre (NIST SP 811, appendix B.8), 25.4 mm an inch.
#[test]
fn references_in_columns_of_mercury() {
    const MILLIMETRE: f64 = 0.133_322_387_415;
    for (id, pressure, vapour) in [
        ("sae-j607", 29.92 * 25.4 * MILLIMETRE, None),
        ("sae-j816", 736.6 * MILLIMETRE, Some(9.65 * MILLIMETRE)),
        ("sae-j245", 736.6 * MILLIMETRE, Some(9.652 * MILLIMETRE)),
    ] {
        let reference = &standard(id).card().reference;
        assert!(
            libm::fabs(reference.pressure_kpa / pressure - 1.0) < 1e-14,
            "{id}: {}",
            reference.pressure_kpa
        );
        if let Some(vapour) = vapour {
            assert!(
                libm::fabs(reference.vapour_kpa / vapour - 1.0) < 1e-14,
                "{id}: {}",
                reference.vapour_kpa
            );
        }
    }
}

/// Where the engine's mechanical efficiency is not known, 0.85 (common practice, no source).
#[test]
fn the_efficiency_that_is_assumed() {
    use fairpull_core::{Charging, Ignition};
    let unknown = Engine::new(Ignition::Spark, Charging::None);
    let mut known = unknown;
    known.mechanical_efficiency = Some(0.85);
    let hot = air(95.0, 1.2, 38.0);
    for id in ["sae-j816", "sae-j245"] {
        assert_eq!(factor(id, &hot, &unknown), factor(id, &hot, &known), "{id}");
        known.mechanical_efficiency = Some(0.86);
        assert!(factor(id, &hot, &unknown) != factor(id, &hot, &known), "{id}");
        known.mechanical_efficiency = Some(0.85);
    }
}

/// DIN 70020 knows no factor for a turbocharged diesel engine: the figure stays (from memory, as its card says).
#[test]
fn a_turbocharged_diesel_under_din_70020_stays() {
    use fairpull_core::{Charging, Ignition};
    let diesel = Engine::new(Ignition::Compression, Charging::Turbocharged);
    for here in [air(95.0, 1.2, 38.0), air(103.0, 0.4, 4.0)] {
        assert_eq!(factor("din-70020", &here, &diesel), 1.0);
    }
}
