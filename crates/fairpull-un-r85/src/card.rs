//! The static card: reference air, limits, edition, status, sources.

use crate::constants::{
    CHARGED, DIESEL_SOURCE, DIESEL_WINDOW, ENGINE_FACTOR, LIMITS, REFERENCE, RULE, SPARK_SOURCE,
    SPARK_WINDOW, TEXT,
};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "un-r85",
    designation: "UN R85",
    title: "Measurement of net power, internal combustion engines of M and N vehicles",
    edition: "00 series, up to Supplement 7",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: DIESEL_WINDOW,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: f_a^f_m, f_a = (99/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for 40 <= q_c <= 65, \
              0.3 below, 1.2 above",
    compensation: Compensation::FactorOne(RULE),
    compensates_spark_only: false,
    sources: &[
        Source {
            what: "scope and tolerances of the declared value",
            cite: Cite::new(TEXT, "1, 2 and 5.4", Reading::Read),
        },
        SPARK_SOURCE,
        CHARGED,
        DIESEL_SOURCE,
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR },
        Source { what: "test ranges and range of the factor", cite: LIMITS },
        Source { what: "rule for ambient-compensated engines", cite: RULE },
    ],
    gaps: &[
        "the clauses with 0.93 to 1.07, 0.9 to 1.1 and the test ranges were not read",
        "the final wording of Supplement 7 was not read; whether it covers mechanical superchargers is taken from the proposal",
    ],
    aliases: &[
        Alias {
            id: "eu-2017-1151",
            designation: "(EU) 2017/1151 Annex XX",
            cite: Cite::new(
                "(EU) 2017/1151",
                "Annex XX, 2.1 to 2.3: UN R85 with a derogation",
                Reading::Read,
            ),
        },
        Alias {
            id: "gb-t-17692",
            designation: "GB/T 17692-2024",
            cite: Cite::new(
                "GB/T 17692-2024",
                "correction believed to be that of UN R85",
                Reading::Remembered,
            ),
        },
    ],
    examples: &[
        Example {
            what: "spark ignition, aspirated",
            engine: Engine::new(Ignition::Spark, Charging::None),
            total_kpa: 101.0,
            vapour_kpa: 3.810351524324268,
            temperature_c: 30.0,
            printed: "1.03265211430632",
            cite: Cite::new("hand-worked", "101.0 kPa, 30.0 °C", Reading::Derived),
        },
        Example {
            what: "compression ignition",
            engine: Engine::new(Ignition::Compression, Charging::None).fuelled(50.0, 1.0),
            total_kpa: 84.5,
            vapour_kpa: 0.942787305117147,
            temperature_c: 28.0,
            printed: "1.12362044309516",
            cite: Cite::new("hand-worked", "84.5 kPa, 28.0 °C, q_c from 50.0 and 1.0", Reading::Derived),
        },
    ],
};
