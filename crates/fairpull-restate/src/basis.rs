//! Where a figure stands: site and treatment.

/// Where on the driveline the figure is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Site {
    /// Crankshaft or flywheel.
    Crank,
    /// Contact of tyre and roller.
    Wheel,
    /// Wheel hub, the tyre not in the path.
    Hub,
}

impl Site {
    /// All sites.
    pub const ALL: [Self; 3] = [Self::Crank, Self::Wheel, Self::Hub];

    /// The word of the notation.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Crank => "crank",
            Self::Wheel => "wheel",
            Self::Hub => "hub",
        }
    }
}

impl std::fmt::Display for Site {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.word())
    }
}

/// What was done to the figure for the air.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Treatment {
    /// As observed.
    Observed,
    /// Multiplied by the factor of the standard with this id or alias.
    Corrected(String),
}

impl std::fmt::Display for Treatment {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Observed => f.write_str("observed"),
            Self::Corrected(id) => f.write_str(id),
        }
    }
}

/// The basis asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// Site.
    pub site: Site,
    /// Treatment.
    pub treatment: Treatment,
}

impl Target {
    /// Corrected to a standard, at the crankshaft.
    #[must_use]
    pub fn standard(id: &str) -> Self {
        Self { site: Site::Crank, treatment: Treatment::Corrected(id.to_owned()) }
    }

    /// As observed at the crankshaft.
    #[must_use]
    pub const fn observed_at_crank() -> Self {
        Self { site: Site::Crank, treatment: Treatment::Observed }
    }

    /// The same treatment at another site.
    #[must_use]
    pub fn at(mut self, site: Site) -> Self {
        self.site = site;
        self
    }
}

impl std::fmt::Display for Target {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}; {}", self.site, self.treatment)
    }
}
