//! The static card: reference air, limits, edition, status, sources.

use crate::constants::{
    CHARGED, DIESEL_SOURCE, DIESEL_WINDOW, ENGINE_FACTOR, LIMITS, REFERENCE, RULE, SPARK_SOURCE,
    SPARK_WINDOW, TEXT,
};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "jis-d-1001",
    designation: "JIS D 1001",
    title: "Road vehicles: engine power test code, gross and net",
    edition: "1993",
    status: Status::Unknown,
    rating: Rating::Either,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: DIESEL_WINDOW,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: f_a^f_m, f_a = (99/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for 40 <= q_c <= 65, \
              0.3 below, 1.2 above",
    compensation: Compensation::FactorOneByLaterText(RULE),
    compensates_spark_only: false,
    sources: &[
        Source { what: "scope: gross and net", cite: Cite::new(TEXT, "scope", Reading::Read) },
        SPARK_SOURCE,
        CHARGED,
        DIESEL_SOURCE,
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR },
        Source { what: "test ranges and range of the factor", cite: LIMITS },
        Source { what: "rule for ambient-compensated engines", cite: RULE },
    ],
    gaps: &[
        "only the scope was read; the formulas are believed to be those of ISO 1585",
        "whether the text is still in force was not established",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 104.0,
        vapour_kpa: 0.7356181233173653,
        temperature_c: 10.0,
        printed: "0.92164501128280",
        cite: Cite::new("hand-worked", "104.0 kPa, 10.0 °C", Reading::Derived),
    }],
};
