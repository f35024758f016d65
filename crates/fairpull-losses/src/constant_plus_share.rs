//! A constant drag power and a share of the load.

use crate::coast_down::crank;
use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, LossCard, LossModel, Notices, PowerAtWheels, Reading, Refusal,
    Source,
};

const BALANCE: Cite =
    Cite::new("power balance of tyre, driveline and flywheel", "elementary mechanics", Reading::Derived);

static CARD: LossCard = LossCard {
    id: "constant-plus-share",
    title: "Constant drag power plus a share of the load",
    contains: "whatever the given drag power and the given share contain",
    leaves_out: "the rise of drag with road speed: good near the speed at which the drag was found, and only there",
    needs: &["constant_drag", "load_share"],
    formula: "P_crank = (P_wheel + P_acc + P_drag) / (1 - s)",
    habit: false,
    sources: &[Source { what: "power balance", cite: BALANCE }],
    example: (DrivePoint::unknown(), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.constant_drag = Some((9_500.0, 500.0));
    d.load_share = Some((0.03, 0.01));
    d
};

/// P_crank = (P_wheel + P_acc + P_drag)/(1 − s).
///
/// **Units.** W; s is a share of crankshaft power. **Range.** P_drag 0 to 10 MW, s 0 to 0.5.
/// **Uncertainty.** u² = (u_drag² + u_acc²)/(1−s)² + (P_crank·u_s/(1−s))², all independent.
#[derive(Clone, Copy, Debug, Default)]
pub struct ConstantPlusShare;

impl LossModel for ConstantPlusShare {
    fn card(&self) -> &'static LossCard {
        &CARD
    }

    fn to_crank(
        &self,
        wheel: PowerAtWheels,
        _at: &DrivePoint,
        driveline: &Driveline<'_>,
    ) -> Result<AtCrank, Refusal> {
        let p = input::wheel(wheel)?;
        let drag = driveline.constant_drag.ok_or(Refusal::Missing {
            what: "constant drag power",
            mend: "give the drag of tyre and driveline in W with its standard uncertainty",
            cite: BALANCE,
        })?;
        let drag = input::power("constant drag power", drag, 0.0)?;
        let share = driveline.load_share.ok_or(Refusal::Missing {
            what: "load-proportional share",
            mend: "give the share of crankshaft power lost in meshes, 0 to 0.5, with its standard uncertainty",
            cite: BALANCE,
        })?;
        let share = input::share(share)?;
        let mut notices = Notices::NONE;
        let acc = match driveline.accelerating {
            Some(given) => input::power("power that accelerates engine and driveline", given, -drag.0)?,
            None => {
                notices.push(input::NOT_ADDED);
                (0.0, 0.0)
            }
        };
        Ok(crank(p, drag, acc, share, notices))
    }
}
