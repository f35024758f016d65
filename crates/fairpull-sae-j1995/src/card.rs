//! The static card: reference air, edition, status, sources.

use crate::constants::{FORMULA, REFERENCE, REFERENCE_SOURCE};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, StandardCard,
    Status, TestWindow,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "sae-j1995",
    designation: "SAE J1995",
    title: "Engine power test code, gross power rating, spark and compression ignition",
    edition: "1995-06, 2014-01",
    status: Status::Unknown,
    rating: Rating::Gross,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "spark: CA = 1.18 (99/B_d) ((t+273)/298)^0.5 - 0.18, or P_c = (P_o + P_f) k - P_f; compression: f_a^f_m, \
              f_a = (99/B_d)(T/298)^0.7 aspirated or mechanically charged, (99/B_d)^0.7 (T/298)^1.2 turbocharged, \
              (99/B_d)^0.7 (T/298)^0.7 with charge cooling by liquid; f_m = 0.036 q_c - 1.14 for 37.2 <= q_c <= 65, \
              0.2 below, 1.2 above",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[REFERENCE_SOURCE, FORMULA],
    gaps: &[
        "only summaries were read; the formulas are believed to be those of SAE J1349",
        "no test range and no limit on the correction are known",
        "whether the text is still in force was not established",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 101.0,
        vapour_kpa: 3.810351524324268,
        temperature_c: 30.0,
        printed: "1.03202163661798",
        cite: Cite::new("hand-worked", "101.0 kPa, 30.0 °C", Reading::Derived),
    }],
};
