//! Power, torque, rotation, inertia and fuel.
//!
//! Sources: International Yard and Pound (1959): 1 ft = 0.3048 m, 1 lb = 0.45359237 kg; standard gravity
//! 9.80665 m/s² (3rd CGPM, 1901); mechanical horsepower = 550 ft·lbf/s; metric horsepower = 75 kgf·m/s.

use crate::unit::{Unit, unit};
use Dimension::{
    FuelPerCycle, HeatingValue, Inertia, Power, RotationalAcceleration, RotationalSpeed, SpecificFuel, Torque,
};
use core::f64::consts::{PI, TAU};

use crate::Dimension;

pub(crate) static UNITS: &[Unit] = &[
    unit(Power, "kW", &["kilowatt", "kilowatts"], (1e3, 1.0), "1000 W"),
    unit(Power, "W", &["watt", "watts"], (1.0, 1.0), "SI"),
    unit(Power, "MW", &["megawatt"], (1e6, 1.0), "1e6 W"),
    unit(
        Power,
        "PS",
        &["CV", "ch", "pk", "cavalli", "hp(metric)", "metric hp", "hk", "к.с.", "л.с."],
        (73_549_875.0, 1e5),
        "75 kgf·m/s = 735.49875 W",
    ),
    // 37284993579113511 does not fit into an f64; the rounding is 3e-17 relative.
    unit(
        Power,
        "hp",
        &["bhp", "hp(I)", "hp(mech)", "horsepower"],
        (37_284_993_579_113_511.0, 5e13),
        "550 lbf·ft/s",
    ),
    unit(Power, "lbf·ft/s", &["ft·lbf/s", "ft·lb/s"], (3_389_544_870_828_501.0, 2.5e15), "lbf · ft / s"),
    unit(Torque, "N·m", &["Nm", "newton metre", "newton meter"], (1.0, 1.0), "SI"),
    unit(Torque, "kN·m", &[], (1e3, 1.0), "1000 N·m"),
    unit(
        Torque,
        "lbf·ft",
        &["ft·lbf", "lb·ft", "ft·lb", "lbs·ft", "ft·lbs", "pound-foot", "foot-pound"],
        (3_389_544_870_828_501.0, 2.5e15),
        "lb · 9.80665 m/s² · ft",
    ),
    unit(
        Torque,
        "lbf·in",
        &["in·lbf", "lb·in", "in·lb"],
        (1_129_848_290_276_167.0, 1e16),
        "lb · 9.80665 m/s² · in",
    ),
    unit(
        Torque,
        "kgf·m",
        &["m·kgf", "kg·m", "m·kg", "mkp", "kpm"],
        (980_665.0, 1e5),
        "kg · 9.80665 m/s² · m",
    ),
    unit(
        RotationalSpeed,
        "rpm",
        &["1/min", "min-1", "r/min", "rev/min", "U/min", "tr/min", "giri/min", "o/min"],
        (PI, 30.0),
        "2π rad / 60 s",
    ),
    unit(RotationalSpeed, "rad/s", &["rad s-1"], (1.0, 1.0), "SI"),
    unit(RotationalSpeed, "rev/s", &["Hz", "1/s", "r/s", "rps", "s-1"], (TAU, 1.0), "2π rad / s"),
    unit(RotationalAcceleration, "rad/s²", &["rad/s/s"], (1.0, 1.0), "SI"),
    unit(RotationalAcceleration, "rpm/s", &["1/min/s", "r/min/s"], (PI, 30.0), "2π rad / 60 s²"),
    unit(Inertia, "kg·m²", &["kgm^2", "m²·kg"], (1.0, 1.0), "SI"),
    unit(Inertia, "g·m²", &[], (1.0, 1e3), "0.001 kg·m²"),
    unit(Inertia, "kg·cm²", &[], (1.0, 1e4), "1e-4 kg·m²"),
    unit(Inertia, "lb·ft²", &["lbm·ft²", "ft²·lb"], (421_401_100_938_048.0, 1e16), "lb · ft²"),
    unit(Inertia, "lb·in²", &["lbm·in²"], (2_926_396_534_292.0, 1e16), "lb · in²"),
    unit(
        Inertia,
        "lbf·ft·s²",
        &["slug·ft²", "ft·lbf·s²", "lb·ft·s²"],
        (3_389_544_870_828_501.0, 2.5e15),
        "lbf · ft · s²",
    ),
    unit(SpecificFuel, "g/kWh", &["g/(kW·h)"], (1.0, 3.6e9), "0.001 kg / 3.6e6 J"),
    unit(SpecificFuel, "kg/kWh", &[], (1.0, 3.6e6), "kg / 3.6e6 J"),
    unit(SpecificFuel, "kg/J", &[], (1.0, 1.0), "SI"),
    unit(
        SpecificFuel,
        "lb/hph",
        &["lb/(hp·h)", "lb/hp/h", "lbs/hp/hr", "lb/hp-hr", "lb/bhp-hr", "lb/bhp/h"],
        (1e4, 59_183_525_016.0),
        "lb / (550 lbf·ft/s · 3600 s)",
    ),
    unit(
        SpecificFuel,
        "g/PSh",
        &["g/(PS·h)", "g/CVh", "g/chh"],
        (1.0, 2_647_795_500.0),
        "0.001 kg / (PS · h)",
    ),
    unit(
        FuelPerCycle,
        "mg/L",
        &["mg/(L·cycle)", "mg/dm³", "mg/(L·stroke)"],
        (1.0, 1e3),
        "1e-6 kg / 0.001 m³, each cycle",
    ),
    unit(HeatingValue, "MJ/kg", &[], (1e6, 1.0), "1e6 J / kg"),
    unit(HeatingValue, "kJ/kg", &[], (1e3, 1.0), "1000 J / kg"),
    unit(HeatingValue, "J/kg", &[], (1.0, 1.0), "SI"),
    unit(HeatingValue, "Btu/lb", &["Btu/lbm", "BTU(IT)/lb"], (2326.0, 1.0), "2326 J/kg exactly"),
    unit(HeatingValue, "kcal/kg", &["kcal(IT)/kg", "cal/g"], (4186.8, 1.0), "4186.8 J/kg exactly"),
];
