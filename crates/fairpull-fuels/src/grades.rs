//! The grades sold at the pump, by the standard that fixes them.

use fairpull_core::{Cite, Reading};

use crate::grade::{Grade, Kind};
use crate::neat;
use crate::property::Property;

const EN228: Cite = Cite::new("EN 228:2012+A1", "requirements table", Reading::Read);
const EC98: Cite = Cite::new("98/70/EC as amended by 2009/30/EC", "Annex I", Reading::Read);
const NATIONAL: Cite =
    Cite::new("national practice (DE, FR), no European grade", "Super Plus", Reading::Remembered);
const D4814_MON: Cite = Cite::new("ASTM D4814", "AKI 87 needs MON of at least 82", Reading::Read);
const D4814: Cite =
    Cite::new("ASTM D4814 and labelling rules", "typical antiknock indices", Reading::Remembered);
const JIS: Cite = Cite::new("JIS K 2202", "grades No. 1 and No. 2", Reading::Read);
const CLAIM: Cite = Cite::new("common practice, the seller's own declaration", "", Reading::Remembered);
const CLAIM_JP: Cite = Cite::new("common practice in Japan", "most suppliers declare RON 100", Reading::Read);
const EN15293: Cite = Cite::new("EN 15293", "older text, to be verified", Reading::Doubtful);
const EN15293_SCOPE: Cite = Cite::new("EN 15293", "scope", Reading::Read);
const D5798: Cite = Cite::new("ASTM D5798", "vapour classes", Reading::Read);
const SURVEY: Cite =
    Cite::new("pump surveys of ethanol fuel", "research octane number 100 to 106", Reading::Remembered);
const DOE: Cite = Cite::new("US DOE, Alternative Fuels Data Center", "fuel properties table", Reading::Read);
const BLENDED: Cite = Cite::new(
    "fairpull",
    "petrol and ethanol of this table blended by mass, limits of the ethanol content",
    Reading::Derived,
);
const CHEMISTRY: Cite = Cite::new("fairpull", "combustion of CH1.80 to CH1.87 in air", Reading::Derived);
const ORDINARY: Cite =
    Cite::new("common practice, no source", "mean molar mass of petrol 95 to 110", Reading::Remembered);

const DENSITY: Property = Property::range(720.0, 775.0, EN228).with_usual(745.0, 15.9);
const ORDINARY_DENSITY: Property = Property::range(720.0, 775.0, DOE).with_usual(745.0, 15.9);
const HEAT: Property = Property::range(42.0e6, 44.0e6, DOE).with_usual(43.0e6, 0.4e6);
const RATIO: Property = Property::range(14.3, 14.7, CHEMISTRY).with_usual(14.574_906_546_326_279, 0.12);
const VAPORISATION: Property = Property::usual(350.0e3, 20.0e3, DOE);
const MOLAR: Property = Property::range(95.0, 110.0, ORDINARY).with_usual(105.0, 4.3);
// up to 10 % ethanol by volume: from the neat petrol down to the full 10 %
const HEAT_E10: Property = Property::range(41.0e6, 44.0e6, BLENDED).with_usual(41.29e6, 0.4e6);
const RATIO_E10: Property = Property::range(13.9, 14.7, BLENDED).with_usual(13.985, 0.12);
const VAPORISATION_E10: Property = Property::range(350.0e3, 410.0e3, BLENDED).with_usual(410.0e3, 20.0e3);
const MOLAR_E10: Property = Property::range(86.0, 110.0, BLENDED).with_usual(92.5, 3.5);

/// A hydrocarbon petrol with at most 5 % ethanol; the others differ from it.
const PETROL: Grade = Grade {
    id: "",
    title: "",
    kind: Kind::Pump,
    ron: None,
    mon: None,
    aki: None,
    density: DENSITY,
    lower_heating_value: HEAT,
    stoichiometric_ratio: RATIO,
    heat_of_vaporisation: VAPORISATION,
    molar_mass: MOLAR,
    ethanol: Property::range(0.0, 5.0, EN228),
    note: "",
};

const AMERICAN: Grade = Grade {
    density: ORDINARY_DENSITY,
    lower_heating_value: HEAT_E10,
    stoichiometric_ratio: RATIO_E10,
    heat_of_vaporisation: VAPORISATION_E10,
    molar_mass: MOLAR_E10,
    ethanol: Property::range(0.0, 10.0, D4814).with_usual(10.0, 1.0),
    note: "sold by the antiknock index, which is not a RON; RON and MON are split with a sensitivity of 8 to 12",
    ..PETROL
};

const EN228_NOTE: &str =
    "minima; the test result is lowered by 0.2 before it is compared with them (footnote of the standard)";

const fn american(id: &'static str, title: &'static str, aki: f64) -> Grade {
    Grade { id, title, aki: Some(Property::minimum(aki, D4814)), ..AMERICAN }
}

const fn claimed(id: &'static str, title: &'static str, ron: f64, cite: Cite) -> Grade {
    Grade {
        id,
        title,
        kind: Kind::Practice,
        ron: Some(Property::usual(ron, 0.5, cite)),
        mon: Some(Property::range(88.0, 90.0, CLAIM)),
        note: "the seller's declaration: no standard fixes this grade, ask for the declared RON and MON",
        ..PETROL
    }
}

