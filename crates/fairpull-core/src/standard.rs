//! Plug-in family 1: correction standards.

use crate::{Air, Charging, Cite, Engine, Factor, Ignition, Limit, Reading, Refusal, Source};

/// A power-correction standard.
///
/// # Contract
/// Pure: the same input gives the same bits. Never panics for any `f64`; a non-finite input is refused by name.
/// Air or factor outside the text's range is *given* with [`Notice::OutsideRange`](crate::Notice::OutsideRange), never clamped, never silent.
/// An engine outside the scope is refused. The factor multiplies the **engine's** power and torque, measured to
/// reference.
///
/// # For implementers
/// Two methods. Put everything a reader wants to know in the card; the conformance kit derives its tests from it.
/// The building blocks of [`crate::family`] cover every power-law text.
///
/// ```
/// use fairpull_core::*;
/// struct Toy;
/// const TEXT: Cite = Cite::new("Toy Standard 1", "clause 5", Reading::Derived);
/// static CARD: StandardCard = StandardCard {
///     id: "toy-1", designation: "Toy Standard 1", title: "Toy", edition: "1",
///     status: Status::Current, rating: Rating::Net,
///     applies: Applicability { spark: true, compression: false, charged: true },
///     reference: ReferenceAir { basis: PressureBasis::Dry, pressure_kpa: 99.0, vapour_kpa: 1.0,
///         temperature_c: 25.0, kelvin_offset: 273.0 },
///     spark: TestWindow::OPEN, compression: TestWindow::OPEN,
///     formula: "(99/p_d) * sqrt(T/298)", compensation: Compensation::None, compensates_spark_only: false,
///     sources: &[Source { what: "formula", cite: TEXT }], gaps: &[], aliases: &[], examples: &[],
/// };
/// impl CorrectionStandard for Toy {
///     fn card(&self) -> &'static StandardCard { &CARD }
///     fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal> {
///         CARD.admit(engine)?;
///         let value = family::power_law(&CARD.reference, air, 1.0, 0.5);
///         Ok(CARD.judge(value, air, engine))
///     }
/// }
/// ```
pub trait CorrectionStandard: Send + Sync {
    /// What the standard says about itself.
    fn card(&self) -> &'static StandardCard;

    /// The factor for this air and engine.
    ///
    /// # Errors
    /// A [`Refusal`] when the engine is outside the scope or an input is missing.
    fn factor(&self, air: &Air, engine: &Engine) -> Result<Factor, Refusal>;
}

const _: Option<&dyn CorrectionStandard> = None;

/// Whether a rating is taken with the accessories of the vehicle or with the bare engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rating {
    /// As installed: intake, exhaust and accessories of the vehicle.
    Net,
    /// Bare engine.
    Gross,
    /// The text covers both; the figure must say which.
    Either,
}

impl core::fmt::Display for Rating {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::Net => "net",
            Self::Gross => "gross",
            Self::Either => "net or gross",
        })
    }
}

/// Standing of a text today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// In force.
    Current,
    /// Withdrawn, with what replaced it (designation), if anything is known to have.
    Withdrawn(&'static str),
    /// Kept only to read old figures.
    Historic,
    /// Not established: no source was found for it.
    Unknown,
}

/// Which engines the text covers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Applicability {
    /// Spark ignition.
    pub spark: bool,
    /// Compression ignition.
    pub compression: bool,
    /// Supercharged and turbocharged engines, where the ignition is covered.
    pub charged: bool,
}

/// Which pressure the formula reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PressureBasis {
    /// Total less vapour.
    Dry,
    /// Total as the barometer shows it.
    Total,
}

/// Reference air as the text prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReferenceAir {
    /// Which pressure `pressure_kpa` is.
    pub basis: PressureBasis,
    /// Reference pressure, kPa, on that basis.
    pub pressure_kpa: f64,
    /// Vapour pressure that belongs to the reference, kPa; used to state a full reference air.
    pub vapour_kpa: f64,
    /// Reference temperature, °C.
    pub temperature_c: f64,
    /// What the text adds to °C to get its kelvin: 273 beside 298, 273.2 beside 298.2.
    pub kelvin_offset: f64,
}

impl ReferenceAir {
    /// Reference temperature in the text's own kelvin.
    #[must_use]
    pub const fn kelvin(&self) -> f64 {
        self.temperature_c + self.kelvin_offset
    }

    /// Total pressure of the reference air, kPa.
    #[must_use]
    pub const fn total_kpa(&self) -> f64 {
        match self.basis {
            PressureBasis::Dry => self.pressure_kpa + self.vapour_kpa,
            PressureBasis::Total => self.pressure_kpa,
        }
    }
}

/// Ranges in which the text calls the test and its factor valid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TestWindow {
    /// Intake temperature in the text's own kelvin.
    pub temperature: Option<Limit>,
    /// Pressure on the basis of the reference, kPa.
    pub pressure: Option<Limit>,
    /// The factor.
    pub factor: Option<Limit>,
}

impl TestWindow {
    /// No range is known.
    pub const OPEN: Self = Self { temperature: None, pressure: None, factor: None };

    /// True where intake temperature (the text's own kelvin), pressure (kPa on the basis of the reference) and factor
    /// are inside every range that is known.
    #[must_use]
    #[inline]
    pub const fn holds(&self, kelvin: f64, pressure: f64, factor: f64) -> bool {
        const fn inside(limit: &Option<Limit>, got: f64) -> bool {
            match limit {
                Some(limit) => limit.holds(got),
                None => true,
            }
        }
        inside(&self.temperature, kelvin) && inside(&self.pressure, pressure) && inside(&self.factor, factor)
    }

