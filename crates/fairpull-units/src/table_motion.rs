//! Temperature, speed, acceleration, length, time, angle, force.
//!
//! Sources: SI brochure (9th edition, 2019) for the SI and the units accepted with it; international foot and
//! pound (1959); T/K = t/°C + 273.15 and T/K = (t/°F + 459.67)/1.8, both exact.

use crate::Dimension::{
    Acceleration, Angle, Area, Force, Length, Speed, Temperature, TemperatureDifference, Time, Voltage,
};
use crate::unit::{Unit, unit};
use core::f64::consts::PI;

const ONE: (f64, f64) = (1.0, 1.0);

pub(crate) static UNITS: &[Unit] = &[
    unit(Temperature, "°C", &["C", "celsius", "℃"], ONE, "(t + 273.15) K").zero_at(273.15),
    unit(Temperature, "K", &["kelvin"], ONE, "SI"),
    unit(Temperature, "°F", &["F", "fahrenheit", "℉"], (5.0, 9.0), "(t + 459.67) / 1.8 K").zero_at(459.67),
    unit(TemperatureDifference, "K", &["kelvin", "°C", "C", "delta C", "ΔK", "Δ°C"], ONE, "SI"),
    unit(TemperatureDifference, "°F", &["F", "delta F", "Δ°F"], (5.0, 9.0), "5/9 K"),
    unit(Speed, "km/h", &["kph", "kmh", "km/hr"], (5.0, 18.0), "1000 m / 3600 s"),
    unit(Speed, "m/s", &["mps", "m s-1"], ONE, "SI"),
    unit(Speed, "mph", &["mi/h", "miles/h", "mile/h"], (44_704.0, 1e5), "1609.344 m / 3600 s"),
    unit(Speed, "kn", &["kt", "kts", "knot", "knots"], (463.0, 900.0), "1852 m / 3600 s"),
    unit(Speed, "ft/s", &["fps"], (3048.0, 1e4), "0.3048 m / s"),
    unit(Speed, "ft/min", &["fpm"], (3048.0, 6e5), "0.3048 m / 60 s"),
    unit(Acceleration, "m/s²", &["m/s/s"], ONE, "SI"),
    unit(Acceleration, "g", &["gn", "g0"], (980_665.0, 1e5), "9.80665 m/s²"),
    unit(Acceleration, "ft/s²", &[], (3048.0, 1e4), "0.3048 m / s²"),
    unit(Length, "m", &["metre", "metres", "meter", "meters"], ONE, "SI"),
    unit(Length, "mm", &["millimetre", "millimeter"], (1.0, 1e3), "0.001 m"),
    unit(Length, "cm", &[], (1.0, 1e2), "0.01 m"),
    unit(Length, "km", &[], (1e3, 1.0), "1000 m"),
    unit(Length, "µm", &["um", "micron"], (1.0, 1e6), "1e-6 m"),
    unit(Length, "in", &["inch", "inches", "\"", "″"], (254.0, 1e4), "0.0254 m"),
    unit(Length, "ft", &["foot", "feet", "'", "′"], (3048.0, 1e4), "0.3048 m"),
    unit(Length, "mi", &["mile", "miles"], (1_609_344.0, 1e3), "1609.344 m"),
    unit(Area, "m²", &["sq m"], ONE, "SI"),
    unit(Area, "cm²", &[], (1.0, 1e4), "1e-4 m²"),
    unit(Area, "mm²", &[], (1.0, 1e6), "1e-6 m²"),
    unit(Area, "in²", &["sq in"], (64_516.0, 1e8), "0.0254² m²"),
    unit(Area, "ft²", &["sq ft"], (9_290_304.0, 1e8), "0.3048² m²"),
    unit(Force, "N", &["newton"], ONE, "SI"),
    unit(Force, "kN", &[], (1e3, 1.0), "1000 N"),
    unit(Force, "lbf", &["lb", "lbs"], (44_482_216_152_605.0, 1e13), "lb · 9.80665 m/s²"),
    unit(Force, "kgf", &["kp", "kg"], (980_665.0, 1e5), "kg · 9.80665 m/s²"),
    unit(Time, "s", &["sec", "second", "seconds", "secs"], ONE, "SI"),
    unit(Time, "ms", &["msec", "millisecond", "milliseconds"], (1.0, 1e3), "0.001 s"),
    unit(Time, "µs", &["us", "usec"], (1.0, 1e6), "1e-6 s"),
    unit(Time, "min", &["minute", "minutes"], (60.0, 1.0), "60 s"),
    unit(Time, "h", &["hr", "hour", "hours"], (3600.0, 1.0), "3600 s"),
    unit(Angle, "°", &["deg", "degree", "degrees", "°CA", "°KW", "°BTDC"], (PI, 180.0), "π/180 rad"),
    unit(Angle, "rad", &["radian"], ONE, "SI"),
    unit(Voltage, "V", &["volt", "volts"], ONE, "SI"),
    unit(Voltage, "mV", &[], (1.0, 1e3), "0.001 V"),
];
