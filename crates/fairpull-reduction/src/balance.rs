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
    /// Speed of the rim just before and after the point, and at the moments beside these, m/s.
    pub rims: [f64; 4],
    /// From the first to the third of these moments, and from the second to the fourth, s.
    pub apart: [f64; 2],
    /// How far the point lies from the second to the third, 0 to 1.
    pub share: f64,
    /// Rotating mass with the clutch open, kg.
    pub open: f64,
    /// What is taken off the force of the coast-down at the rim speed, N.
    pub minus: f64,
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
        // where the pull does not pass, the numbers around it are none either
        let low = place.as_ref().map_or(0, |place| place.low);
        let around = [low.saturating_sub(1), low, low + 1, low + 2].map(|i| i.min(n - 1));
        let [first, second, third, fourth] = around.map(|i| p.time[i]);
        let released = |f: [f64; 3]| f[0] + v_rim * (f[1] + v_rim * f[2]);
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
            rims: around.map(|i| rim[i]),
            apart: [third - first, fourth - second],
            share: place.as_ref().map_or(f64::NAN, |place| place.between(0.0, 1.0)),
            open: self.rotating(false, &d),
            minus: match self.job.rig.kind {
                RigKind::Hub => drag.force.map_or(f64::NAN, released),
                _ => self.parasitic(v_rim),
            },
        }
    }
}
