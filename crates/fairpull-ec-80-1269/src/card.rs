//! The static cards: reference air, limits, edition, status, sources.

use crate::constants::{
    CHARGED, DIESEL, DIESEL_WINDOW, LIMITS, ORIGINAL, ORIGINAL_BASIS, ORIGINAL_CHARGED,
    ORIGINAL_DIESEL_SOURCE, ORIGINAL_SPARK_SOURCE, ORIGINAL_WINDOW, REFERENCE, REFERENCE_TOTAL, RULE,
    SPARK_SOURCE, SPARK_WINDOW, TEXT,
};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status,
};

const REPEALED: Cite =
    Cite::new(TEXT, "header: validity ended 2013-12, repealed by (EC) 595/2009", Reading::Read);
const SHEET: Cite = Cite::new(
    "a vehicle maker's workshop information sheet (correction table, 110 cells)",
    "table of K, cell as read",
    Reading::Read,
);

pub(crate) static AMENDED: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "ec-80-1269",
    designation: "80/1269/EEC",
    title: "Engine power of motor vehicles, net",
    edition: "as amended by 88/195, 89/491, 97/21 and 1999/99",
    status: Status::Withdrawn("UN R85, by (EC) 595/2009"),
    rating: Rating::Net,
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
        Source { what: "scope and status", cite: REPEALED },
        SPARK_SOURCE,
        CHARGED,
        Source { what: "engine factor f_m", cite: DIESEL.cite },
        Source { what: "test ranges and range of the factor", cite: LIMITS },
        Source { what: "rule for ambient-compensated engines", cite: RULE },
    ],
    gaps: &[
        "only headers and recitals were read; the formulas are those of UN R85, with which the text is aligned",
    ],
    aliases: &[Alias {
        id: "ec-88-195",
        designation: "88/195/EEC",
        cite: Cite::new("88/195/EEC", "the amendment that brought these formulas", Reading::Read),
    }],
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

pub(crate) static ED_1980: StandardCard = ED_1980_BASE;

const ED_1980_BASE: StandardCard = StandardCard {
    id: "ec-80-1269-1980",
    edition: "original, 1980",
    status: Status::Withdrawn("88/195/EEC"),
    spark: ORIGINAL_WINDOW,
    compression: ORIGINAL_WINDOW,
    formula: "spark: (99/p) (T/298)^0.5; compression: (99/p)^0.65 (T/298)^0.5 aspirated, 1 turbocharged",
    sources: &[
        Source { what: "replaced by 88/195/EEC", cite: Cite::new("88/195/EEC", "recitals", Reading::Read) },
        ORIGINAL_SPARK_SOURCE,
        ORIGINAL_BASIS,
        ORIGINAL_CHARGED,
        ORIGINAL_DIESEL_SOURCE,
        Source { what: "range of K", cite: Cite::new(ORIGINAL, "range of K", Reading::Doubtful) },
    ],
    gaps: &[
        "the original's factor for compression ignition and its ranges were not read",
        "mechanically supercharged compression ignition: nothing was found, such an engine is refused",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 101.0,
        vapour_kpa: 3.810351524324268,
        temperature_c: 30.0,
        printed: "1.02713698018473",
        cite: Cite::new("hand-worked", "101.0 kPa, 30.0 °C", Reading::Derived),
    }],
    ..BASE
};

pub(crate) static ED_1980_TOTAL: StandardCard = StandardCard {
    id: "ec-80-1269-1980-total",
    edition: "original, 1980, with the barometer as read",
    reference: REFERENCE_TOTAL,
    spark: ORIGINAL_WINDOW,
    compression: ORIGINAL_WINDOW,
    sources: &[
        ORIGINAL_SPARK_SOURCE,
        Source { what: "total pressure, as workshops applied it", cite: SHEET },
        ORIGINAL_CHARGED,
        ORIGINAL_DIESEL_SOURCE,
    ],
    examples: &[
        cell(104.0, 0.0, "0.9111"),
        cell(100.0, 25.0, "0.9900"),
        cell(100.0, 0.0, "0.9476"),
        cell(101.5, 40.0, "0.9996"),
        cell(99.5, 50.0, "1.0359"),
        cell(103.0, 40.0, "0.9851"),
    ],
    ..ED_1980_BASE
};

const fn cell(total_kpa: f64, temperature_c: f64, printed: &'static str) -> Example {
    Example {
        what: "a cell of the published table",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa,
        vapour_kpa: 0.0,
        temperature_c,
        printed,
        cite: SHEET,
    }
}
