//! The static cards: reference air, limits, edition, status, sources.

use crate::constants::{CA, CA_1990, DIESEL_SOURCE, FRICTION, REFERENCE, TEXT, WINDOW_1990, WINDOW_2004};
use fairpull_core::{
    Alias, Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status,
};

const CHECK: Cite = Cite::new("hand-worked", "84.5 kPa, 28 °C, 25 % relative humidity", Reading::Derived);

const STANDING: Source =
    Source { what: "net rating and status", cite: Cite::new(TEXT, "abstract of 2011-09", Reading::Read) };
const RANGES: Source = Source {
    what: "test ranges and size of correction",
    cite: Cite::new(TEXT, "test conditions and size of correction", Reading::Doubtful),
};

pub(crate) static FROM_2004: StandardCard = BASE;

const BASE: StandardCard = StandardCard {
    id: "sae-j1349",
    designation: "SAE J1349",
    title: "Engine power test code, net power rating, spark and compression ignition",
    edition: "2004 on (2011-09 is the latest found)",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: true, charged: true },
    reference: REFERENCE,
    spark: WINDOW_2004,
    compression: WINDOW_2004,
    formula: "spark: CA = 1.18 (99/B_d) ((t+273)/298)^0.5 - 0.18, or P_c = (P_o + P_f) k - P_f; compression: f_a^f_m, \
              f_a = (99/B_d)(T/298)^0.7 aspirated or mechanically charged, (99/B_d)^0.7 (T/298)^1.2 turbocharged, \
              (99/B_d)^0.7 (T/298)^0.7 with charge cooling by liquid; f_m = 0.036 q_c - 1.14 for 37.2 <= q_c <= 65, \
              0.2 below, 1.2 above",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[STANDING, CA, FRICTION, DIESEL_SOURCE, RANGES],
    gaps: &[
        "boosted spark ignition: no clause was found, CA is given as an extrapolation",
        "whether the 2011 revision still carries factors for compression ignition is not known",
        "fuel density and viscosity factors for compression ignition are left out: they were only half remembered",
    ],
    aliases: &[],
    examples: &[Example {
        what: "spark ignition, aspirated, thin warm air",
        engine: Engine::new(Ignition::Spark, Charging::None),
        total_kpa: 84.5,
        vapour_kpa: 0.942787305117147,
        temperature_c: 28.0,
        printed: "1.22510368684994",
        cite: CHECK,
    }],
};

pub(crate) static ED_1990: StandardCard = StandardCard {
    id: "sae-j1349-1990",
    edition: "1990-06",
    status: Status::Withdrawn("SAE J1349 (2004 and later)"),
    spark: WINDOW_1990,
    compression: WINDOW_1990,
    sources: &[STANDING, CA_1990, FRICTION, DIESEL_SOURCE, RANGES],
    aliases: &[Alias {
        id: "sae-j1349-jun90",
        designation: "SAE J1349 JUN90",
        cite: Cite::new(TEXT, "the designation of this revision", Reading::Corroborated),
    }],
    ..BASE
};
