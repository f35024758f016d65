//! Units for reading, by exact definition.

/// A unit of power and how many kilowatts it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// As printed.
    pub word: &'static str,
    /// Worth of one unit in kW (power) or N·m (torque).
    pub worth: f64,
}

impl Unit {
    /// `value` in kW or N·m, in this unit.
    #[must_use]
    pub fn of(&self, value: f64) -> f64 {
        value / self.worth
    }
}

const KILOWATT: Unit = Unit { word: "kW", worth: 1.0 };
const NEWTON_METRE: Unit = Unit { word: "Nm", worth: 1.0 };

/// Metric horsepower: 75 kgf·m/s, with 9.806 65 m/s² by definition: 735.498 75 W.
const METRIC_HORSEPOWER_KW: f64 = 0.735_498_75;
/// Mechanical horsepower: 550 ft·lbf/s, with 0.3048 m, 0.453 592 37 kg and 9.806 65 m/s² by definition.
const HORSEPOWER_KW: f64 = 0.745_699_871_582_270_22;
/// Pound-force foot from the same definitions.
const POUND_FOOT_NM: f64 = 1.355_817_948_331_400_4;

/// The unit of power a word means; `None` for a word that is not a unit of power.
#[must_use]
pub fn power(word: &str) -> Option<Unit> {
    Some(match word.trim() {
        "kW" => KILOWATT,
        "W" => Unit { word: "W", worth: 0.001 },
        "PS" => Unit { word: "PS", worth: METRIC_HORSEPOWER_KW },
        "CV" | "cv" => Unit { word: "CV", worth: METRIC_HORSEPOWER_KW },
        "hp" | "HP" => Unit { word: "hp", worth: HORSEPOWER_KW },
        "bhp" => Unit { word: "bhp", worth: HORSEPOWER_KW },
        _ => return None,
    })
}

/// The unit of torque a word means; `None` for a word that is not a unit of torque.
#[must_use]
pub fn torque(word: &str) -> Option<Unit> {
    Some(match word.trim() {
        "Nm" | "N·m" | "N.m" => NEWTON_METRE,
        "lbf·ft" | "lbf.ft" | "lbfft" | "lb·ft" | "lbft" => Unit { word: "lbf·ft", worth: POUND_FOOT_NM },
        "kgf·m" | "kgf.m" | "kgfm" => Unit { word: "kgf·m", worth: 9.806_65 },
        _ => return None,
    })
}

/// The units a reader asked for, unknown words left out, never empty.
#[must_use]
pub fn chosen(words: &[String], which: fn(&str) -> Option<Unit>, fallback: &str) -> Vec<Unit> {
    let mut units: Vec<Unit> = Vec::new();
    for unit in words.iter().filter_map(|w| which(w)) {
        if units.iter().all(|u| u.word != unit.word) {
            units.push(unit);
        }
    }
    if units.is_empty() {
        units.extend(which(fallback));
    }
    units
}
