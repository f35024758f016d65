//! The static cards: reference air, edition, status, sources.

use crate::constants::{FORMULA, REFERENCE, REFERENCE_FAHRENHEIT, REFERENCE_SOURCE, TEXT};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

pub(crate) static METRIC: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "sae-j245",
    designation: "SAE J245",
    title: "Engine rating code, spark ignition",
    edition: "1971-04",
    status: Status::Historic,
    rating: Rating::Either,
    applies: Applicability { spark: true, compression: false, charged: false },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "k = (736.6/(p-p_v)) ((t+273)/302.4)^0.5, pressures in mmHg, on indicated power: P_b,c = k P_i - P_f",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        Source {
            what: "spark ignition, gross or net, turbocharged engines excluded for lack of data",
            cite: Cite::new(TEXT, "title page and abstract", Reading::Read),
        },
        REFERENCE_SOURCE,
        FORMULA,
    ],
    gaps: &[
        "the formula was not read; it is that of a textbook, from memory",
        "mechanically supercharged engines: no clause is known, they are refused with the turbocharged ones",
        "catalogued as active, though no current use is known; no range of validity is known",
    ],
    aliases: &[],
    examples: &[Example {
        what: "k itself",
        engine: Engine::new(Ignition::Spark, Charging::None).with_mechanical_efficiency(1.0),
        total_kpa: 100.0,
        vapour_kpa: 1.0,
        temperature_c: 25.0,
        printed: "0.98472925528575",
        cite: Cite::new("hand-worked", "100.0 kPa, 25.0 °C", Reading::Derived),
    }],
};

pub(crate) static FAHRENHEIT: StandardCard = StandardCard {
    id: "sae-j245-fahrenheit",
    reference: REFERENCE_FAHRENHEIT,
    formula: "k = (29.00/p_d) ((F+460)/545)^0.5, p_d dry in inHg, on indicated power: P_b,c = k P_i - P_f",
    examples: &[],
    ..BASE
};
