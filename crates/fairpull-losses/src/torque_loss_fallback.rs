//! The torque-loss fallback for transmissions whose losses nobody measured.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, Gearbox, Limit, LossCard, LossModel, Notice, Notices, Outside,
    PowerAtCrank, PowerAtWheels, Reading, Refusal, Source,
};

const TEXT: Cite = Cite::new("(EU) 2017/2400 as adopted", "Annex VI Appendix 8", Reading::Read);
const SPREAD: Cite =
    Cite::new("fairpull", "true loss anywhere between 0 and the fallback: own judgement", Reading::Doubtful);

/// f_T of a direct gear, of an indirect gear, and what an angle drive adds (Appendix 8).
const DIRECT: f64 = 0.01;
const INDIRECT: f64 = 0.04;
const ANGLE: f64 = 0.04;
/// T_d0 = T_d1000 as a share of the largest input torque: tooth shift clutches; more than two friction clutches.
const TOOTH: f64 = 0.005;
const FRICTION: f64 = 0.015;

/// From 0 up to the largest input torque of the gearbox at hand.
static INPUT_TORQUE: Limit =
    Limit { what: "gearbox input torque", unit: "N·m", low: 0.0, high: f64::MAX, cite: TEXT };

static CARD: LossCard = LossCard {
    id: "eu-2017-2400",
    title: "Torque-loss fallback for transmissions",
    contains: "drag and load-dependent loss of the gearbox, and of an angle drive where there is one",
    leaves_out: "axle, wheel bearings, tyre, converter; written for heavy-duty vehicles and meant to penalise a missing measurement",
    needs: &["engine_speed", "gearbox", "direct_gear", "max_input_torque"],
    formula: "T_loss = T_d0 + T_d1000 n/1000 + (f_T + f_T,add) T_in",
    habit: false,
    sources: &[
        Source { what: "formula and constants", cite: TEXT },
        Source { what: "uncertainty", cite: SPREAD },
    ],
    example: (DrivePoint::new(input::at_road_speed(30.0), input::at_engine_speed(400.0)), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.gearbox = Some(Gearbox::ToothClutch);
    d.direct_gear = Some(true);
    d.max_input_torque = Some(300.0);
    d
};

/// P_crank·(1 − f) = P + (T_d0 + T_d1000·n/1000)·ω, with f = f_T + f_T,add and the torques as shares of the largest
/// input torque.
///
/// **Units.** N·m, 1/min, W. **Range.** n 50 to 30 000 1/min, largest input torque 1 to 20 000 N·m.
/// **Uncertainty.** The values are conservative fallbacks: the true loss is taken as anywhere between none and the
/// fallback, which puts u = loss/√3 about the fallback itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct TorqueLossFallback;

impl LossModel for TorqueLossFallback {
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
        let (omega, rpm) = input::engine_speed(at, TEXT)?;
        let t_max = input::max_torque(driveline.max_input_torque, TEXT)?;
        let missing = |what, mend| Refusal::Missing { what, mend, cite: TEXT };
        let gearbox = driveline
            .gearbox
            .ok_or(missing("gearbox", "say whether it shifts by tooth or friction clutches"))?;
        let direct = driveline
            .direct_gear
            .ok_or(missing("direct gear", "say whether the pull was made in a direct or an indirect gear"))?;
        let mut notices = Notices::NONE;
        let torque_share = match gearbox {
            Gearbox::ToothClutch => TOOTH,
            Gearbox::Planetary => FRICTION,
            Gearbox::Converter => {
                notices.push(Notice::Extrapolated {
                    what: "the slip of a converter is not in the fallback",
                    cite: &TEXT,
                });
                FRICTION
            }
        };
        let f = if direct { DIRECT } else { INDIRECT } + if driveline.angle_drive { ANGLE } else { 0.0 };
        let drag = torque_share * t_max * (1.0 + rpm / 1000.0);
        let power = (p + drag * omega) / (1.0 - f);
        if let Some(out) = Outside::above(&INPUT_TORQUE, t_max * (1.0 + 1e-9), power / omega) {
            notices.push(Notice::OutsideRange(out));
        }
        notices.push(Notice::Extrapolated {
            what: "a heavy-duty fallback without axle and tyre, larger than typical losses",
            cite: &TEXT,
        });
        let uncertainty = (power - p) / libm::sqrt(3.0);
        Ok(AtCrank { power: PowerAtCrank::from_watts(power), uncertainty, notices })
    }
}
