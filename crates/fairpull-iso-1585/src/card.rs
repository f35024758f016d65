//! The static cards: reference air, limits, edition, status, sources.

use crate::constants::{
    DIESEL_CITE, DIESEL_WINDOW, ENGINE_FACTOR_CITE, ONE_SPARK_FORMULA, REFERENCE, SPARK_CITE, SPARK_WINDOW,
    TEXT, TEXT_2020,
};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

/// The rule of a later text of the same family: factor 1 for a charged engine that compensates for the ambient.
const LATER: Cite = Cite::new(
    "(EU) 2017/1151",
    "Annex XX, 2.3 (derogation from UN R85, Annex 5, 5.1), at the manufacturer's request",
    Reading::Read,
);

const NET: Applicability = Applicability { spark: true, compression: true, charged: true };

pub(crate) static ED_1992: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "iso-1585",
    designation: "ISO 1585",
    title: "Road vehicles: engine test code, net power",
    edition: "1992 (3rd)",
    status: Status::Withdrawn("ISO 1585:2020"),
    rating: Rating::Net,
    applies: NET,
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: DIESEL_WINDOW,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: f_a^f_m, f_a = (99/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for 40 <= q_c <= 65, \
              0.3 below, 1.2 above",
    compensation: Compensation::FactorOneByLaterText(LATER),
    compensates_spark_only: false,
    sources: &[
        Source { what: "scope and status", cite: Cite::new(TEXT, "catalogue entry", Reading::Read) },
        Source { what: "exponents of α_a", cite: SPARK_CITE },
        ONE_SPARK_FORMULA,
        Source { what: "exponents of f_a", cite: DIESEL_CITE },
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR_CITE },
        Source { what: "reference air", cite: Cite::new(TEXT, "reference atmosphere", Reading::Remembered) },
        Source {
            what: "test ranges and range of α_a",
            cite: Cite::new(TEXT, "test conditions", Reading::Remembered),
        },
        Source { what: "rule for ambient-compensated engines", cite: LATER },
    ],
    gaps: &[
        "the clauses with 0.93 to 1.07, 288 to 308 K and 80 to 110 kPa were not read",
        "with intake-air heating still active at 25 °C the temperature exponent is believed to be zero; not applied",
    ],
    aliases: &[
        Alias {
            id: "iso-1585-1992",
            designation: "ISO 1585:1992",
            cite: Cite::new(TEXT, "this edition", Reading::Read),
        },
        Alias {
            id: "is-14599",
            designation: "IS 14599:1999",
            cite: Cite::new("IS 14599:1999", "foreword: built on ISO 1585:1992", Reading::Read),
        },
        Alias {
            id: "gb-t-18297",
            designation: "GB/T 18297-2024",
            cite: Cite::new(
                "GB/T 18297-2024",
                "correction believed to be of the ISO family",
                Reading::Remembered,
            ),
        },
    ],
    examples: &[
        Example {
            what: "spark ignition, 15 °C, dry, sea level",
            engine: Engine::new(Ignition::Spark, Charging::None),
            total_kpa: 101.325,
            vapour_kpa: 0.0,
            temperature_c: 15.0,
            printed: "0.9528137873669",
            cite: Cite::new("hand-worked", "101.325 kPa dry, 15 °C", Reading::Derived),
        },
        Example {
            what: "compression ignition, turbocharged, q 70.1416 mg/(l·cycle), pressure ratio 2.6",
            engine: Engine::new(Ignition::Compression, Charging::Turbocharged).fuelled(70.141570, 2.6),
            total_kpa: 84.5,
            vapour_kpa: 0.942787305117147,
            temperature_c: 28.0,
            printed: "1.0409368105870",
            cite: Cite::new(
                "hand-worked",
                "84.5 kPa, 28 °C, 25 % relative humidity, f_m = 0.3",
                Reading::Derived,
            ),
        },
    ],
};

pub(crate) static ED_2020: StandardCard = StandardCard {
    id: "iso-1585-2020",
    edition: "2020 (4th)",
    status: Status::Current,
    compression: TestWindow::OPEN,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: not established",
    sources: &[
        Source {
            what: "title, status and place of the intake temperature",
            cite: Cite::new(TEXT_2020, "5.3", Reading::Read),
        },
        Source {
            what: "spark-ignition formula unchanged from 1992",
            cite: Cite::new(TEXT_2020, "factor for spark ignition", Reading::Remembered),
        },
    ],
    gaps: &[
        "exponents and engine factor for compression ignition were not read: they may follow ISO 15550",
        "whether this edition prints a rule for ambient-compensated engines was not read",
    ],
    aliases: &[],
    examples: &[],
    ..BASE
};
