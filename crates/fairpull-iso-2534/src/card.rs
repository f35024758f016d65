//! The static cards: reference air, limits, edition, status, sources.

use crate::constants::{
    CHARGED, CHARGED_1998, DIESEL_SOURCE, DIESEL_WINDOW, ENGINE_FACTOR, LIMITS, LIMITS_1998, REFERENCE, RULE,
    SPARK_SOURCE, SPARK_SOURCE_1998, SPARK_WINDOW, SPARK_WINDOW_1998, TEXT,
};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

const GROSS: Source = Source {
    what: "status; a gross figure must be called gross",
    cite: Cite::new(TEXT, "9.2", Reading::Read),
};
const RANGES: Source = Source { what: "test ranges and range of the factor", cite: LIMITS };
const COMPENSATED: Source = Source { what: "rule for ambient-compensated engines", cite: RULE };

pub(crate) static ED_2020: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "iso-2534",
    designation: "ISO 2534",
    title: "Road vehicles: engine test code, gross power",
    edition: "2020 (3rd)",
    status: Status::Current,
    rating: Rating::Gross,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: TestWindow::OPEN,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: not established",
    compensation: Compensation::FactorOneByLaterText(RULE),
    compensates_spark_only: false,
    sources: &[GROSS, SPARK_SOURCE, CHARGED, RANGES, COMPENSATED],
    gaps: &[
        "no formula of this text was read: that for spark ignition is believed to repeat ISO 1585",
        "exponents and engine factor for compression ignition were not read: they may follow ISO 15550",
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

pub(crate) static ED_1998: StandardCard = StandardCard {
    id: "iso-2534-1998",
    edition: "1998 (2nd)",
    status: Status::Withdrawn("ISO 2534:2020"),
    spark: SPARK_WINDOW_1998,
    compression: DIESEL_WINDOW,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: f_a^f_m, f_a = (99/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for 40 <= q_c <= 65, \
              0.3 below, 1.2 above",
    sources: &[
        SPARK_SOURCE_1998,
        CHARGED_1998,
        DIESEL_SOURCE,
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR },
        Source { what: "test ranges and range of the factor", cite: LIMITS_1998 },
        COMPENSATED,
    ],
    gaps: &["no formula of this text was read: it is believed to repeat ISO 1585:1992"],
    ..BASE
};
