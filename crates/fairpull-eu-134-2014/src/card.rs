//! The static cards: reference air, limits, edition, status, sources.

use crate::constants::{
    ALPHA, ALPHA_DIESEL, CONDITIONS, DIESEL_SOURCE, DIESEL_WINDOW, ISO_SOURCE, RANGE, RANGE_DIESEL,
    REFERENCE, REFERENCE_298, SPARK_SOURCE, SPARK_WINDOW, TEXT_95, TEXT_ISO,
};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

pub(crate) static EU_134_2014: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "eu-134-2014",
    designation: "(EU) 134/2014",
    title: "Net power of L-category vehicles, Annex X, Appendix 2",
    edition: "2014, as adopted",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: SPARK_WINDOW,
    compression: DIESEL_WINDOW,
    formula: "spark: (99/p_s)^1.2 (T/298.2)^0.6; compression: f_a^f_m, f_a = (99/p_s)(T/298.2)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298.2)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for \
              40 <= q_c <= 65, 0.3 below, 1.2 above; behind transmission elements times 1/n_t",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        Source { what: "reference conditions, test temperatures, power at the crankshaft", cite: CONDITIONS },
        SPARK_SOURCE,
        DIESEL_SOURCE,
        Source { what: "range of α1", cite: RANGE },
    ],
    gaps: &[
        "the equations are pictures in the copy that was read: whether 298 or 298,2 is printed in the bracket is not \
         known; the difference is below 0.05 %",
        "the range of the factor for compression ignition was not found",
        "tolerances between measured and declared power were only half remembered and are left out",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 101.325,
        vapour_kpa: 0.0,
        temperature_c: 15.0,
        printed: "0.95282710071019",
        cite: Cite::new("hand-worked", "101.325 kPa, 15.0 °C", Reading::Derived),
    }],
};

pub(crate) static EC_95_1: StandardCard = StandardCard {
    id: "ec-95-1",
    designation: "95/1/EC",
    title: "Net power of two- and three-wheel vehicles",
    edition: "as amended by 2002/41 and 2006/27",
    status: Status::Withdrawn("(EU) 168/2013 with (EU) 134/2014"),
    reference: REFERENCE_298,
    spark: ALPHA,
    compression: ALPHA_DIESEL,
    formula: "as (EU) 134/2014 with T = t + 273 and 298",
    sources: &[
        Source {
            what: "validity ended 2015-12-31",
            cite: Cite::new(TEXT_95, "header: repealed by (EU) 168/2013", Reading::Read),
        },
        SPARK_SOURCE,
        DIESEL_SOURCE,
        Source { what: "range of α1", cite: RANGE },
        Source { what: "range of the factor for compression ignition", cite: RANGE_DIESEL },
    ],
    gaps: &["the formulas and test ranges were not read"],
    examples: &[Example {
        what: "spark ignition, aspirated",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 101.325,
        vapour_kpa: 0.0,
        temperature_c: 15.0,
        printed: "0.95281378736694",
        cite: Cite::new("hand-worked", "101.325 kPa, 15.0 °C", Reading::Derived),
    }],
    ..BASE
};

pub(crate) static ISO_4106: StandardCard = StandardCard {
    id: "iso-4106",
    designation: "ISO 4106",
    title: "Motorcycles: engine test code, net power",
    edition: "2012 (4th); earlier 2004, 1993, 1978",
    status: Status::Current,
    reference: REFERENCE_298,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "spark: (99/p_s)^1.2 (T/298)^0.6; compression: not established",
    sources: &[
        Source { what: "title and status", cite: Cite::new(TEXT_ISO, "catalogue entry", Reading::Read) },
        ISO_SOURCE,
    ],
    gaps: &["Annex A with the formula for compression ignition, and the test ranges, were not read"],
    examples: &[],
    ..BASE
};
