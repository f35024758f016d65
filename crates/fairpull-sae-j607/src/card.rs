//! The static card: reference air, edition, status, sources.

use crate::constants::{FORMULA, REFERENCE, TEXT};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "sae-j607",
    designation: "SAE J607",
    title: "Small spark-ignition engine test code, gross power",
    edition: "a",
    status: Status::Historic,
    rating: Rating::Gross,
    applies: Applicability { spark: true, compression: false, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "(29.92/p_d) ((F+460)/520)^0.5, p_d dry in inHg, F in °F",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        FORMULA,
        Source {
            what: "scope: small spark-ignition engines, gross; withdrawn",
            cite: Cite::new(TEXT, "scope", Reading::Remembered),
        },
    ],
    gaps: &["the text was not read; no range of validity is known; charged engines are an extrapolation"],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 100.0,
        vapour_kpa: 1.0,
        temperature_c: 25.0,
        printed: "1.04003669913779",
        cite: Cite::new("hand-worked", "100.0 kPa, 25.0 °C", Reading::Derived),
    }],
};
