//! Toy Standard 1 (invented): net power, spark ignition, (98/p)^1.1 · (T/293)^0.55 with p dry in kPa.
use fairpull_core::*;

const TEXT: Cite = Cite::new("Toy Standard 1:2001", "5", Reading::Derived);
const DRY: PressureBasis = PressureBasis::Dry;

static CARD: StandardCard = StandardCard {
    id: "toy-1",
    designation: "Toy Standard 1",
    title: "An invented net-power test",
    edition: "2001",
    status: Status::Current,
    rating: Rating::Net,
    applies: Applicability { spark: true, compression: false, charged: true },
    #[rustfmt::skip]
    reference: ReferenceAir { basis: DRY, pressure_kpa: 98.0, vapour_kpa: 1.0, temperature_c: 20.0, kelvin_offset: 273.0 },
    spark: TestWindow::new(DRY, Some([278.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), TEXT),
    compression: TestWindow::OPEN,
    formula: "(98/p)^1.1 (T/293)^0.55",
    compensation: Compensation::None,
    compensates_spark_only: false,
    sources: &[Source { what: "all of it: it is invented", cite: TEXT }],
    gaps: &[],
    aliases: &[],
    examples: &[],
};

pub struct Toy1;

impl CorrectionStandard for Toy1 {
    fn card(&self) -> &'static StandardCard {
        &CARD
    }

    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
        CARD.admit(engine)?; // refuses compression ignition by name
        Ok(CARD.judge(family::power_law(&CARD.reference, air, 1.1, 0.55), air, engine)) // Toy Standard 1:2001, 5
    }
}
