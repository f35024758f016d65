//! Distance between two positions.

/// Mean radius of the Earth, m (IUGG 1980, R1, from memory); over the metres between two fixes its choice is nothing.
const RADIUS: f64 = 6_371_008.8;

/// Great-circle distance in m between (latitude, longitude) pairs in degrees, by the haversine formula.
pub(crate) fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    let rad = |d: f64| d * core::f64::consts::PI / 180.0;
    let (p1, p2) = (rad(a.0), rad(b.0));
    let (dp, dl) = (p2 - p1, rad(b.1 - a.1));
    let half = |x: f64| {
        let s = libm::sin(0.5 * x);
        s * s
    };
    let h = half(dp) + libm::cos(p1) * libm::cos(p2) * half(dl);
    2.0 * RADIUS * libm::asin(libm::sqrt(h.clamp(0.0, 1.0)))
}

#[cfg(test)]
mod tests {
    use super::distance;

    /// One minute of latitude is a nautical mile, 1852 m, within 0.2 % on the sphere.
    #[test]
    fn a_minute_of_latitude() {
        let d = distance((50.0, 8.0), (50.0 + 1.0 / 60.0, 8.0));
        assert!((d / 1852.0 - 1.0).abs() < 2e-3, "{d}");
    }
}
