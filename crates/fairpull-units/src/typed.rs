//! Readers into quantities that cannot be mixed.

use crate::Dimension;
use crate::error::{ParseError, Problem};
use crate::parse::{Reading, parse_as};
use crate::unit::Reference;
use fairpull_core::uom::si::f64 as si;
use fairpull_core::uom::si::{
    acceleration::meter_per_second_squared, angle::radian, force::newton, length::meter, mass::kilogram,
    mass_density::kilogram_per_cubic_meter, mass_rate::kilogram_per_second,
    moment_of_inertia::kilogram_square_meter, ratio::ratio as one, temperature_interval::kelvin,
    time::second, volume::cubic_meter, volume_rate::cubic_meter_per_second,
};
use fairpull_core::{
    AbsolutePressure, AxleTorque, CrankTorque, EngineSpeed, GaugePressure, PowerAtCrank, PowerAtHubs,
    PowerAtWheels, RoadSpeed, Temperature, VapourPressure,
};

/// One reader a line: function, kind in words, result, dimension, constructor from SI.
macro_rules! readers {
    ($( $name:ident, $what:literal, $out:ty, $dimension:ident, $make:expr; )+) => {$(
        #[doc = concat!("Reads ", $what, ", e.g. as [`parse_as`] does for [`Dimension::", stringify!($dimension), "`].")]
        ///
        /// # Errors
        /// [`ParseError`] naming text, place and what was expected.
        pub fn $name(text: &str) -> Result<$out, ParseError> {
            parse_as(text, Dimension::$dimension).map(|r| $make(r.si))
        }
    )+};
}

readers! {
    power_at_wheels, "a power at the wheels", PowerAtWheels, Power, PowerAtWheels::from_watts;
    power_at_hubs, "a power at the wheel hubs", PowerAtHubs, Power, PowerAtHubs::from_watts;
    power_at_crank, "a power at the crankshaft", PowerAtCrank, Power, PowerAtCrank::from_watts;
    crank_torque, "a torque at the crankshaft", CrankTorque, Torque, CrankTorque::from_newton_metres;
    axle_torque, "a torque at the driven axle", AxleTorque, Torque, AxleTorque::from_newton_metres;
    temperature, "a temperature", Temperature, Temperature, Temperature::from_kelvin;
    engine_speed, "an engine speed", EngineSpeed, RotationalSpeed, EngineSpeed::from_radians_per_second;
    road_speed, "a road or roller speed", RoadSpeed, Speed, RoadSpeed::from_metres_per_second;
    temperature_difference, "a temperature difference", si::TemperatureInterval, TemperatureDifference,
        si::TemperatureInterval::new::<kelvin>;
    length, "a length or an elevation", si::Length, Length, si::Length::new::<meter>;
    mass, "a mass", si::Mass, Mass, si::Mass::new::<kilogram>;
    force, "a force", si::Force, Force, si::Force::new::<newton>;
    time, "a time", si::Time, Time, si::Time::new::<second>;
    angle, "a plane angle", si::Angle, Angle, si::Angle::new::<radian>;
    acceleration, "an acceleration", si::Acceleration, Acceleration,
        si::Acceleration::new::<meter_per_second_squared>;
    inertia, "a moment of inertia", si::MomentOfInertia, Inertia,
        si::MomentOfInertia::new::<kilogram_square_meter>;
    volume, "a volume or a displacement", si::Volume, Volume, si::Volume::new::<cubic_meter>;
    mass_flow, "a mass flow", si::MassRate, MassFlow, si::MassRate::new::<kilogram_per_second>;
    volume_flow, "a volume flow", si::VolumeRate, VolumeFlow, si::VolumeRate::new::<cubic_meter_per_second>;
    density, "a density", si::MassDensity, Density, si::MassDensity::new::<kilogram_per_cubic_meter>;
    ratio, "a ratio", si::Ratio, Ratio, si::Ratio::new::<one>;
}

/// Reads the pressure of the ambient air as a barometer shows it at the place itself. A unit that does not say gauge
/// or absolute is read as absolute, as barometers are; negative is refused, gauge too.
///
/// # Errors
/// [`ParseError`].
pub fn station_pressure(text: &str) -> Result<AbsolutePressure, ParseError> {
    let r = above_vacuum(text)?;
    match r.unit.reference() {
        Reference::Gauge => Err(fault(text, Problem::GaugePressure(r.unit))),
        Reference::Absolute | Reference::Unstated => Ok(AbsolutePressure::from_pascals(r.si)),
    }
}

/// Reads a partial pressure of water vapour; gauge is refused.
///
/// # Errors
/// [`ParseError`].
pub fn vapour_pressure(text: &str) -> Result<VapourPressure, ParseError> {
    station_pressure(text).map(|p| VapourPressure::from_pascals(p.pascals()))
}

/// Reads an absolute pressure where gauge readings occur too (manifold, charge, exhaust): the unit must say which it
/// is, and a gauge reading needs the barometer of the moment.
///
/// # Errors
/// [`ParseError`].
///
/// ```
/// use fairpull_core::AbsolutePressure;
/// let barometer = AbsolutePressure::from_kilopascals(98.0);
/// let map = fairpull_units::absolute_pressure("1.2bar(g)", Some(barometer)).unwrap();
/// assert_eq!(map.kilopascals(), 218.0);
/// assert!(fairpull_units::absolute_pressure("1.2bar(g)", None).is_err());
/// assert!(fairpull_units::absolute_pressure("1.2bar", Some(barometer)).is_err());
/// ```
pub fn absolute_pressure(
    text: &str,
    barometer: Option<AbsolutePressure>,
) -> Result<AbsolutePressure, ParseError> {
    let r = parse_as(text, Dimension::Pressure)?;
    match (r.unit.reference(), barometer) {
        (Reference::Unstated, _) => Err(fault(text, Problem::ReferenceUnstated(r.unit))),
        (Reference::Absolute, _) => above_vacuum(text).map(|r| AbsolutePressure::from_pascals(r.si)),
        (Reference::Gauge, None) => Err(fault(text, Problem::GaugePressure(r.unit))),
        (Reference::Gauge, Some(b)) => {
            let p = GaugePressure::from_pascals(r.si).to_absolute(b);
            if p.pascals() >= 0.0 { Ok(p) } else { Err(fault(text, Problem::Impossible(BELOW_VACUUM))) }
        }
    }
}

/// Reads a gauge pressure; the unit must say so.
///
/// # Errors
/// [`ParseError`].
pub fn gauge_pressure(text: &str) -> Result<GaugePressure, ParseError> {
    let r = parse_as(text, Dimension::Pressure)?;
    match r.unit.reference() {
        Reference::Gauge => Ok(GaugePressure::from_pascals(r.si)),
        Reference::Unstated => Err(fault(text, Problem::ReferenceUnstated(r.unit))),
        Reference::Absolute => Err(fault(text, Problem::AbsolutePressure(r.unit))),
    }
}

const BELOW_VACUUM: &str =
    "an absolute pressure below vacuum; give it as gauge, e.g. in kPa(g), if it is one";

fn above_vacuum(text: &str) -> Result<Reading, ParseError> {
    let r = parse_as(text, Dimension::Pressure)?;
    if r.si < 0.0 && r.unit.reference() != Reference::Gauge {
        return Err(fault(text, Problem::Impossible(BELOW_VACUUM)));
    }
    Ok(r)
}

fn fault(text: &str, problem: Problem) -> ParseError {
    ParseError::new(text, 0..text.len(), Some(Dimension::Pressure), problem)
}
