//! The static cards: reference air, edition, status, sources.

use crate::constants::{
    BASIS, BASIS_DRY, CHARGED, DIESEL, FORMULA, REFERENCE, REFERENCE_DRY, TEXT, TURBO_DIESEL,
};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

const fn example(printed: &'static str) -> Example {
    Example {
        what: "spark ignition, aspirated, hot humid air",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 101.0,
        vapour_kpa: 3.810351524324268,
        temperature_c: 30.0,
        printed,
        cite: Cite::new("hand-worked", "101 kPa, 30 °C, 90 % relative humidity", Reading::Derived),
    }
}

pub(crate) static TOTAL: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "din-70020",
    designation: "DIN 70020",
    title: "Motor vehicles: engine power, net",
    edition: "part 6 (1976), earlier part 3",
    status: Status::Historic,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: TestWindow::OPEN,
    formula: "(1013/p) ((273+t)/293)^0.5, p total in mbar; 1 for turbocharged compression ignition",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[
        FORMULA,
        BASIS,
        CHARGED,
        DIESEL,
        TURBO_DIESEL,
        Source { what: "status: withdrawn", cite: Cite::new(TEXT, "status", Reading::Remembered) },
    ],
    gaps: &[
        "part and year, and whether the pressure is total or dry, were not read",
        "the treatment of charged and of compression-ignition engines was not read",
        "no range of validity is known",
    ],
    aliases: &[],
    examples: &[example("1.01994223430640")],
};

pub(crate) static DRY: StandardCard = StandardCard {
    id: "din-70020-dry",
    edition: "part 6 (1976), earlier part 3, read with dry pressure",
    reference: REFERENCE_DRY,
    formula: "(1013/p_d) ((273+t)/293)^0.5, p_d dry in mbar; 1 for turbocharged compression ignition",
    sources: &[FORMULA, BASIS_DRY, CHARGED, DIESEL, TURBO_DIESEL],
    examples: &[example("1.05992939866151")],
    ..BASE
};
