//! The balance behind one point of a pull, for the trail.

use crate::deviation::Deviation;
use crate::evaluate::{Bench, Drag};
use crate::job::RigKind;
use crate::place::Place;
use crate::pull::PullFit;

/// Everything behind one point of a pull, at a grid speed.
pub(crate) struct BalanceParts {
    pub mass: f64,
    pub parasitic: f64,
    pub rotating: f64,
    pub v: f64,
    pub a: f64,
    pub brake: f64,
    pub contact: f64,
    pub rim: f64,
    pub rim_acceleration: f64,
    /// Drag of driveline and tyres at the rim speed, N.
    pub drag: f64,
    /// Power handed to the loss model, W.
    pub handed: f64,
}

impl Bench<'_> {
    /// Pieces of the balance where the pull passes an engine speed, for the trail.
    pub(crate) fn parts(&self, p: &PullFit, drag: &Drag, rpm: f64) -> BalanceParts {
        let d = Deviation::default();
        let n = p.time.len();
        let contact = self.contact(p, &d);
        let rim: Vec<f64> = (0..n).map(|i| p.v[i] / (1.0 - self.slip.per_newton * contact[i])).collect();
        let faster: Vec<f64> = (0..n)
            .map(|i| {
                let (j, k) = (i.saturating_sub(1), (i + 1).min(n - 1));
                (rim[k] - rim[j]) / (p.time[k] - p.time[j])
            })
            .collect();
        let place = Place::of(&self.speed(p, &contact), rpm);
        let at = |series: &[f64]| place.as_ref().map_or(f64::NAN, |place| place.read(series));
        let (v, v_rim) = (at(&p.v), at(&rim));
        let accelerating = self.rotating(true, &d) * at(&faster) * v_rim;
        BalanceParts {
            handed: self.handed(at(&contact) * v_rim, accelerating),
            mass: self.mass(&d),
            parasitic: if self.job.rig.kind == RigKind::Hub { 0.0 } else { self.parasitic(v) },
            rotating: self.rotating(true, &d),
            v,
            a: at(&p.a),
            brake: if p.force.is_empty() { 0.0 } else { at(&p.force) },
            contact: at(&contact),
            rim: v_rim,
            rim_acceleration: at(&faster),
            drag: self.drag(drag, &d).map_or(f64::NAN, |f| f.at(v_rim)),
        }
    }
}
