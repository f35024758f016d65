//! What a unit measures.

/// Kind of quantity that a unit measures. Values of different dimensions never convert into each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Dimension {
    /// Power, SI unit W.
    Power,
    /// Torque, N·m.
    Torque,
    /// Pressure, Pa; see [`crate::Reference`] for gauge and absolute.
    Pressure,
    /// Thermodynamic temperature, K.
    Temperature,
    /// Difference of two temperatures, K.
    TemperatureDifference,
    /// Speed, m/s.
    Speed,
    /// Rotational speed, rad/s.
    RotationalSpeed,
    /// Rotational acceleration, rad/s².
    RotationalAcceleration,
    /// Acceleration, m/s².
    Acceleration,
    /// Length, m.
    Length,
    /// Area, m².
    Area,
    /// Volume, m³.
    Volume,
    /// Mass, kg.
    Mass,
    /// Force, N.
    Force,
    /// Time, s.
    Time,
    /// Plane angle, rad.
    Angle,
    /// Mass flow, kg/s.
    MassFlow,
    /// Volume flow, m³/s.
    VolumeFlow,
    /// Moment of inertia, kg·m².
    Inertia,
    /// Specific fuel consumption, kg/J.
    SpecificFuel,
    /// Fuel mass per cycle and displaced volume, kg/m³.
    FuelPerCycle,
    /// Density, kg/m³.
    Density,
    /// Heat per mass, J/kg.
    HeatingValue,
    /// Dimensionless ratio, 1.
    Ratio,
    /// Electric tension, V.
    Voltage,
}

impl Dimension {
    /// Every dimension, in the order of the table.
    pub const ALL: [Self; 25] = [
        Self::Power,
        Self::Torque,
        Self::Pressure,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Speed,
        Self::RotationalSpeed,
        Self::RotationalAcceleration,
        Self::Acceleration,
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Force,
        Self::Time,
        Self::Angle,
        Self::MassFlow,
        Self::VolumeFlow,
        Self::Inertia,
        Self::SpecificFuel,
        Self::FuelPerCycle,
        Self::Density,
        Self::HeatingValue,
        Self::Ratio,
        Self::Voltage,
    ];

    /// Name as it stands in messages, and the coherent SI unit.
    const fn row(self) -> (&'static str, &'static str) {
        match self {
            Self::Power => ("power", "W"),
            Self::Torque => ("torque", "N·m"),
            Self::Pressure => ("pressure", "Pa"),
            Self::Temperature => ("temperature", "K"),
            Self::TemperatureDifference => ("temperature difference", "K"),
            Self::Speed => ("speed", "m/s"),
            Self::RotationalSpeed => ("rotational speed", "rad/s"),
            Self::RotationalAcceleration => ("rotational acceleration", "rad/s²"),
            Self::Acceleration => ("acceleration", "m/s²"),
            Self::Length => ("length", "m"),
            Self::Area => ("area", "m²"),
            Self::Volume => ("volume", "m³"),
            Self::Mass => ("mass", "kg"),
            Self::Force => ("force", "N"),
            Self::Time => ("time", "s"),
            Self::Angle => ("angle", "rad"),
            Self::MassFlow => ("mass flow", "kg/s"),
            Self::VolumeFlow => ("volume flow", "m³/s"),
            Self::Inertia => ("moment of inertia", "kg·m²"),
            Self::SpecificFuel => ("specific fuel consumption", "kg/J"),
            Self::FuelPerCycle => ("fuel per cycle and displaced volume", "kg/m³"),
            Self::Density => ("density", "kg/m³"),
            Self::HeatingValue => ("heating value", "J/kg"),
            Self::Ratio => ("ratio", "1"),
            Self::Voltage => ("voltage", "V"),
        }
    }

    /// Name as it stands in messages, e.g. "rotational speed".
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.row().0
    }

    /// Symbol of the coherent SI unit that every `si` value of this dimension is in.
    #[must_use]
    pub const fn si_symbol(self) -> &'static str {
        self.row().1
    }
}

impl core::fmt::Display for Dimension {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.name())
    }
}
