//! The static card: reference air, limits, edition, status, sources.

use crate::constants::{DIESEL_SOURCE, DIESEL_WINDOW, FLOOR, REFERENCE, SPARK_SOURCE, SPARK_WINDOW, TEXT};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "iso-15550",
    designation: "ISO 15550",
    title: "Internal combustion engines: determination and method for the measurement of engine power",
    edition: "2016 (2nd); earlier 2002",
    status: Status::Current,
    rating: Rating::Either,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: DIESEL_WINDOW,
    formula: "spark: (99.04/p_s)^1.2 (T/298)^0.6; compression: f_a^f_m, f_a = (99.04/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99.04/p_s)^0.7 (T/298)^1.2 turbocharged, (99.04/p_s)^0.7 (T/298)^0.7 with charge \
              cooling by liquid; f_m = 0.036 q_c - 1.14 for 37.2 <= q_c <= 65, 0.2 below, 1.2 above",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        Source {
            what: "status, clause titles",
            cite: Cite::new(TEXT, "catalogue entry, contents", Reading::Read),
        },
        SPARK_SOURCE,
        DIESEL_SOURCE,
        FLOOR,
    ],
    gaps: &["clause 7 itself was not read; the test ranges for spark ignition are not known"],
    aliases: &[
        Alias {
            id: "jis-b-8003",
            designation: "JIS B 8003:2005",
            cite: Cite::new("JIS B 8003:2005", "foreword: identical with ISO 15550:2002", Reading::Read),
        },
        Alias {
            id: "gb-t-21404",
            designation: "GB/T 21404-2022",
            cite: Cite::new("GB/T 21404-2022", "listing: identical with ISO 15550:2016", Reading::Read),
        },
    ],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 98.0,
        vapour_kpa: 3.36,
        temperature_c: 30.0,
        printed: "1.06664253614942",
        cite: Cite::new(
            "Mathur & Sharma, Internal Combustion Engine (2010)",
            "ch. 27, inputs as published, factor computed",
            Reading::Corroborated,
        ),
    }],
};
