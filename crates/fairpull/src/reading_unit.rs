//! Units that channels are read in.

use fairpull_recordings::Role;
use fairpull_reduction::Bounded;
use fairpull_report::model::Interval;

/// Unit a channel is read in: value = SI · by − minus.
pub(crate) struct ReadingUnit {
    pub word: &'static str,
    by: f64,
    minus: f64,
}

impl ReadingUnit {
    pub fn one(&self, si: f64) -> f64 {
        si * self.by - self.minus
    }

    pub fn value(&self, b: &Bounded) -> Interval {
        let known = b.low.is_finite() && b.high.is_finite();
        let v = self.one(b.value);
        Interval {
            value: v,
            lo95: if known { self.one(b.low) } else { v },
            hi95: if known { self.one(b.high) } else { v },
        }
    }

    /// A difference has no zero to move. Without an interval it spans everything, so nothing is called detectable.
    pub fn difference(&self, b: &Bounded) -> Interval {
        let known = b.low.is_finite() && b.high.is_finite();
        let v = b.value * self.by;
        let wide = 10.0 * v.abs() + self.by;
        Interval {
            value: v,
            lo95: if known { b.low * self.by } else { v - wide },
            hi95: if known { b.high * self.by } else { v + wide },
        }
    }
}

pub(crate) fn reading_unit(role: Role) -> ReadingUnit {
    use fairpull_units::Dimension as D;
    let (word, by, minus) = match role.dimension() {
        D::Pressure => ("kPa", 1e-3, 0.0),
        D::Temperature => ("°C", 1.0, 273.15),
        D::Angle => ("°", 180.0 / core::f64::consts::PI, 0.0),
        D::MassFlow => ("g/s", 1e3, 0.0),
        D::VolumeFlow => ("cm³/min", 6e7, 0.0),
        D::Speed => ("km/h", 3.6, 0.0),
        D::RotationalSpeed => ("1/min", 30.0 / core::f64::consts::PI, 0.0),
        D::Voltage => ("V", 1.0, 0.0),
        D::Acceleration => ("m/s²", 1.0, 0.0),
        D::Length => ("m", 1.0, 0.0),
        D::Force => ("N", 1.0, 0.0),
        D::Torque => ("N·m", 1.0, 0.0),
        D::Ratio if matches!(role, Role::Lambda | Role::Gear) => ("", 1.0, 0.0),
        D::Ratio => ("%", 100.0, 0.0),
        _ => ("", 1.0, 0.0),
    };
    ReadingUnit { word, by, minus }
}

/// A bounded value in another unit.
pub(crate) fn by(b: &Bounded, factor: f64) -> Interval {
    let (x, y) = (b.low * factor, b.high * factor);
    Interval { value: b.value * factor, lo95: x.min(y), hi95: x.max(y) }
}
