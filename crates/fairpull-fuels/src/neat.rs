//! Neat substances: reference fuels and blending components.
//!
//! Heating values rest on standard enthalpies of formation, air-fuel ratios on composition and 20.946 % oxygen in
//! dry air of 28.9647 g/mol; heats of vaporisation are those at 25 °C of a reference library (chemicals 1.5).

use fairpull_core::{Cite, Reading};

use crate::grade::{Grade, Kind};
use crate::property::Property;

const COMPUTED: Cite =
    Cite::new("fairpull, with the library chemicals 1.5", "composition and enthalpies", Reading::Derived);
const DENSITY: Cite = Cite::new("library chemicals 1.5", "liquid density at 15 °C", Reading::Corroborated);
const MASS: Cite = Cite::new("atomic weights", "", Reading::Derived);
const DOE: Cite = Cite::new("US DOE, Alternative Fuels Data Center", "fuel properties table", Reading::Read);
const MEMORY: Cite = Cite::new("values from memory, no document at hand", "", Reading::Remembered);
const REFERENCE: Cite =
    Cite::new("ASTM D2699 and ASTM D2700", "definition of the octane scale", Reading::Derived);
const ANDERSON: Cite = Cite::new(
    "Anderson et al., SAE 2012-01-1274",
    "neat ethanol 109/90; other sources 108/92 (DOE) and 108.0/90.7",
    Reading::Remembered,
);

const NONE: Property = Property::usual(0.0, 0.0, MASS);

const NEAT: Grade = Grade {
    id: "",
    title: "",
    kind: Kind::Neat,
    ron: None,
    mon: None,
    aki: None,
    density: NONE,
    lower_heating_value: NONE,
    stoichiometric_ratio: NONE,
    heat_of_vaporisation: NONE,
    molar_mass: NONE,
    ethanol: NONE,
    note: "neat substance",
};

pub(crate) const ETHANOL: Grade = Grade {
    id: "ethanol",
    title: "Ethanol, neat",
    ron: Some(Property::range(108.0, 109.0, ANDERSON).with_usual(109.0, 0.6)),
    mon: Some(Property::range(90.0, 92.0, ANDERSON).with_usual(90.0, 0.9)),
    density: Property::usual(793.7, 0.5, DOE),
    lower_heating_value: Property::usual(26.817_773e6, 0.05e6, COMPUTED),
    stoichiometric_ratio: Property::usual(9.004_931_321_212_792, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(920.66e3, 5.0e3, COMPUTED),
    molar_mass: Property::usual(46.069, 0.001, MASS),
    ethanol: Property::usual(100.0, 0.0, MASS),
    note: "octane number of the neat liquid; blending follows the molar rule",
    ..NEAT
};

pub(crate) const METHANOL: Grade = Grade {
    id: "methanol",
    title: "Methanol, neat",
    ron: Some(Property::usual(107.0, 1.0, DOE)),
    mon: Some(Property::usual(92.0, 1.0, DOE)),
    density: Property::usual(795.7, 0.5, DENSITY),
    lower_heating_value: Property::usual(19.935_147_618_750_392e6, 0.05e6, COMPUTED),
    stoichiometric_ratio: Property::usual(6.473_506_351_615_881, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(1169.0e3, 8.0e3, COMPUTED),
    molar_mass: Property::usual(32.042, 0.001, MASS),
    ..NEAT
};

pub(crate) const ISO_OCTANE: Grade = Grade {
    id: "iso-octane",
    title: "Iso-octane (2,2,4-trimethylpentane), neat",
    ron: Some(Property::usual(100.0, 0.0, REFERENCE)),
    mon: Some(Property::usual(100.0, 0.0, REFERENCE)),
    density: Property::usual(696.2, 0.5, DENSITY),
    lower_heating_value: Property::usual(44.345_840_044_821_07e6, 0.05e6, COMPUTED),
    stoichiometric_ratio: Property::usual(15.131_785_206_019_044, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(307.59e3, 2.0e3, COMPUTED),
    molar_mass: Property::usual(114.231, 0.001, MASS),
    note: "octane number 100 by definition; primary reference fuels blend by volume",
    ..NEAT
};

pub(crate) const N_HEPTANE: Grade = Grade {
    id: "n-heptane",
    title: "n-Heptane, neat",
    ron: Some(Property::usual(0.0, 0.0, REFERENCE)),
    mon: Some(Property::usual(0.0, 0.0, REFERENCE)),
    density: Property::usual(688.0, 0.5, DENSITY),
    lower_heating_value: Property::usual(44.561_329_274_986_28e6, 0.05e6, COMPUTED),
    stoichiometric_ratio: Property::usual(15.179_981_010_283_832, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(365.01e3, 2.0e3, COMPUTED),
    molar_mass: Property::usual(100.205, 0.001, MASS),
    note: "octane number 0 by definition; primary reference fuels blend by volume",
    ..NEAT
};

pub(crate) const TOLUENE: Grade = Grade {
    id: "toluene",
    title: "Toluene, neat",
    ron: Some(Property::usual(120.0, 2.0, MEMORY)),
    mon: Some(Property::usual(109.0, 2.0, MEMORY)),
    density: Property::usual(871.5, 0.5, DENSITY),
    lower_heating_value: Property::usual(40.527_387_373_699_01e6, 0.05e6, COMPUTED),
    stoichiometric_ratio: Property::usual(13.506_957_197_239_629, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(412.85e3, 2.0e3, COMPUTED),
    molar_mass: Property::usual(92.141, 0.001, MASS),
    ..NEAT
};

pub(crate) const MTBE: Grade = Grade {
    id: "mtbe",
    title: "Methyl tert-butyl ether, neat",
    ron: Some(Property::range(116.0, 118.0, DOE)),
    mon: Some(Property::usual(101.0, 1.0, MEMORY)),
    density: Property::usual(744.0, 1.0, DOE),
    lower_heating_value: Property::usual(35.1e6, 0.2e6, MEMORY),
    stoichiometric_ratio: Property::usual(11.765_405_020_900_516, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(322.0e3, 8.0e3, MEMORY),
    molar_mass: Property::usual(88.150, 0.001, MASS),
    ..NEAT
};

pub(crate) const ETBE: Grade = Grade {
    id: "etbe",
    title: "Ethyl tert-butyl ether, neat",
    ron: Some(Property::range(116.0, 118.0, MEMORY)),
    mon: Some(Property::usual(101.0, 1.0, MEMORY)),
    density: Property::usual(745.0, 2.0, MEMORY),
    lower_heating_value: Property::usual(36.3e6, 0.2e6, MEMORY),
    stoichiometric_ratio: Property::usual(12.180_280_719_837_699, 0.01, COMPUTED),
    heat_of_vaporisation: Property::usual(310.0e3, 8.0e3, MEMORY),
    molar_mass: Property::usual(102.177, 0.001, MASS),
    ..NEAT
};
