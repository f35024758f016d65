//! Drag measured on the coast-down that follows the pull.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, CoastDownForce, DrivePoint, Driveline, Input, Limit, LossCard, LossModel, Notice, Notices,
    PowerAtCrank, PowerAtWheels, Reading, Refusal, Source,
};

const BALANCE: Cite =
    Cite::new("power balance of tyre, driveline and flywheel", "elementary mechanics", Reading::Derived);
const MESHES: Cite =
    Cite::new("load-dependent mesh efficiency 0.96 to 0.99", "common practice, no source", Reading::Doubtful);

/// Middle of 0.01 to 0.04, the share that a load-dependent efficiency of 0.96 to 0.99 leaves.
const PRIOR_SHARE: f64 = 0.025;
/// Standard uncertainty of that rectangular band: half width 0.015 over the root of 3.
const PRIOR_SHARE_U: f64 = 0.008_660_254_037_844_387;

static CARD: LossCard = LossCard {
    id: "coast-down",
    title: "Drag measured on a coast-down",
    contains: "no-load drag of gearbox and axle, wheel bearings, residual brake drag and the rolling loss of the tyre on this \
               roller at the strapped load; power that accelerates rotating parts where it is given; a load-proportional share",
    leaves_out: "slip and extra tyre loss under traction, clutch or converter slip; with the clutch open and a gear engaged the \
                 gearbox input train turns, in neutral it does not",
    needs: &["coast_down", "road_speed"],
    formula: "P_crank = (P_wheel + P_acc + (a + b v + c v^2) v) / (1 - s)",
    habit: false,
    sources: &[
        Source { what: "power balance", cite: BALANCE },
        Source { what: "load-proportional share 0.025 when none is given", cite: MESHES },
    ],
    example: (DrivePoint::new(input::at_road_speed(30.0), input::at_engine_speed(500.0)), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.coast_down = Some(CoastDownForce {
        a: 120.0,
        b: 2.0,
        c: 0.35,
        covariance: [[25.0, 0.0, 0.0], [0.0, 0.01, 0.0], [0.0, 0.0, 0.0001]],
    });
    d.load_share = Some((0.02, 0.005));
    d.accelerating = Some((2_500.0, 50.0));
    d
};

/// Drag force that any car on a roller can have, N.
const FORCE: Limit = Limit { what: "coast-down drag force", unit: "N", low: 0.0, high: 1.0e5, cite: BALANCE };

/// P_crank = (P_wheel + P_acc + F(v)·v)/(1 − s), with F(v) = a + b·v + c·v² from a coast-down.
///
/// **Units.** W, m/s, N. **Range.** v 0 to 200 m/s; F(v) 0 to 100 kN; s 0 to 0.5.
/// **Uncertainty.** The covariance of (a, b, c) through F(v)·v, the uncertainty of P_acc and of s, taken as
/// independent: u² = (v·u_F)²/(1−s)² + u_acc²/(1−s)² + (P_crank·u_s/(1−s))².
/// **Assumes.** Without a share, s = 0.025 with standard uncertainty 0.0087 (efficiency 0.96 to 0.99, rectangular),
/// as a notice. Without P_acc nothing is added, as a notice.
#[derive(Clone, Copy, Debug, Default)]
pub struct CoastDown;

impl LossModel for CoastDown {
    fn card(&self) -> &'static LossCard {
        &CARD
    }

    fn to_crank(
        &self,
        wheel: PowerAtWheels,
        at: &DrivePoint,
        driveline: &Driveline<'_>,
    ) -> Result<AtCrank, Refusal> {
        let p = input::wheel(wheel)?;
        let v = input::road_speed(at, BALANCE)?;
        let drag = driveline.coast_down.ok_or(Refusal::Missing {
            what: "coast-down drag",
            mend: "fit a coast-down of the same car on the same rig, or choose another loss model",
            cite: BALANCE,
        })?;
        for (row, i) in drag.covariance.iter().zip(0..) {
            for (x, j) in row.iter().zip(0..) {
                if !x.is_finite() || (i == j && *x < 0.0) {
                    return Err(Refusal::NotFinite { what: "covariance of the coast-down fit", unit: "SI" });
                }
            }
        }
        let force = input::within(FORCE, drag.at(v))?;
        let (dragging, drag_u) = (force * v, drag.uncertainty_at(v) * v);
        let mut notices = Notices::NONE;
        let (acc, acc_u) = match driveline.accelerating {
            // A slowing engine gives power back, but never more than the drag takes.
            Some(given) => input::power("power that accelerates engine and driveline", given, -dragging)?,
            None => {
                notices.push(input::NOT_ADDED);
                (0.0, 0.0)
            }
        };
        let (s, s_u) = match driveline.load_share {
            Some(given) => input::share(given)?,
            None => {
                notices.push(Notice::Assumed {
                    what: &Input { name: "load-proportional share", unit: "1" },
                    value: PRIOR_SHARE,
                    cite: &MESHES,
                });
                (PRIOR_SHARE, PRIOR_SHARE_U)
            }
        };
        Ok(crank(p, (dragging, drag_u), (acc, acc_u), (s, s_u), notices))
    }
}

/// (P + drag + acc)/(1 − s) with independent uncertainties; shared with the constant-plus-share model.
#[inline]
pub(crate) fn crank(
    wheel: f64,
    drag: (f64, f64),
    acc: (f64, f64),
    share: (f64, f64),
    notices: Notices,
) -> AtCrank {
    let rest = 1.0 - share.0;
    let power = (wheel + acc.0 + drag.0) / rest;
    let additive = libm::hypot(drag.1, acc.1) / rest;
    let uncertainty = libm::hypot(additive, power * share.1 / rest);
    AtCrank { power: PowerAtCrank::from_watts(power), uncertainty, notices }
}
