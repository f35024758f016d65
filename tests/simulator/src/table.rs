//! A recording before it is written: named columns of samples. A blank cell is NaN.

/// What a column holds, by the key it has in a job file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Time stamp.
    Time,
    /// Roller surface speed.
    RollerSpeed,
    /// Engine speed.
    EngineSpeed,
    /// Brake force at the roller surface.
    BrakeForce,
    /// Torque at the hubs, both together.
    HubTorque,
    /// Rotational speed of the hubs.
    HubRotation,
    /// Intake air.
    IntakeTemperature,
    /// Charge.
    ChargeTemperature,
    /// Manifold.
    ManifoldPressure,
    /// Before the turbine.
    PreTurbinePressure,
    /// Exhaust.
    ExhaustTemperature,
    /// Lambda.
    Lambda,
    /// Spark advance.
    SparkAdvance,
    /// Fuel flow.
    FuelFlow,
}

impl Role {
    /// Key in a job file.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Time => "time",
            Self::RollerSpeed => "roller_speed",
            Self::EngineSpeed => "engine_speed",
            Self::BrakeForce => "brake_force",
            Self::HubTorque => "hub_torque",
            Self::HubRotation => "hub_rotation",
            Self::IntakeTemperature => "intake_temperature",
            Self::ChargeTemperature => "charge_temperature",
            Self::ManifoldPressure => "manifold_pressure",
            Self::PreTurbinePressure => "pre_turbine_pressure",
            Self::ExhaustTemperature => "exhaust_temperature",
            Self::Lambda => "lambda",
            Self::SparkAdvance => "spark_advance",
            Self::FuelFlow => "fuel_flow",
        }
    }

    /// Name in the header, unit, decimals written.
    #[must_use]
    pub const fn written(self) -> (&'static str, &'static str, usize) {
        match self {
            Self::Time => ("Time", "s", 3),
            Self::RollerSpeed => ("Roller", "km/h", 2),
            Self::EngineSpeed => ("Engine", "rpm", 0),
            Self::BrakeForce => ("Brake", "N", 1),
            Self::HubTorque => ("Hub torque", "Nm", 1),
            Self::HubRotation => ("Hub", "rpm", 2),
            Self::IntakeTemperature => ("Intake", "°C", 1),
            Self::ChargeTemperature => ("Charge", "°C", 1),
            Self::ManifoldPressure => ("Manifold", "kPa", 1),
            Self::PreTurbinePressure => ("Pre-turbine", "kPa", 1),
            Self::ExhaustTemperature => ("Exhaust", "°C", 0),
            Self::Lambda => ("Lambda", "", 3),
            Self::SparkAdvance => ("Spark", "deg", 1),
            Self::FuelFlow => ("Fuel", "g/s", 2),
        }
    }
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// What it holds; none for a column nobody asked for.
    pub role: Option<Role>,
    /// Name in the header.
    pub name: String,
    /// Unit in words.
    pub unit: String,
    /// Decimals written.
    pub decimals: usize,
    /// `Some(true)` for gauge, `Some(false)` for absolute pressure.
    pub gauge: Option<bool>,
    /// Samples.
    pub values: Vec<f64>,
}

/// A recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Columns, the time first.
    pub columns: Vec<Column>,
}

impl Table {
    /// Rows.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, |c| c.values.len())
    }

    /// Column of a role.
    #[must_use]
    pub fn column(&self, role: Role) -> Option<&Column> {
        self.columns.iter().find(|c| c.role == Some(role))
    }

    /// Column of a role, to be changed.
    pub fn column_mut(&mut self, role: Role) -> Option<&mut Column> {
        self.columns.iter_mut().find(|c| c.role == Some(role))
    }
}
