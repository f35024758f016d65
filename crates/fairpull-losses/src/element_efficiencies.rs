//! Transmission elements in series, by the table of the L-category power test.

use crate::input;
use fairpull_core::{
    AtCrank, Cite, DrivePoint, Driveline, Element, LossCard, LossModel, Notice, Notices, PowerAtCrank,
    PowerAtWheels, Reading, Refusal, Source,
};

const STRUCTURE: Cite = Cite::new("(EU) 134/2014", "Annex X Appendix 2, factor alpha 2", Reading::Read);
const TABLE: Cite = Cite::new(
    "95/1/EC and (EU) 134/2014",
    "Annex X Appendix 2, table of transmission efficiencies",
    Reading::Remembered,
);
const SPREAD: Cite =
    Cite::new("fairpull", "half of the tabled loss, rectangular: own judgement", Reading::Doubtful);

/// Half width of the band put on the tabled loss, as a share of it.
const HALF_WIDTH: f64 = 0.5;

static CARD: LossCard = LossCard {
    id: "element-efficiencies",
    title: "Element efficiencies in series",
    contains: "the gear meshes, chains, belts and hydraulic elements that are listed, one factor each",
    leaves_out: "tyre, wheel bearings, drag without load: the table belongs to a bench that brakes a shaft, not to a roller",
    needs: &["elements"],
    formula: "P_crank = P / (n_1 n_2 ... n_j)",
    habit: false,
    sources: &[
        Source { what: "structure of the factor", cite: STRUCTURE },
        Source { what: "values of the table", cite: TABLE },
        Source { what: "uncertainty", cite: SPREAD },
    ],
    example: (DrivePoint::unknown(), EXAMPLE),
};

const EXAMPLE: Driveline<'static> = {
    let mut d = Driveline::unknown();
    d.elements = &[Element::HelicalGear, Element::SpurGear, Element::RollerChain];
    d
};

/// Efficiency of one element as tabled, from memory of 95/1/EC; `None` for an element the table does not list.
#[must_use]
pub const fn efficiency(element: Element) -> Option<f64> {
    Some(match element {
        Element::SpurGear | Element::SilentChain => 0.98,
        Element::HelicalGear => 0.97,
        Element::BevelGear => 0.96,
        Element::RollerChain | Element::CoggedBelt => 0.95,
        Element::VeeBelt => 0.94,
        Element::HydraulicCoupling | Element::HydraulicConverter => 0.92,
        _ => return None,
    })
}

/// n_t: product of the elements' efficiencies in the order given; 1 for none, which is power taken at the crankshaft.
#[must_use]
pub fn series_efficiency(elements: &[Element]) -> Option<f64> {
    elements.iter().try_fold(1.0, |product, e| Some(product * efficiency(*e)?))
}

/// P_crank = α₂·P with α₂ = 1/(n₁·n₂·…·n_j).
///
/// **Uncertainty.** The table states none; half of the tabled loss is taken as a rectangular half width (own
/// judgement), so u = 0.5·loss/√3.
#[derive(Clone, Copy, Debug, Default)]
pub struct ElementEfficiencies;

impl LossModel for ElementEfficiencies {
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
        if driveline.elements.is_empty() {
            return Err(Refusal::Missing {
                what: "list of transmission elements",
                mend: "list the meshes, chains, belts and couplings in series between crankshaft and measuring point",
                cite: STRUCTURE,
            });
        }
        // A chain so long that nothing is left would divide by next to nothing.
        let n = series_efficiency(driveline.elements)
            .filter(|n| *n > 0.1)
            .ok_or(Refusal::NotApplicable { why: "the table does not describe such a chain", cite: TABLE })?;
        let power = p / n;
        let mut notices = Notices::NONE;
        notices
            .push(Notice::Extrapolated { what: "a bench table without tyre and bearings", cite: &STRUCTURE });
        notices.push(Notice::RestsOn { what: "transmission efficiencies", cite: &TABLE });
        let uncertainty = HALF_WIDTH * (power - p) / libm::sqrt(3.0);
        Ok(AtCrank { power: PowerAtCrank::from_watts(power), uncertainty, notices })
    }
}
