//! What the fuzz targets and the test `hostile` do with bytes from anywhere.
pub mod ask;
pub mod made_log;
pub mod parts;
pub mod recipe;
pub mod seeds;
pub mod targets;
