//! The static cards: reference air, edition, status, sources.

use crate::constants::{Case, EFFICIENCY_CITE, METHOD, REFERENCE, TEXT};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

const fn exponents(case: &Case) -> Source {
    Source { what: "exponents of k", cite: case.cite }
}
const ETA: Source = Source { what: "mechanical efficiency 0.80 where none is stated", cite: EFFICIENCY_CITE };
const STATUS: Source =
    Source { what: "reciprocating engines; status", cite: Cite::new(TEXT, "scope", Reading::Remembered) };
const GAP: &str = "the tables of exponents were not read";

pub(crate) static AUTO: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "iso-3046",
    designation: "ISO 3046-1",
    title: "Reciprocating internal combustion engines: performance, relative power method",
    edition: "2002 (5th); earlier 1995, 1986",
    status: Status::Current,
    rating: Rating::Either,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "1/alpha, alpha = k - 0.7 (1-k)(1/eta_m - 1), k = ((p_x - a phi_x p_sx)/(p_r - a phi_r p_sr))^m (T_r/T_x)^n \
              (T_cr/T_cx)^s; (a, m, n, s) = A (1, 1, 0.75, 0), C (0, 0.7, 2, 0), D (0, 0.7, 1.2, 1), spark ignition on \
              liquid fuel (1, 1, 0.5, 0)",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        STATUS,
        METHOD,
        exponents(&Case::A),
        exponents(&Case::C),
        exponents(&Case::D),
        exponents(&Case::SPARK_LIQUID),
        ETA,
    ],
    gaps: &[
        GAP,
        "the row for spark ignition on liquid fuel is only half remembered",
        "mechanically supercharged engines and boosted spark ignition on liquid fuel: no case is known",
    ],
    aliases: &[Alias {
        id: "jis-b-8002-1",
        designation: "JIS B 8002-1:2005",
        cite: Cite::new("JIS B 8002-1:2005", "foreword: identical with ISO 3046-1:2002", Reading::Read),
    }],
    examples: &[Example {
        what: "case A, example 27.1: 500 kW become 366.75 kW, so the factor is 1/0.7335",
        engine: Engine::new(Ignition::Compression, Charging::None).with_mechanical_efficiency(0.85),
        total_kpa: 87.0,
        vapour_kpa: 0.80 * 9.6,
        temperature_c: 45.0,
        printed: "1.36331679",
        cite: Cite::new(
            "Mathur & Sharma, Internal Combustion Engine (2010)",
            "ch. 27, inputs as published, factor computed",
            Reading::Corroborated,
        ),
    }],
};

pub(crate) static CASE_B: StandardCard = StandardCard {
    id: "iso-3046-b",
    applies: Applicability { spark: false, compression: true, charged: false },
    formula: "1/alpha as iso-3046 with (a, m, n, s) = (0, 1, 1, 0)",
    sources: &[STATUS, METHOD, exponents(&Case::B), ETA],
    gaps: &[GAP],
    aliases: &[],
    examples: &[],
    ..BASE
};

pub(crate) static CASE_F: StandardCard = StandardCard {
    id: "iso-3046-f",
    applies: Applicability { spark: true, compression: false, charged: false },
    formula: "1/alpha as iso-3046 with (a, m, n, s) = (1, 0.86, 0.55, 0)",
    sources: &[STATUS, METHOD, exponents(&Case::F), ETA],
    gaps: &[GAP],
    aliases: &[],
    examples: &[],
    ..BASE
};

pub(crate) static CASE_G: StandardCard = StandardCard {
    id: "iso-3046-g",
    applies: Applicability { spark: true, compression: false, charged: true },
    formula: "1/alpha as iso-3046 with (a, m, n, s) = (0, 0.57, 0.55, 1.75)",
    sources: &[STATUS, METHOD, exponents(&Case::G), ETA],
    gaps: &[
        GAP,
        "the case is for turbocharged and charge-cooled engines on gas; others are not told apart here",
    ],
    aliases: &[],
    examples: &[],
    ..BASE
};
