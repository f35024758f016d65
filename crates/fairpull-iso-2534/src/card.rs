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
    id: "iso-2534",
    designation: "ISO 2534",
    title: "Road vehicles: engine test code, gross power",
    edition: "2020 (3rd); earlier 1998, 1974",
    status: Status::Current,
    rating: Rating::Gross,
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
        Source {
            what: "status; a gross figure must be called gross",
            cite: Cite::new(TEXT, "9.2", Reading::Read),
        },
        SPARK_SOURCE,
        CHARGED,
        DIESEL_SOURCE,
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR },
        Source { what: "test ranges and range of the factor", cite: LIMITS },
        Source { what: "rule for ambient-compensated engines", cite: RULE },
    ],
    gaps: &[
        "no formula of this text was read: it is believed to repeat ISO 1585",
        "exponents and engine factor for compression ignition in the 2020 edition may follow ISO 15550",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 98.5,
        vapour_kpa: 1.1662980110489034,
        temperature_c: 20.0,
        printed: "1.01026930334556",
        cite: Cite::new("hand-worked", "98.5 kPa, 20.0 °C", Reading::Derived),
    }],
};