/// Every built-in grade, pump grades first.
pub static GRADES: &[Grade] = &[
    Grade {
        id: "en-228-95",
        title: "EN 228 unleaded petrol 95 (E5)",
        ron: Some(Property::minimum(95.0, EN228)),
        mon: Some(Property::minimum(85.0, EN228)),
        note: EN228_NOTE,
        ..PETROL
    },
    Grade {
        id: "en-228-95-e10",
        title: "EN 228 unleaded petrol 95 (E10)",
        ron: Some(Property::minimum(95.0, EN228)),
        mon: Some(Property::minimum(85.0, EN228)),
        lower_heating_value: HEAT_E10,
        stoichiometric_ratio: RATIO_E10,
        heat_of_vaporisation: VAPORISATION_E10,
        molar_mass: MOLAR_E10,
        ethanol: Property::range(0.0, 10.0, EN228),
        note: EN228_NOTE,
        ..PETROL
    },
    Grade {
        id: "ec-98-70-91",
        title: "98/70/EC unleaded regular 91",
        ron: Some(Property::minimum(91.0, EC98)),
        mon: Some(Property::minimum(81.0, EC98)),
        note: "a member state may permit it; minima",
        ..PETROL
    },
    Grade {
        id: "national-98",
        title: "Super Plus 98 (national practice)",
        ron: Some(Property::minimum(98.0, NATIONAL)),
        mon: Some(Property::minimum(88.0, NATIONAL)),
        note: "a national grade, not one of EN 228",
        ..PETROL
    },
    claimed("premium-100", "Premium pump grade declared RON 100", 100.0, CLAIM),
    claimed("premium-102", "Premium pump grade declared RON 102", 102.0, CLAIM),
    claimed("premium-100-jp", "High-octane pump grade declared RON 100 (Japan)", 100.0, CLAIM_JP),
    american("aki-85", "ASTM D4814, antiknock index 85 (high altitude regular)", 85.0),
    Grade {
        mon: Some(Property::minimum(82.0, D4814_MON)),
        ..american("aki-87", "ASTM D4814, antiknock index 87 (regular)", 87.0)
    },
    american("aki-89", "ASTM D4814, antiknock index 89 (mid-grade)", 89.0),
    american("aki-91", "ASTM D4814, antiknock index 91 (premium)", 91.0),
    american("aki-93", "ASTM D4814, antiknock index 93 (premium)", 93.0),
    Grade {
        id: "jis-k-2202-1",
        title: "JIS K 2202 No. 1",
        ron: Some(Property::minimum(96.0, JIS)),
        density: Property::maximum(783.0, JIS).with_usual(745.0, 18.0),
        note: "the standard has no MON: give one, or a sensitivity, for a model that needs it",
        ..PETROL
    },
    Grade {
        id: "jis-k-2202-2",
        title: "JIS K 2202 No. 2",
        ron: Some(Property::minimum(89.0, JIS)),
        density: Property::maximum(783.0, JIS).with_usual(735.0, 18.0),
        note: "the standard has no MON: give one, or a sensitivity, for a model that needs it",
        ..PETROL
    },
    Grade {
        id: "en-15293",
        title: "EN 15293 ethanol (E85)",
        ron: Some(Property::minimum(104.0, EN15293)),
        mon: Some(Property::minimum(88.0, EN15293)),
        density: Property::range(769.0, 787.0, BLENDED),
        lower_heating_value: Property::range(29.1e6, 34.7e6, BLENDED),
        stoichiometric_ratio: Property::range(9.79, 11.71, BLENDED),
        heat_of_vaporisation: Property::range(644.0e3, 840.0e3, BLENDED),
        molar_mass: Property::range(50.0, 63.3, BLENDED),
        ethanol: Property::range(50.0, 85.0, EN15293_SCOPE),
        note: "nominal 85 % ethanol, seasonal down to 50 %: measure the content; never taken as neat ethanol's octane",
        ..PETROL
    },
    Grade {
        id: "astm-d5798",
        title: "ASTM D5798 ethanol flex fuel",
        ron: Some(Property::range(100.0, 106.0, SURVEY)),
        density: Property::range(769.0, 786.0, BLENDED),
        lower_heating_value: Property::range(29.4e6, 34.5e6, BLENDED),
        stoichiometric_ratio: Property::range(9.90, 11.65, BLENDED),
        heat_of_vaporisation: Property::range(650.0e3, 829.0e3, BLENDED),
        molar_mass: Property::range(50.6, 62.8, BLENDED),
        ethanol: Property::range(51.0, 83.0, D5798),
        note: "51 to 83 % ethanol by season; the standard fixes no octane number, the RON is a range of surveys",
        ..PETROL
    },
    neat::ETHANOL,
    neat::METHANOL,
    neat::ISO_OCTANE,
    neat::N_HEPTANE,
    neat::TOLUENE,
    neat::MTBE,
    neat::ETBE,
];

/// The grade with this id.
#[must_use]
pub fn grade(id: &str) -> Option<&'static Grade> {
    GRADES.iter().find(|g| g.id == id)
}
