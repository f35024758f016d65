//! The static card: reference air, limits, edition, status, sources.

use crate::constants::{DIESEL_SOURCE, DIESEL_WINDOW, ENGINE_FACTOR, LIMITS, REFERENCE, RULE, TEXT};
use fairpull_core::{
    Applicability, Charging, Cite, Compensation, Engine, Example, Ignition, Rating, Reading, Source,
    StandardCard, Status, TestWindow,
};

pub(crate) static CARD: StandardCard = StandardCard {
    id: "un-r24",
    designation: "UN R24",
    title: "Visible pollutants and net power of compression-ignition engines",
    edition: "03 series (1986)",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: false, compression: true, charged: true },
    reference: REFERENCE,
    spark: TestWindow::OPEN,
    compression: DIESEL_WINDOW,
    formula: "f_a^f_m, f_a = (99/p_s)(T/298)^0.7 aspirated or \
              mechanically charged, (99/p_s)^0.7 (T/298)^1.5 turbocharged; f_m = 0.036 q_c - 1.14 for 40 <= q_c <= 65, \
              0.3 below, 1.2 above",
    compensation: Compensation::FactorOneByLaterText(RULE),
    compensates_spark_only: false,
    sources: &[
        Source {
            what: "compression ignition only, net power",
            cite: Cite::new(TEXT, "scope", Reading::Remembered),
        },
        DIESEL_SOURCE,
        Source { what: "engine factor f_m", cite: ENGINE_FACTOR },
        Source { what: "test ranges and range of the factor", cite: LIMITS },
        Source { what: "rule for ambient-compensated engines", cite: RULE },
    ],
    gaps: &["the text of the power factor was not read: it is believed to be that of UN R85"],
    aliases: &[],
    examples: &[Example {
        what: "compression ignition",
        engine: Engine::new(Ignition::Compression, Charging::Turbocharged).fuelled(140.0, 2.0),
        total_kpa: 101.0,
        vapour_kpa: 3.810351524324268,
        temperature_c: 30.0,
        printed: "1.04650235480132",
        cite: Cite::new("hand-worked", "101.0 kPa, 30.0 °C, q_c from 140.0 and 2.0", Reading::Derived),
    }],
};
