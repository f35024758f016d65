//! What the standards say beside a factor, and how they refuse: the texts a user reads.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)]

use fairpull_core::{
    AbsolutePressure, Air, Charging, CorrectionStandard, Engine, Ignition, Temperature, VapourPressure,
};
use fairpull_ec_80_1269::Ec801269Ed1980;
use fairpull_iso_1585::{Iso1585, Iso1585Ed2020};
use fairpull_iso_3046::Iso3046;
use fairpull_iso_15550::Iso15550;
use fairpull_sae_j245::SaeJ245;
use fairpull_sae_j607::SaeJ607;
use fairpull_sae_j816::SaeJ816;
use fairpull_sae_j1349::SaeJ1349;
use fairpull_un_r85::UnR85;

/// 84.5 kPa, 28 °C, 25 % relative humidity: a warm day at 1500 m.
fn mountain() -> Air {
    Air::new(
        AbsolutePressure::from_kilopascals(84.5),
        Temperature::from_celsius(28.0),
        VapourPressure::from_kilopascals(0.9427873051171469),
    )
    .expect("an air that can exist")
}

const SPARK: Engine = Engine::new(Ignition::Spark, Charging::None);
const BOOSTED: Engine = Engine::new(Ignition::Spark, Charging::Turbocharged);
const DIESEL: Engine = Engine::new(Ignition::Compression, Charging::Turbocharged);

/// The notices of a factor, one a line.
fn said(standard: &dyn CorrectionStandard, engine: &Engine) -> String {
    let factor = standard.factor(&mountain(), engine).expect("a factor");
    assert_eq!(factor.notices().dropped(), 0);
    factor.notices().iter().map(|n| n.to_string() + "\n").collect()
}

/// The text of a refusal.
fn refused(standard: &dyn CorrectionStandard, engine: &Engine) -> String {
    standard.factor(&mountain(), engine).expect_err("a refusal").to_string()
}

#[test]
fn a_factor_outside_its_range_is_given_and_says_so() {
    assert_eq!(
        said(&Iso1585, &SPARK),
        "outside the standard's range: correction factor is 1.233081, outside 0.93 to 1.07 \
         (ISO 1585:1992, test conditions and validity of the factor; from memory, believed right); quote it only \
         with the test conditions\n"
    );
}

#[test]
fn an_assumed_efficiency_is_told_with_its_value() {
    assert!(
        said(&SaeJ245, &SPARK).contains("mechanical efficiency assumed 0.85"),
        "{}",
        said(&SaeJ245, &SPARK)
    );
}

/// The least engine factor of ISO 15550 is remembered: a factor that rests on it says so, another does not.
#[test]
fn a_remembered_floor_is_told_where_it_is_used() {
    let told = |fuel: f64| said(&Iso15550, &DIESEL.fuelled(fuel, 1.0)).contains("engine factor 0.2 below");
    assert!(told(30.0) && !told(50.0));
}

#[test]
fn compensation_shows_the_blind_factor_and_its_authority() {
    let engine = BOOSTED.compensated(true);
    let factor = UnR85.factor(&mountain(), &engine).expect("a factor");
    assert_eq!(factor.value(), 1.0);
    assert!(libm::fabs(factor.blind() / 1.2330810944672006 - 1.0) < 1e-12);
    assert!(said(&UnR85, &engine).contains(
        "factor 1 by ambient compensation (UN R85, Supplement 7 (proposal GRPE-70-02 and (EU) 2017/1151 Annex XX, \
         2.3; at the manufacturer's request)); the formula alone would claim 1.2331"
    ));
    // the older text gives it on the strength of the later one, and SAE J1349 has no rule
    assert!(said(&Iso1585, &engine).contains("(EU) 2017/1151, Annex XX, 2.3"));
    let j1349 = SaeJ1349.factor(&mountain(), &engine).expect("a factor");
    assert!(j1349.value() > 1.2 && said(&SaeJ1349, &engine).contains("over-corrects such an engine"));
    // an aspirated engine can never claim it
    let aspirated = SPARK.compensated(true);
    assert_eq!(
        UnR85.factor(&mountain(), &aspirated).expect("a factor").value(),
        UnR85.factor(&mountain(), &SPARK).expect("a factor").value()
    );
}

#[test]
fn variants_that_were_not_found_are_not_invented() {
    assert!(said(&SaeJ1349, &BOOSTED).contains(
        "extrapolated: the treatment of boosted spark-ignition engines was not found; the formula for aspirated ones \
         is used (SAE J1349"
    ));
    let fuelled = DIESEL.fuelled(100.0, 2.0);
    assert_eq!(
        refused(&Iso1585Ed2020, &fuelled),
        "the compression-ignition exponents of this edition are not known here; iso-1585 has those of 1992 \
         (ISO 1585:2020, factor for compression ignition)"
    );
    assert!(refused(&SaeJ816, &fuelled).contains("compression ignition is not known here"));
    let charged = Engine::new(Ignition::Compression, Charging::Supercharged);
    assert!(refused(&Ec801269Ed1980, &charged).contains("is not known"));
}

