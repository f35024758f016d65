//! Moist air: saturation, dew point, wet bulb, density, sea-level to station pressure.
