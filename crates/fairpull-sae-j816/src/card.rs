//! The static card: reference air, edition, status, sources.

use crate::constants::{FORMULA, REFERENCE, REFERENCE_SOURCE, TEXT};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "sae-j816",
    designation: "SAE J816",
    title: "Engine test code, spark and compression ignition",
    edition: "b (1971)",
    status: Status::Historic,
    rating: Rating::Either,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "k = (736.6/(p-p_v)) ((t+273)/302.4)^0.5, pressures in mmHg, on indicated power: P_b,c = k P_i - P_f",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        REFERENCE_SOURCE,
        FORMULA,
        Source { what: "gross and net; withdrawn", cite: Cite::new(TEXT, "scope", Reading::Remembered) },
    ],
    gaps: &[
        "the text was not read; the formula is that of a textbook, from memory",
        "the factor for compression ignition was not found",
        "no range of validity is known",
    ],
    aliases: &[],
    examples: &[Example {
        what: "k itself, spark ignition",
        engine: Engine::new(Ignition::Spark, Charging::None).with_mechanical_efficiency(1.0),
        total_kpa: 100.0,
        vapour_kpa: 1.0,
        temperature_c: 25.0,
        printed: "0.98472925528575",
        cite: Cite::new("hand-worked", "100.0 kPa, 25.0 °C", Reading::Derived),
    }],
};
