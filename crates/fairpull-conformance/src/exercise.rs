//! The engines and airs that every standard is exercised with, and how failures print them.

use fairpull_core::{
    AbsolutePressure, Air, ChargeCooling, Charging, Engine, Ignition, PressureBasis, ReferenceAir,
    StandardCard, Temperature, VapourPressure,
};

/// Values no engine has, and the edges of `f64`.
pub(crate) const HOSTILE: [f64; 9] =
    [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, -1.0, 1e300, -1e300, 5e-324];

/// Air from total kPa, vapour kPa, °C; `None` where no such air exists.
pub(crate) fn air(total: f64, vapour: f64, celsius: f64) -> Option<Air> {
    Air::new(
        AbsolutePressure::from_kilopascals(total),
        Temperature::from_celsius(celsius),
        VapourPressure::from_kilopascals(vapour),
    )
    .ok()
}

/// The reference air of a card.
pub(crate) fn reference(r: &ReferenceAir) -> Option<Air> {
    air(r.total_kpa(), r.vapour_kpa, r.temperature_c)
}

/// Air whose pressure *on the basis of the card* is `kpa`.
pub(crate) fn on_basis(r: &ReferenceAir, kpa: f64, celsius: f64) -> Option<Air> {
    match r.basis {
        PressureBasis::Dry => air(kpa + r.vapour_kpa, r.vapour_kpa, celsius),
        PressureBasis::Total => air(kpa, r.vapour_kpa, celsius),
    }
}

/// Every kind of engine, compression ignition with low, middle and high fuel delivery; all optional inputs that a
/// text may ask of a compression-ignition engine are given.
pub(crate) fn engines() -> Vec<Engine> {
    let mut all = Vec::new();
    for charging in [Charging::None, Charging::Supercharged, Charging::Turbocharged] {
        let coolings: &[ChargeCooling] = match charging {
            Charging::None => &[ChargeCooling::None],
            _ => &[ChargeCooling::None, ChargeCooling::Air, ChargeCooling::Liquid],
        };
        for cooling in coolings {
            let ratio = if charging == Charging::None { 1.0 } else { 2.0 };
            let spark = Engine::new(Ignition::Spark, charging).cooled(*cooling);
            all.extend([spark, spark.with_mechanical_efficiency(0.9)]);
            for corrected in [30.0, 50.0, 70.0] {
                all.push(
                    Engine::new(Ignition::Compression, charging)
                        .cooled(*cooling)
                        .fuelled(corrected * ratio, ratio),
                );
            }
        }
    }
    all
}

/// True when the card says it covers this kind of engine.
pub(crate) fn covered(card: &StandardCard, engine: &Engine) -> bool {
    let ignition = match engine.ignition {
        Ignition::Spark => card.applies.spark,
        Ignition::Compression => card.applies.compression,
    };
    ignition && (card.applies.charged || engine.charging == Charging::None)
}

/// Engine and air with units.
pub(crate) fn show(engine: &Engine, air: Option<&Air>) -> String {
    let mut text = format!(
        "{:?} ignition, charging {:?}, cooling {:?}",
        engine.ignition, engine.charging, engine.charge_cooling
    );
    let numbers = [
        ("fuel per cycle", engine.fuel_per_cycle, "mg/(l·cycle)"),
        ("pressure ratio", engine.charge_pressure_ratio, ""),
        ("mechanical efficiency", engine.mechanical_efficiency, ""),
    ];
    for (what, value, unit) in numbers {
        if let Some(v) = value {
            text += &format!(", {what} {v} {unit}");
        }
    }
    if let Some(a) = air {
        text += &format!(
            "; {} kPa total, {} kPa vapour, {} °C",
            a.station().kilopascals(),
            a.vapour().kilopascals(),
            a.temperature().celsius()
        );
    }
    text
}
