//! What a column can hold: name, dimension, and what is physically possible for it.

use fairpull_units::Dimension;
use serde::{Deserialize, Serialize};

use crate::PressureReference;

/// What is known of a role before any log is read. Values in the coherent SI unit, pressures absolute.
///
/// The ranges say what is *possible* on a vehicle on a rig or a road, not what is usual; they catch wrong units and
/// disconnected sensors. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Traits {
    pub id: &'static str,
    pub words: &'static str,
    pub dimension: Dimension,
    /// Possible range.
    pub low: f64,
    pub high: f64,
    /// The largest value of a real log (99 % point) is at least this; 0 where nothing can be said.
    pub reaches: f64,
    /// Share of rows that may be impossible before the unit is called wrong.
    pub tolerates: f64,
    /// Smallest single-sample departure that may be called a spike; none where the quantity itself can jump.
    pub spike: Option<f64>,
    /// A quantity that cannot stand perfectly still while a speed changes.
    pub restless: bool,
}

macro_rules! roles {
    ($( $(#[$doc:meta])* $name:ident($id:literal, $words:literal, $dim:ident, $low:literal ..= $high:literal,
        $reaches:literal, $tolerates:literal, $spike:expr, $restless:literal); )+) => {
        /// What a column of a log holds.
        ///
        /// In a job file a role is written by its [id](Role::id), e.g. `engine_speed`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
        #[serde(rename_all = "snake_case")]
        #[non_exhaustive]
        pub enum Role {
            $( $(#[$doc])* $name, )+
        }

        impl Role {
            /// Every role, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            pub(crate) const fn traits(self) -> &'static Traits {
                match self {
                    $(Self::$name => &Traits {
                        id: $id,
                        words: $words,
                        dimension: Dimension::$dim,
                        low: $low,
                        high: $high,
                        reaches: $reaches,
                        tolerates: $tolerates,
                        spike: $spike,
                        restless: $restless,
                    },)+
                }
            }
        }
    };
}

// name(id, words, dimension, possible range, reaches, tolerates, spike, restless)
roles! {
    /// Time of the sample, s.
    Time("time", "time", Time, -1e12 ..= 1e12, 0.0, 0.0, None, false);
    /// Speed of the roller's surface, m/s.
    RollerSpeed("roller_speed", "roller surface speed", Speed, -5.0 ..= 140.0, 1.0, 0.2, Some(1.5), true);
    /// Rotational speed of the roller, rad/s.
    RollerRotation("roller_rotation", "roller rotation", RotationalSpeed, -30.0 ..= 1500.0, 2.0, 0.2, Some(5.0), true);
    /// Speed of the vehicle over the road, m/s.
    RoadSpeed("road_speed", "road speed", Speed, -5.0 ..= 140.0, 1.0, 0.2, Some(1.5), true);
    /// Rotational speed of the crankshaft, rad/s.
    EngineSpeed("engine_speed", "engine speed", RotationalSpeed, -10.0 ..= 2600.0, 20.0, 0.2, Some(20.0), true);
    /// Force of the brake at the roller's surface, N; positive when it slows the roller.
    BrakeForce("brake_force", "brake force at the roller surface", Force, -2e4 ..= 6e4, 0.0, 0.2, Some(150.0), false);
    /// Torque at the hubs, N·m, sum over all driven hubs.
    HubTorque("hub_torque", "hub torque", Torque, -1e4 ..= 3e4, 0.0, 0.2, Some(100.0), false);
    /// Rotational speed of the driven hubs, rad/s.
    HubRotation("hub_rotation", "hub rotation", RotationalSpeed, -20.0 ..= 450.0, 1.0, 0.2, Some(5.0), true);
    /// Temperature of the air entering the intake system, K.
    IntakeTemperature("intake_temperature", "intake air temperature", Temperature, 213.15 ..= 423.15, 0.0, 0.2, Some(8.0), false);
    /// Temperature of the charge entering the cylinders, K.
    ChargeTemperature("charge_temperature", "charge temperature", Temperature, 213.15 ..= 523.15, 0.0, 0.2, Some(8.0), false);
    /// Temperature of the coolant, K.
    CoolantTemperature("coolant_temperature", "coolant temperature", Temperature, 213.15 ..= 423.15, 0.0, 0.2, Some(5.0), false);
    /// Temperature of the engine oil, K.
    OilTemperature("oil_temperature", "oil temperature", Temperature, 213.15 ..= 473.15, 0.0, 0.2, Some(5.0), false);
    /// Temperature of the gearbox oil, K.
    GearboxTemperature("gearbox_temperature", "gearbox oil temperature", Temperature, 213.15 ..= 473.15, 0.0, 0.2, Some(5.0), false);
    /// Temperature of the exhaust gas, K.
    ExhaustTemperature("exhaust_temperature", "exhaust gas temperature", Temperature, 213.15 ..= 1573.15, 0.0, 0.2, Some(60.0), false);
    /// Pressure in the intake manifold, Pa.
    ManifoldPressure("manifold_pressure", "manifold pressure", Pressure, 1e3 ..= 8e5, 3e4, 0.2, Some(1.5e4), false);
    /// Pressure before the turbine, Pa.
    PreTurbinePressure("pre_turbine_pressure", "pressure before the turbine", Pressure, 4e4 ..= 1.5e6, 5e4, 0.2, Some(4e4), false);
    /// Pressure after the turbine, before the silencers, Pa.
    ExhaustBackPressure("exhaust_back_pressure", "exhaust back pressure", Pressure, 4e4 ..= 4e5, 5e4, 0.2, Some(1.5e4), false);
    /// Pressure at the compressor inlet, Pa.
    CompressorInletPressure("compressor_inlet_pressure", "compressor inlet pressure", Pressure, 3e4 ..= 2e5, 4e4, 0.2, Some(1.5e4), false);
    /// Pressure at the compressor outlet, Pa.
    CompressorOutletPressure("compressor_outlet_pressure", "compressor outlet pressure", Pressure, 3e4 ..= 8e5, 5e4, 0.2, Some(1.5e4), false);
    /// Temperature at the compressor outlet, K.
    CompressorOutletTemperature("compressor_outlet_temperature", "compressor outlet temperature", Temperature, 213.15 ..= 623.15, 0.0, 0.2, Some(15.0), false);
    /// Pressure of the fuel, Pa.
    FuelPressure("fuel_pressure", "fuel pressure", Pressure, 0.0 ..= 4e8, 1e4, 0.2, None, false);
    /// Pressure of the oil, Pa.
    OilPressure("oil_pressure", "oil pressure", Pressure, 0.0 ..= 2e6, 1e4, 0.2, None, false);
    /// Mass flow of fuel, kg/s.
    FuelFlow("fuel_flow", "fuel mass flow", MassFlow, -1e-4 ..= 0.25, 0.0, 0.2, None, false);
    /// Volume flow of fuel, m³/s.
    FuelVolumeFlow("fuel_volume_flow", "fuel volume flow", VolumeFlow, -1e-7 ..= 3.5e-4, 0.0, 0.2, None, false);
    /// Mass flow of air, kg/s.
    AirFlow("air_flow", "air mass flow", MassFlow, -0.05 ..= 3.0, 0.0, 0.2, None, false);
    /// Air-fuel equivalence ratio λ, 1. Sensors write their end value during fuel cut.
    Lambda("lambda", "lambda", Ratio, 0.3 ..= 8.0, 0.4, 0.8, None, false);
    /// Spark advance before top dead centre, rad.
    SparkAdvance("spark_advance", "spark advance", Angle, -1.4 ..= 1.4, 0.0, 0.2, None, false);
    /// Spark taken back by the knock control, rad.
    KnockRetard("knock_retard", "knock retard", Angle, -0.7 ..= 0.7, 0.0, 0.2, None, false);
    /// Share of the cycle in which the injectors are open, 1.
    InjectorDuty("injector_duty", "injector duty", Ratio, -0.02 ..= 2.0, 0.0, 0.2, None, false);
    /// Throttle opening, 1.
    Throttle("throttle", "throttle opening", Ratio, -0.1 ..= 1.3, 0.0, 0.2, None, false);
    /// Accelerator pedal position, 1.
    Pedal("pedal", "pedal position", Ratio, -0.1 ..= 1.3, 0.0, 0.2, None, false);
    /// Gear engaged, a whole number.
    Gear("gear", "gear", Ratio, -3.0 ..= 24.0, 0.0, 0.2, None, false);
    /// Pressure of the ambient air at the rig, Pa, never reduced to sea level. Absolute by nature.
    AmbientPressure("ambient_pressure", "ambient pressure", Pressure, 4e4 ..= 1.2e5, 4e4, 0.2, Some(2e3), false);
    /// Temperature of the ambient air, K.
    AmbientTemperature("ambient_temperature", "ambient temperature", Temperature, 213.15 ..= 353.15, 0.0, 0.2, Some(5.0), false);
    /// Relative humidity of the ambient air, 1.
    RelativeHumidity("relative_humidity", "relative humidity", Ratio, 0.0 ..= 1.05, 0.011, 0.2, None, false);
    /// Temperature of the dew point of the ambient air, K.
    DewPoint("dew_point", "dew point", Temperature, 193.15 ..= 323.15, 0.0, 0.2, Some(5.0), false);
    /// Acceleration along the vehicle, m/s².
    Acceleration("acceleration", "longitudinal acceleration", Acceleration, -60.0 ..= 60.0, 0.0, 0.2, None, false);
    /// Distance covered, m.
    Distance("distance", "distance", Length, -1e3 ..= 2e9, 0.0, 0.2, None, false);
    /// Height above sea level, m.
    Height("height", "height", Length, -500.0 ..= 9000.0, 0.0, 0.2, None, false);
    /// Geographic latitude, rad, north positive.
    Latitude("latitude", "latitude", Angle, -1.58 ..= 1.58, 0.0, 0.2, None, false);
    /// Geographic longitude, rad, east positive.
    Longitude("longitude", "longitude", Angle, -3.15 ..= 6.29, 0.0, 0.2, None, false);
    /// Voltage of the supply, V.
    SupplyVoltage("supply_voltage", "supply voltage", Voltage, 0.0 ..= 1000.0, 0.0, 0.2, None, false);
}

impl Role {
    /// Id in job files and results, e.g. `engine_speed`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        self.traits().id
    }

    /// Name in messages and reports, e.g. "engine speed".
    #[must_use]
    pub const fn words(self) -> &'static str {
        self.traits().words
    }

    /// What its unit must measure.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        self.traits().dimension
    }

    /// The physically possible range in the coherent SI unit. For a gauge pressure it is counted from a barometer
    /// of 101 325 Pa.
    #[must_use]
    pub fn range(self, reference: Option<PressureReference>) -> (f64, f64) {
        let t = self.traits();
        match reference {
            Some(PressureReference::Gauge) => (t.low - 101_325.0, t.high),
            _ => (t.low, t.high),
        }
    }

    /// The role with this id.
    #[must_use]
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|r| r.id() == id)
    }

    /// True for a pressure that must be said to be gauge or absolute (all but the ambient pressure).
    #[must_use]
    pub fn needs_reference(self) -> bool {
        self.dimension() == Dimension::Pressure && self != Self::AmbientPressure
    }
}

impl core::fmt::Display for Role {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.words())
    }
}
