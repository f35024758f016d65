//! Link proof: every calculation below runs with neither allocator nor standard library, and reaches no panic.
//!
//! There is no allocator, so one `alloc::format!` fails the link. The panic handler calls an import named
//! `fairpull_panicked`; a linked module that still holds the name can panic somewhere, and the check refuses it.
#![no_std]

mod every;

use fairpull_core::{
    AbsolutePressure, Air, Charging, CorrectionStandard, CycleState, Engine, Fuel, Ignition, KnockPoint,
    PowerAtWheels, Span, Temperature, VapourPressure,
};

#[link(wasm_import_module = "env")]
unsafe extern "C" {
    fn fairpull_panicked() -> !;
}

#[panic_handler]
fn panicked(_: &core::panic::PanicInfo<'_>) -> ! {
    // SAFETY: the import takes and gives nothing; a module that reaches it is refused before it is run.
    unsafe { fairpull_panicked() }
}

/// Where the `number`-th public function stands in the module's table; 0 past the last. It keeps each of them in the
/// module with every path through it; the functions below show that the plug-ins answer.
#[unsafe(no_mangle)]
pub extern "C" fn every(number: usize) -> usize {
    every::EVERY.get(number).map_or(0, |function| *function as usize)
}

/// Every standard, one list a crate.
static STANDARDS: &[&[&dyn CorrectionStandard]] = &[
    fairpull_din_70020::ALL,
    fairpull_ec_80_1269::ALL,
    fairpull_eu_134_2014::ALL,
    fairpull_iso_15550::ALL,
    fairpull_iso_1585::ALL,
    fairpull_iso_2534::ALL,
    fairpull_iso_3046::ALL,
    fairpull_jis_d_1001::ALL,
    fairpull_sae_j1349::ALL,
    fairpull_sae_j1995::ALL,
    fairpull_sae_j245::ALL,
    fairpull_sae_j607::ALL,
    fairpull_sae_j816::ALL,
    fairpull_un_r24::ALL,
    fairpull_un_r85::ALL,
];

/// The factor of the `number`-th standard for a spark- or compression-ignition engine; NaN where there is none.
#[unsafe(no_mangle)]
pub extern "C" fn factor(number: u32, diesel: u32, kilopascals: f64, celsius: f64, vapour: f64) -> f64 {
    let ignition = if diesel == 0 { Ignition::Spark } else { Ignition::Compression };
    let engine = Engine::new(ignition, Charging::Turbocharged).fuelled(60.0, 2.0);
    let air = Air::new(
        AbsolutePressure::from_kilopascals(kilopascals),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour),
    );
    let standard = STANDARDS.iter().flat_map(|list| list.iter()).nth(number as usize);
    match (air, standard) {
        (Ok(air), Some(standard)) => standard.factor(&air, &engine).map_or(f64::NAN, |f| f.value()),
        _ => f64::NAN,
    }
}

/// Saturation pressure in kPa by the default method; NaN where it has none.
#[unsafe(no_mangle)]
pub extern "C" fn saturation(celsius: f64) -> f64 {
    fairpull_humid::Method::default()
        .saturation(Temperature::from_celsius(celsius))
        .map_or(f64::NAN, |p| p.kilopascals())
}

/// Crank power in W by the `number`-th loss model with its own example of evidence; NaN where it gives none.
#[unsafe(no_mangle)]
pub extern "C" fn to_crank(number: u32, wheel_watts: f64) -> f64 {
    let Some(model) = fairpull_losses::ALL.get(number as usize) else { return f64::NAN };
    let (at, driveline) = &model.card().example;
    model
        .to_crank(PowerAtWheels::from_watts(wheel_watts), at, driveline)
        .map_or(f64::NAN, |answer| answer.power.watts())
}

/// Knock margin in octane numbers by the `number`-th model for a pump fuel in an invented engine; NaN where it gives none.
#[unsafe(no_mangle)]
pub extern "C" fn margin(number: u32, ron: f64, mon: f64, kilopascals: f64) -> f64 {
    let Some(model) = fairpull_fuels::KNOCK_MODELS.get(number as usize) else { return f64::NAN };
    let fuel = Fuel::new(Some(Span::new(ron, 0.3)), Some(Span::new(mon, 0.5)));
    let mut point = KnockPoint::unknown();
    point.requirement = Some(Span::new(93.0, 1.0));
    point.k = Some(Span::new(-0.3, 0.2));
    point.cycle = Some(CycleState::new(
        [0.086, 0.086, 0.144],
        10.0,
        3000.0,
        [kilopascals * 1000.0, 340.0, -140.0],
        [-5.0, 50.0],
        14.0,
    ));
    model.margin(&fuel, &point).map_or(f64::NAN, |m| m.octane.value)
}
