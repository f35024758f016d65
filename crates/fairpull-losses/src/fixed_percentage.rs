//! A bare percentage: a habit of the trade, here to read other people's figures.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, LossCard, LossModel, Notice, Notices, PowerAtCrank, PowerAtWheels,
    Reading, Refusal, Source,
};

const HABIT: Cite = Cite::new("common practice", "no source", Reading::Doubtful);

/// Why it is wrong, in one sentence.
const WRONG: &str = "a fixed percentage of loss: drag does not grow with engine output, so a percentage set on one \
                     state of the engine overstates the power and the gain of a stronger one";

static CARD: LossCard = LossCard {
    id: "fixed-percentage",
    title: "Fixed percentage of loss",
    contains: "one number for everything between crankshaft and roller",
    leaves_out: "that drag depends on road speed and not on engine output: with 9.5 kW of drag and 3 % in the meshes the true loss \
                 falls from 15.7 % at 75 kW to 7.3 % at 220 kW, and a factor set at 110 kW turns a gain of 40 kW into 43.9 kW",
    needs: &["load_share"],
    formula: "P_crank = P_wheel / (1 - s)",
    habit: true,
    sources: &[Source { what: "the habit", cite: HABIT }],
    example: (DrivePoint::unknown(), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.load_share = Some((0.15, 0.0));
    d
};

/// P_crank = P_wheel/(1 − s), s the percentage somebody claims, given as `load_share`.
///
/// **Uncertainty.** Half of the claimed loss as a *standard* uncertainty, or the one given with the share where that
/// is larger: over the outputs of one car the true percentage halves or doubles.
#[derive(Clone, Copy, Debug, Default)]
pub struct FixedPercentage;

impl LossModel for FixedPercentage {
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
        let claimed = driveline.load_share.ok_or(Refusal::Missing {
            what: "claimed percentage of loss",
            mend: "give the share of crankshaft power that is said to be lost, 0 to 0.5",
            cite: HABIT,
        })?;
        let (s, s_u) = input::share(claimed)?;
        let power = p / (1.0 - s);
        let mut notices = Notices::NONE;
        notices.push(Notice::Convention { what: WRONG });
        let habit = 0.5 * (power - p);
        let given = power * s_u / (1.0 - s);
        Ok(AtCrank {
            power: PowerAtCrank::from_watts(power),
            uncertainty: if given > habit { given } else { habit },
            notices,
        })
    }
}