    /// Ranges as pairs of low and high: intake temperature in the text's own kelvin, pressure in kPa on the given
    /// basis, factor; `None` where no range is known.
    #[must_use]
    pub const fn new(
        basis: PressureBasis,
        temperature_k: Option<[f64; 2]>,
        pressure_kpa: Option<[f64; 2]>,
        factor: Option<[f64; 2]>,
        cite: Cite,
    ) -> Self {
        const fn limit(
            what: &'static str,
            unit: &'static str,
            range: Option<[f64; 2]>,
            cite: Cite,
        ) -> Option<Limit> {
            match range {
                Some([low, high]) => Some(Limit { what, unit, low, high, cite }),
                None => None,
            }
        }
        let pressure = match basis {
            PressureBasis::Dry => "dry pressure",
            PressureBasis::Total => "total pressure",
        };
        Self {
            temperature: limit("intake air temperature", "K", temperature_k, cite),
            pressure: limit(pressure, "kPa", pressure_kpa, cite),
            factor: limit("correction factor", "1", factor, cite),
        }
    }
}

/// What the text says of an engine whose control holds its charge against the ambient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Compensation {
    /// The text does not know the case: its formula is applied as it stands, and the result says so.
    None,
    /// The factor is set to 1 on request.
    FactorOne(Cite),
    /// The text does not print the rule but a later text of the same family does; factor 1 is given on that strength.
    FactorOneByLaterText(Cite),
}

/// Another designation that repeats this text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alias {
    /// Id it is found under.
    pub id: &'static str,
    /// Designation and year.
    pub designation: &'static str,
    /// In what way it repeats the text.
    pub cite: Cite,
}

/// A published or hand-worked case that the plug-in must reproduce.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Example {
    /// What the case is.
    pub what: &'static str,
    /// Engine of the case.
    pub engine: Engine,
    /// Total pressure, kPa.
    pub total_kpa: f64,
    /// Vapour pressure, kPa.
    pub vapour_kpa: f64,
    /// Intake temperature, °C.
    pub temperature_c: f64,
    /// Factor as printed: the tolerance is half a unit of its last digit.
    pub printed: &'static str,
    /// Where it stands.
    pub cite: Cite,
}

/// What a standard says about itself.
#[derive(Clone, Copy, Debug)]
pub struct StandardCard {
    /// Lower-case id, e.g. `iso-1585`.
    pub id: &'static str,
    /// Designation, e.g. "ISO 1585".
    pub designation: &'static str,
    /// Title or short description.
    pub title: &'static str,
    /// Edition or year(s) covered.
    pub edition: &'static str,
    /// Standing today.
    pub status: Status,
    /// Net or gross.
    pub rating: Rating,
    /// Engines covered.
    pub applies: Applicability,
    /// Reference air.
    pub reference: ReferenceAir,
    /// Valid ranges for spark ignition.
    pub spark: TestWindow,
    /// Valid ranges for compression ignition.
    pub compression: TestWindow,
    /// The formula in the text's own symbols.
    pub formula: &'static str,
    /// Rule for ambient-compensated engines.
    pub compensation: Compensation,
    /// True when only the spark-ignition formula is open to that rule.
    pub compensates_spark_only: bool,
    /// What was taken from where.
    pub sources: &'static [Source],
    /// What could not be established.
    pub gaps: &'static [&'static str],
    /// Other designations that repeat the text.
    pub aliases: &'static [Alias],
    /// Cases to reproduce.
    pub examples: &'static [Example],
}

impl StandardCard {
    /// The weakest grade of reading among the sources.
    #[must_use]
    pub fn grade(&self) -> Reading {
        self.sources.iter().map(|s| s.cite.reading).max().unwrap_or(Reading::Doubtful)
    }

    /// The scope citation used in refusals.
    #[must_use]
    pub fn scope(&self) -> Cite {
        let reading = self.sources.first().map_or(Reading::Doubtful, |s| s.cite.reading);
        Cite::new(self.designation, "scope", reading)
    }

    /// Ranges for the given ignition.
    #[must_use]
    #[inline]
    pub const fn window(&self, ignition: Ignition) -> &TestWindow {
        match ignition {
            Ignition::Spark => &self.spark,
            Ignition::Compression => &self.compression,
        }
    }

    /// Refuses an engine outside the scope.
    ///
    /// # Errors
    /// [`Refusal::NotApplicable`] with the reason.
    pub fn admit(&self, engine: &Engine) -> Result<(), Refusal> {
        if self.covers(engine.ignition) && (engine.charging == Charging::None || self.applies.charged) {
            return Ok(());
        }
        Err(self.turned_away(engine.ignition))
    }

    const fn covers(&self, ignition: Ignition) -> bool {
        match ignition {
            Ignition::Spark => self.applies.spark,
            Ignition::Compression => self.applies.compression,
        }
    }

    #[cold]
    #[inline(never)]
    fn turned_away(&self, ignition: Ignition) -> Refusal {
        let why = match (self.covers(ignition), ignition) {
            (true, _) => "the text does not cover pressure-charged engines",
            (false, Ignition::Spark) => "the text does not cover spark ignition",
            (false, Ignition::Compression) => "the text does not cover compression ignition",
        };
        Refusal::NotApplicable { why, cite: self.scope() }
    }
}
