//! What the fuzz targets and the test `hostile` do with bytes from anywhere.
pub mod ask;
pub mod parts;
pub mod seeds;
pub mod targets;
