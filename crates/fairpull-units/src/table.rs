//! All units, in one order.

use crate::unit::Unit;
use crate::{Dimension, table_engine, table_matter, table_motion, table_pressure};

static TABLES: [&[Unit]; 4] =
    [table_engine::UNITS, table_pressure::UNITS, table_motion::UNITS, table_matter::UNITS];

/// Every unit that can be read and printed, in a fixed order: the catalogue.
pub fn units() -> impl Iterator<Item = &'static Unit> + Clone {
    TABLES.iter().flat_map(|t| t.iter())
}

/// Units of one dimension, the SI unit or the usual one first.
pub fn units_of(dimension: Dimension) -> impl Iterator<Item = &'static Unit> + Clone {
    units().filter(move |u| u.dimension == dimension)
}
