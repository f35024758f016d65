//! Mass, volume, flow, density, ratio.
//!
//! Sources: international pound (1959); US gallon = 231 in³; imperial gallon = 4.54609 L (Units of Measurement
//! Regulations 1995); grain = lb/7000.

use crate::Dimension::{Density, Mass, MassFlow, Ratio, Volume, VolumeFlow};
use crate::unit::{Unit, unit};

const ONE: (f64, f64) = (1.0, 1.0);

pub(crate) static UNITS: &[Unit] = &[
    unit(Mass, "kg", &["kilogram", "kilograms"], ONE, "SI"),
    unit(Mass, "g", &["gram", "grams"], (1.0, 1e3), "0.001 kg"),
    unit(Mass, "mg", &[], (1.0, 1e6), "1e-6 kg"),
    unit(Mass, "lb", &["lbs", "lbm", "pound", "pounds"], (45_359_237.0, 1e8), "0.45359237 kg"),
    unit(Mass, "t", &["tonne", "tonnes"], (1e3, 1.0), "1000 kg"),
    unit(MassFlow, "kg/s", &[], ONE, "SI"),
    unit(MassFlow, "kg/h", &["kg/hr"], (1.0, 3600.0), "kg / 3600 s"),
    unit(MassFlow, "kg/min", &[], (1.0, 60.0), "kg / 60 s"),
    unit(MassFlow, "g/s", &["g/sec"], (1.0, 1e3), "0.001 kg / s"),
    unit(MassFlow, "lb/min", &["lbm/min", "lbs/min"], (45_359_237.0, 6e9), "lb / 60 s"),
    unit(
        MassFlow,
        "lb/h",
        &["lb/hr", "lbs/h", "lbs/hr", "pph", "lbm/h"],
        (45_359_237.0, 3.6e11),
        "lb / 3600 s",
    ),
    unit(MassFlow, "lb/s", &["lbm/s"], (45_359_237.0, 1e8), "lb / s"),
    unit(Volume, "L", &["litre", "litres", "liter", "liters", "dm³"], (1.0, 1e3), "0.001 m³"),
    unit(Volume, "cm³", &["cc", "ccm", "mL"], (1.0, 1e6), "1e-6 m³"),
    unit(Volume, "m³", &[], ONE, "SI"),
    unit(Volume, "in³", &["cu in", "cid", "cui", "ci"], (16_387_064.0, 1e12), "0.0254³ m³"),
    unit(Volume, "ft³", &["cu ft"], (28_316_846_592.0, 1e12), "0.3048³ m³"),
    unit(Volume, "gal(US)", &["US gal", "US gallon"], (3_785_411_784.0, 1e12), "231 in³"),
    unit(Volume, "gal(UK)", &["UK gal", "imp gal", "gal(imp)"], (454_609.0, 1e8), "4.54609 L"),
    unit(VolumeFlow, "m³/s", &[], ONE, "SI"),
    unit(VolumeFlow, "m³/h", &["m³/hr"], (1.0, 3600.0), "m³ / 3600 s"),
    unit(VolumeFlow, "L/min", &["l/min", "lpm"], (1.0, 6e4), "0.001 m³ / 60 s"),
    unit(VolumeFlow, "L/h", &["l/h"], (1.0, 3.6e6), "0.001 m³ / 3600 s"),
    unit(VolumeFlow, "L/s", &["l/s"], (1.0, 1e3), "0.001 m³ / s"),
    unit(VolumeFlow, "cm³/min", &["cc/min", "ccm/min", "mL/min"], (1.0, 6e7), "1e-6 m³ / 60 s"),
    unit(VolumeFlow, "ft³/min", &["cfm", "cu ft/min"], (28_316_846_592.0, 6e13), "ft³ / 60 s"),
    unit(VolumeFlow, "gal(US)/min", &["gpm(US)"], (3_785_411_784.0, 6e13), "231 in³ / 60 s"),
    unit(Density, "kg/m³", &["g/L"], ONE, "SI"),
    unit(Density, "g/cm³", &["g/cc", "kg/L", "kg/dm³", "g/mL"], (1e3, 1.0), "1000 kg/m³"),
    // lb/ft3: 0.45359237 / 0.028316846592, reduced by the common power of ten.
    unit(Density, "lb/ft³", &["lbm/ft³"], (453_592_370_000.0, 28_316_846_592.0), "lb / ft³"),
    unit(Ratio, "%", &["percent", "pct", "%RH", "%rF"], (1.0, 100.0), "1/100"),
    unit(Ratio, "1", &["lambda", "λ", "ratio"], ONE, "SI"),
    unit(Ratio, "‰", &["permille"], (1.0, 1e3), "1/1000"),
    unit(Ratio, "ppm", &[], (1.0, 1e6), "1e-6"),
    unit(Ratio, "g/kg", &[], (1.0, 1e3), "0.001 kg / kg"),
    unit(Ratio, "gr/lb", &["grains/lb"], (1.0, 7000.0), "lb/7000 / lb"),
];
