//! Correction standards, loss slopes and fuels written as data.
