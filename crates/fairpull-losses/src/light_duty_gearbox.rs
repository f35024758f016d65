//! Default gearbox loss of the European Commission's light-duty model.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, Gearbox, Input, Limit, LossCard, LossModel, Notice, Notices,
    PowerAtCrank, PowerAtWheels, Reading, Refusal, Source,
};

const TEXT: Cite = Cite::new(
    "European Commission Joint Research Centre, light-duty vehicle CO2 model",
    "default gearbox loss parameters, published source",
    Reading::Read,
);
const AXLE: Cite = Cite::new(
    "European Commission Joint Research Centre, light-duty vehicle CO2 model",
    "default final-drive efficiency, published source",
    Reading::Read,
);
const SPREAD: Cite =
    Cite::new("fairpull", "half of the modelled loss, rectangular: own judgement", Reading::Doubtful);

/// Half width of the band put on the modelled loss, as a share of it.
const HALF_WIDTH: f64 = 0.5;
/// Slope of the constant drag with the largest torque, 1.
const G00_SLOPE: f64 = 0.004_323_343_44;
/// Slope of the speed-dependent drag with the largest torque, min.
const G10_SLOPE: f64 = 2.4526e-6;

static CARD: LossCard = LossCard {
    id: "ec-light-duty-gearbox",
    title: "Default gearbox loss of the light-duty model",
    contains: "drag of the gearbox by speed and size, its load-dependent loss, and a default efficiency of the final drive",
    leaves_out: "tyre and wheel bearings; individual gearboxes differ",
    needs: &["engine_speed", "gearbox", "max_input_torque"],
    formula: "P_out = e P_in - (g00 + g10 n) omega",
    habit: false,
    sources: &[
        Source { what: "coefficients e, g00, g10", cite: TEXT },
        Source { what: "final drive", cite: AXLE },
        Source { what: "uncertainty", cite: SPREAD },
    ],
    example: (DrivePoint::new(input::at_road_speed(30.0), input::at_engine_speed(400.0)), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.gearbox = Some(Gearbox::ToothClutch);
    d.max_input_torque = Some(300.0);
    d.driven_wheels = Some(2);
    d
};

/// e, the constant part of g00 (N·m) and the constant part of g10 (N·m·min).
const fn coefficients(converter: bool, warm: bool) -> (f64, f64, f64) {
    let g00 = if warm { 0.298_236_141 } else { 0.695_884_329 };
    match (converter, warm) {
        (false, true) => (0.989_517_75, g00, 5.159_57e-5),
        (false, false) => (0.979_368_85, g00, 1.295_891_892e-4),
        (true, true) => (0.979_368_85, g00, 1.547_871e-4),
        (true, false) => (0.969_219_95, g00, 5.171_569e-4),
    }
}

/// P_crank = (P/η_axle + (g00 + g10·n)·ω)/e.
///
/// **Symbols.** e load-dependent efficiency; g00 = 0.00432334344·T_max + constant, N·m; g10 = 2.4526·10⁻⁶·T_max +
/// constant, N·m·min; η_axle = 1 − (driven wheels − 2)/100.
/// **Range.** n 50 to 30 000 1/min, T_max 1 to 20 000 N·m, 2 to 4 driven wheels.
/// **Uncertainty.** None is published; half of the modelled loss is taken as a rectangular half width (own judgement).
#[derive(Clone, Copy, Debug, Default)]
pub struct LightDutyGearbox;

impl LossModel for LightDutyGearbox {
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
        let gearbox = driveline.gearbox.ok_or(Refusal::Missing {
            what: "gearbox",
            mend: "say whether it is a tooth-clutch gearbox or one with a converter",
            cite: TEXT,
        })?;
        let mut notices = Notices::NONE;
        let wheels = driveline.driven_wheels.unwrap_or_else(|| {
            notices.push(Notice::Assumed {
                what: &Input { name: "driven wheels", unit: "1" },
                value: 2.0,
                cite: &AXLE,
            });
            2
        });
        let count = Limit { what: "driven wheels", unit: "1", low: 2.0, high: 4.0, cite: AXLE };
        let axle = 1.0 - (input::within(count, f64::from(wheels))? - 2.0) / 100.0;
        let (e, g00, g10) = coefficients(gearbox != Gearbox::ToothClutch, driveline.warm);
        let drag = (G00_SLOPE * t_max + g00) + (G10_SLOPE * t_max + g10) * rpm;
        let power = (p / axle + drag * omega) / e;
        notices.push(Notice::Extrapolated { what: "a gearbox model without the tyre", cite: &TEXT });
        let uncertainty = HALF_WIDTH * (power - p) / libm::sqrt(3.0);
        Ok(AtCrank { power: PowerAtCrank::from_watts(power), uncertainty, notices })
    }
}
