//! The numbers that stand in for what nobody gave, each with its reason. All of them are own judgement and wide.

use crate::Span;

/// Intake temperature where no text of the catalogue prints a range, °C.
pub(crate) const TEMPERATURE_C: Span = Span::new(10.0, 40.0);
/// Dry pressure where no text of the catalogue prints a range, kPa.
pub(crate) const PRESSURE_KPA: Span = Span::new(80.0, 110.0);
/// Relative humidity: no text restricts it.
pub(crate) const HUMIDITY: Span = Span::new(0.0, 1.0);
/// Share of hub power lost in the tyre: slip of 1 to 5 % plus rolling loss, which depends on rollers and straps.
pub(crate) const TYRE_SHARE: Span = Span::new(0.01, 0.06);
/// How far weather moves station pressure from the standard atmosphere, as a share.
pub(crate) const WEATHER: f64 = 0.03;

/// Outdoor air by month, January first, °C: temperate climate of the northern half, night to warm afternoon.
const MONTHS: [Span; 12] = [
    Span::new(-15.0, 15.0),
    Span::new(-15.0, 17.0),
    Span::new(-8.0, 22.0),
    Span::new(-2.0, 27.0),
    Span::new(3.0, 32.0),
    Span::new(7.0, 36.0),
    Span::new(9.0, 40.0),
    Span::new(9.0, 40.0),
    Span::new(4.0, 35.0),
    Span::new(-1.0, 28.0),
    Span::new(-7.0, 21.0),
    Span::new(-13.0, 16.0),
];

/// Outdoor temperature of a month 1 to 12.
pub(crate) fn month(number: u8) -> Option<Span> {
    MONTHS.get(usize::from(number).checked_sub(1)?).copied()
}