#[test]
fn scope_and_missing_inputs_are_named() {
    assert_eq!(
        refused(&SaeJ245, &BOOSTED),
        "does not apply: the text does not cover pressure-charged engines (SAE J245, scope)"
    );
    assert_eq!(
        refused(&SaeJ607, &DIESEL),
        "does not apply: the text does not cover compression ignition (SAE J607, scope)"
    );
    assert_eq!(
        refused(&UnR85, &DIESEL),
        "fuel per cycle is missing: give the fuel delivery in mg per cycle and litre of total swept volume \
         (UN R85, Annex 5, 5.4.2.2)"
    );
    let mut half = DIESEL;
    half.fuel_per_cycle = Some(100.0);
    assert_eq!(
        refused(&UnR85, &half),
        "charge pressure ratio is missing: give the charger's absolute pressure ratio, outlet over inlet \
         (UN R85, Annex 5, 5.4.2.2)"
    );
    assert_eq!(
        refused(&UnR85, &DIESEL.fuelled(f64::NAN, 2.0)),
        "fuel per cycle is not a finite number (mg/(l·cycle)); give a measured value"
    );
    assert_eq!(
        refused(&SaeJ816, &SPARK.with_mechanical_efficiency(85.0)),
        "mechanical efficiency is 85, outside 0.1 to 1 (SAE J1349, friction of 15 % of indicated power behind \
         its 1.18 and 0.18)"
    );
}

#[test]
fn what_rests_on_memory_or_assumption_says_so() {
    assert!(
        said(&SaeJ607, &SPARK)
            .ends_with("rests on SAE J607a, correction factor, from memory, believed right\n")
    );
    assert!(
        said(&SaeJ816, &SPARK).contains("mechanical efficiency assumed 0.85 (SAE J1349, friction of 15 %")
    );
    assert!(!said(&SaeJ816, &SPARK.with_mechanical_efficiency(0.9)).contains("assumed"));
    let cooled = DIESEL.cooled(fairpull_core::ChargeCooling::Air);
    let text = said(&Iso3046, &cooled);
    assert!(text.contains("mechanical efficiency assumed 0.8 ("), "{text}");
    assert!(text.contains("charge-coolant temperature assumed 298 K"), "{text}");
    // α_a of an aspirated engine is corroborated: nothing to confess
    assert!(!said(&Iso1585, &SPARK).contains("rests on"));
    assert!(said(&Iso1585, &BOOSTED).contains("one α_a for every kind of charging rests on ISO 1585:1992"));
}

#[test]
fn sensitivities_at_the_reference() {
    // per cent per +1 hPa dry and per +1 K, hand-worked and rounded to four decimals
    let diesel = |fm: f64, charging| {
        let q = if fm == 0.3 { 30.0 } else { 70.0 };
        let r = if charging == Charging::None { 1.0 } else { 2.0 };
        Engine::new(Ignition::Compression, charging).fuelled(q * r, r)
    };
    let cases: [(&dyn CorrectionStandard, Engine, &str, &str); 7] = [
        (&Iso1585, SPARK, "-0.1212", "0.2013"),
        (&SaeJ1349, SPARK, "-0.1192", "0.1980"),
        (&fairpull_din_70020::Din70020, SPARK, "-0.0987", "0.1706"),
        (&Iso1585, diesel(0.3, Charging::None), "-0.0303", "0.0705"),
        (&Iso1585, diesel(1.2, Charging::None), "-0.1212", "0.2819"),
        (&Iso1585, diesel(0.3, Charging::Turbocharged), "-0.0212", "0.1510"),
        (&Iso1585, diesel(1.2, Charging::Turbocharged), "-0.0848", "0.6040"),
    ];
    for (standard, engine, by_pressure, by_temperature) in cases {
        let r = standard.card().reference;
        let at = |hpa: f64, kelvin: f64| {
            let air = Air::new(
                AbsolutePressure::from_kilopascals(r.total_kpa() + 0.1 * hpa),
                Temperature::from_celsius(r.temperature_c + kelvin),
                VapourPressure::from_kilopascals(r.vapour_kpa),
            )
            .expect("an air that can exist");
            standard.factor(&air, &engine).expect("a factor").value()
        };
        let per_hpa = 100.0 * (at(1e-3, 0.0) - at(-1e-3, 0.0)) / 2e-3;
        let per_kelvin = 100.0 * (at(0.0, 1e-3) - at(0.0, -1e-3)) / 2e-3;
        for (got, text) in [(per_hpa, by_pressure), (per_kelvin, by_temperature)] {
            let printed = fairpull_conformance::Printed::read(text).expect("a number");
            assert!(printed.agrees(got), "{} {engine:?}: {got}, {text}", standard.card().id);
        }
    }
}
