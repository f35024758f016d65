//! What a correction standard wants to know of the engine.

/// How the charge is ignited.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ignition {
    /// Spark (positive) ignition.
    Spark,
    /// Compression ignition.
    Compression,
}

/// How the engine is charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Charging {
    /// Naturally aspirated.
    None,
    /// Mechanically driven compressor.
    Supercharged,
    /// Exhaust turbocharger.
    Turbocharged,
}

/// How the compressed charge is cooled before it enters the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ChargeCooling {
    /// No charge cooler.
    None,
    /// Charge air to ambient air.
    Air,
    /// Charge air to liquid.
    Liquid,
}

/// Kind of engine and the figures that factors depend on.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Engine {
    /// Ignition.
    pub ignition: Ignition,
    /// Charging.
    pub charging: Charging,
    /// Charge cooling.
    pub charge_cooling: ChargeCooling,
    /// Fuel per working cycle and litre of total swept volume, mg/(l·cycle): compression ignition only.
    pub fuel_per_cycle: Option<f64>,
    /// Absolute pressure ratio of the charger, outlet over inlet, overall; 1 when naturally aspirated.
    pub charge_pressure_ratio: Option<f64>,
    /// Mechanical efficiency, brake over indicated power, 0 to 1: where a text corrects indicated power.
    pub mechanical_efficiency: Option<f64>,
    /// True when the engine's control holds charge pressure or air mass against ambient pressure and temperature.
    pub ambient_compensated: bool,
}

impl Engine {
    /// An engine of the given kind with nothing else known.
    #[must_use]
    pub const fn new(ignition: Ignition, charging: Charging) -> Self {
        Self {
            ignition,
            charging,
            charge_cooling: ChargeCooling::None,
            fuel_per_cycle: None,
            charge_pressure_ratio: None,
            mechanical_efficiency: None,
            ambient_compensated: false,
        }
    }

    /// With charge cooling.
    #[must_use]
    pub const fn cooled(mut self, cooling: ChargeCooling) -> Self {
        self.charge_cooling = cooling;
        self
    }

    /// With fuel per cycle and litre of swept volume, mg/(l·cycle), and the charger's absolute pressure ratio.
    #[must_use]
    pub const fn fuelled(mut self, fuel_per_cycle: f64, charge_pressure_ratio: f64) -> Self {
        self.fuel_per_cycle = Some(fuel_per_cycle);
        self.charge_pressure_ratio = Some(charge_pressure_ratio);
        self
    }

    /// With mechanical efficiency, 0 to 1.
    #[must_use]
    pub const fn with_mechanical_efficiency(mut self, efficiency: f64) -> Self {
        self.mechanical_efficiency = Some(efficiency);
        self
    }

    /// With or without a control that compensates for the ambient.
    #[must_use]
    pub const fn compensated(mut self, yes: bool) -> Self {
        self.ambient_compensated = yes;
        self
    }
}
