//! What can be said when nothing was measured.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, Gearbox, Input, Limit, LossCard, LossModel, Notice, Notices,
    PowerAtCrank, PowerAtWheels, Reading, Refusal, Source,
};

const PRIOR: Cite = Cite::new(
    "fairpull",
    "own judgement from published gearbox losses and slip arithmetic, low confidence",
    Reading::Doubtful,
);

static CARD: LossCard = LossCard {
    id: "prior-band",
    title: "Prior band of wheel over crank power",
    contains: "gearbox, axle and tyre as one efficiency that nobody measured",
    leaves_out: "everything particular to this car, its tyres, its straps and this rig",
    needs: &[],
    formula: "P_crank = P_wheel / n, 1/n anywhere in a band",
    habit: false,
    sources: &[Source { what: "bands", cite: PRIOR }],
    example: (DrivePoint::unknown(), Driveline::unknown()),
};

/// Band of wheel over crank power for two driven wheels.
const TOOTH_CLUTCH: (f64, f64) = (0.88, 0.94);
/// Converter locked.
const CONVERTER: (f64, f64) = (0.85, 0.92);
/// What four driven wheels take off the lower and the upper end.
const ALL_WHEELS: (f64, f64) = (0.04, 0.02);

/// Band of wheel over crank power; whatever is not known widens it.
fn band(gearbox: Option<Gearbox>, all_wheels: Option<bool>) -> (f64, f64) {
    let (low, high) = match gearbox {
        Some(Gearbox::ToothClutch) => TOOTH_CLUTCH,
        Some(Gearbox::Planetary | Gearbox::Converter) => CONVERTER,
        None => (CONVERTER.0, TOOTH_CLUTCH.1),
    };
    match all_wheels {
        Some(false) => (low, high),
        Some(true) => (low - ALL_WHEELS.0, high - ALL_WHEELS.1),
        None => (low - ALL_WHEELS.0, high),
    }
}

/// P_crank = P_wheel·(1/n), with 1/n uniform over a band: tooth-clutch gearbox and two driven wheels 0.88 to 0.94,
/// converter (locked) 0.85 to 0.92, four driven wheels 2 to 4 points lower. What is not known widens the band.
///
/// A prior, not a measurement, and never a correction. The tyre dominates and depends on the rig.
/// **Uncertainty.** Half width of the band of 1/n over √3.
#[derive(Clone, Copy, Debug, Default)]
pub struct PriorBand;

impl LossModel for PriorBand {
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
        let all_wheels = match driveline.driven_wheels {
            Some(n) => {
                let count = Limit { what: "driven wheels", unit: "1", low: 1.0, high: 4.0, cite: PRIOR };
                Some(input::within(count, f64::from(n))? > 2.0)
            }
            None => None,
        };
        let (low, high) = band(driveline.gearbox, all_wheels);
        let (least, most) = (1.0 / high, 1.0 / low);
        let middle = 0.5 * (least + most);
        let mut notices = Notices::NONE;
        notices.push(Notice::Assumed {
            what: &Input { name: "wheel over crank power", unit: "1" },
            value: 1.0 / middle,
            cite: &PRIOR,
        });
        Ok(AtCrank {
            power: PowerAtCrank::from_watts(p * middle),
            uncertainty: p * 0.5 * (most - least) / libm::sqrt(3.0),
            notices,
        })
    }
}
