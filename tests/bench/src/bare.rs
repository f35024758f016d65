//! The same arithmetic written by hand on bare numbers: what the typed calls are held against.

/// Factor of ISO 1585 for spark ignition, dry pressure in kPa and °C.
#[inline(never)]
#[must_use]
pub fn factor(dry_kpa: f64, celsius: f64) -> f64 {
    libm::pow(99.0 / dry_kpa, 1.2) * libm::pow((celsius + 273.0) / 298.0, 0.6)
}

/// The same with the checks that the typed way makes: finite, possible, and inside the ranges of the text.
#[inline(never)]
#[must_use]
pub fn checked_factor(station_kpa: f64, celsius: f64, vapour_kpa: f64) -> Option<(f64, u8)> {
    if !(place(station_kpa, celsius) && leaves_room(station_kpa, vapour_kpa)) {
        return None;
    }
    let (dry, kelvin) = (station_kpa - vapour_kpa, celsius + 273.0);
    let value = libm::pow(99.0 / dry, 1.2) * libm::pow(kelvin / 298.0, 0.6);
    let outside = |x: f64, low: f64, high: f64| u8::from(!(x >= low && x <= high));
    let notices = outside(kelvin, 288.0, 308.0) + outside(dry, 80.0, 110.0) + outside(value, 0.93, 1.07);
    Some((value, notices))
}

/// A barometer and a thermometer that can be; no NaN and no infinity is inside a closed range.
fn place(station_kpa: f64, celsius: f64) -> bool {
    (40.0..=120.0).contains(&station_kpa) && (-60.0..=80.0).contains(&celsius)
}

fn leaves_room(station_kpa: f64, vapour_kpa: f64) -> bool {
    (0.0..=0.5 * station_kpa).contains(&vapour_kpa)
}

/// Moist air as station pressure, °C and vapour pressure, kPa, IAPWS over water, with the checks of the typed way.
#[inline(never)]
#[must_use]
pub fn moist_air(station_kpa: f64, celsius: f64, humidity: f64) -> Option<[f64; 3]> {
    if !(place(station_kpa, celsius) && (0.0..=1.0).contains(&humidity)) {
        return None;
    }
    let kelvin = celsius + 273.15;
    let v = 1.0 - kelvin / 647.096;
    let root = libm::sqrt(v);
    let v3 = v * v * v;
    let sum = -7.859_517_83 * v + 1.844_082_59 * v * root - 11.786_649_7 * v3 + 22.680_741_1 * v3 * root
        - 15.961_871_9 * v3 * v
        + 1.801_225_02 * v3 * v3 * v * root;
    let vapour = humidity * 22.064e3 * libm::exp(647.096 / kelvin * sum);
    leaves_room(station_kpa, vapour).then_some([station_kpa, celsius, vapour])
}

/// Watts times a factor.
#[inline(never)]
#[must_use]
pub fn corrected(watts: f64, factor: f64) -> f64 {
    watts * factor
}

/// Torque times angular speed, W.
#[inline(never)]
#[must_use]
pub fn power(newton_metres: f64, radians_per_second: f64) -> f64 {
    newton_metres * radians_per_second
}

/// A value with offset and rational factor from one unit to another.
#[inline(never)]
#[must_use]
pub fn converted(value: f64, from: &[f64; 3], to: &[f64; 3]) -> f64 {
    let si = (value + from[2]) * from[0] / from[1];
    si * to[1] / to[0] - to[2]
}

/// Each value times a factor, into another slice.
#[inline(never)]
pub fn scale(from: &[f64], into: &mut [f64], factor: f64) {
    for (into, from) in into.iter_mut().zip(from) {
        *into = from * factor;
    }
}
