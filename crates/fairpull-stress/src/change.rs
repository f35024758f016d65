//! Two states side by side.

use serde::Serialize;

use crate::{Figure, StressReport};

/// One figure in two states.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct StressChange {
    /// Stable name of the figure.
    pub id: &'static str,
    /// Name for readers.
    pub title: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Before.
    pub before: Figure,
    /// After.
    pub after: Figure,
    /// After less before.
    pub change: Figure,
    /// True when the 95 % interval of the change does not hold zero.
    pub detectable: bool,
    /// The change in words, with its 95 % interval.
    pub words: String,
}

/// The figures that both states have, each with its change. `shared` is the correlation of the errors of the two
/// states: 0 when nothing is shared (the cautious choice), up to 1 for the same sensors with a fixed error.
#[must_use]
pub fn changes(before: &StressReport, after: &StressReport, shared: f64) -> Vec<StressChange> {
    let mut out = Vec::new();
    for b in &before.figures {
        let Some(a) = after.get(b.id) else { continue };
        let change = a.figure.less(&b.figure, shared);
        let half = 1.959_963_984_540_054 * change.uncertainty;
        let detectable = libm::fabs(change.value) > half && change.value != 0.0;
        let way = if change.value < 0.0 { "down" } else { "up" };
        let words = if detectable {
            format!("{} {way} {:.3} ± {half:.3} {}", b.title, libm::fabs(change.value), b.unit)
        } else {
            format!("{}: change not detectable ({:+.3} ± {half:.3} {})", b.title, change.value, b.unit)
        };
        out.push(StressChange {
            id: b.id,
            title: b.title,
            unit: b.unit,
            before: b.figure,
            after: a.figure,
            change,
            detectable,
            words,
        });
    }
    out
}
