//! The saturation formulas as printed; kelvin or °C in, pascals out.

use libm::{exp, log, pow, sqrt};

/// Critical point of water (IAPWS): K and Pa.
const CRITICAL: (f64, f64) = (647.096, 22.064e6);

/// IAPWS SR1-86 (1992), equation 1 = Wagner and Pruß 2002, equation 2.5. Valid 273.16 to 647.096 K.
pub(crate) fn wagner_pruss(kelvin: f64) -> f64 {
    let (tc, pc) = CRITICAL;
    let v = 1.0 - kelvin / tc;
    let root = sqrt(v);
    let v3 = v * v * v;
    let sum = -7.859_517_83 * v + 1.844_082_59 * v * root - 11.786_649_7 * v3 + 22.680_741_1 * v3 * root
        - 15.961_871_9 * v3 * v
        + 1.801_225_02 * v3 * v3 * v * root;
    pc * exp(tc / kelvin * sum)
}

/// IAPWS R14-08 (2011), equation 6: sublimation pressure of ice Ih, 50 to 273.16 K.
pub(crate) fn iapws_ice(kelvin: f64) -> f64 {
    let th = kelvin / 273.16;
    let sum = -21.214_400_6 * pow(th, 0.003_333_333_33) + 27.320_381_9 * pow(th, 1.206_666_67)
        - 6.105_981_30 * pow(th, 1.703_333_33);
    611.657 * exp(sum / th)
}

/// Hyland and Wexler 1983 over water, 0 to 200 °C.
pub(crate) fn hyland_wexler_water(kelvin: f64) -> f64 {
    let t = kelvin;
    exp(-5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t
        - 1.445_209_3e-8 * t * t * t
        + 6.545_967_3 * log(t))
}

/// Hyland and Wexler 1983 over ice, -100 to 0.01 °C.
pub(crate) fn hyland_wexler_ice(kelvin: f64) -> f64 {
    let t = kelvin;
    exp(-5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t
        + 6.221_570_1e-7 * t * t
        + 2.074_782_5e-9 * t * t * t
        - 9.484_024e-13 * t * t * t * t
        + 4.163_501_9 * log(t))
}

/// Sonntag 1990 over water, -100 to 100 °C.
pub(crate) fn sonntag_water(kelvin: f64) -> f64 {
    let t = kelvin;
    100.0 * exp(-6096.9385 / t + 16.635_794 - 2.711_193e-2 * t + 1.673_952e-5 * t * t + 2.433_502 * log(t))
}

/// Sonntag 1990 over ice, -100 to 0.01 °C.
pub(crate) fn sonntag_ice(kelvin: f64) -> f64 {
    let t = kelvin;
    100.0
        * exp(-6024.5282 / t + 24.7219 + 1.061_386_8e-2 * t - 1.319_882_5e-5 * t * t - 0.493_825_77 * log(t))
}

/// Magnus form e = A exp(B t / (C + t)).
pub(crate) fn magnus(celsius: f64, a: f64, b: f64, c: f64) -> f64 {
    a * exp(b * celsius / (c + celsius))
}

/// Buck 1996 over water.
pub(crate) fn buck_1996(celsius: f64) -> f64 {
    611.21 * exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))
}
