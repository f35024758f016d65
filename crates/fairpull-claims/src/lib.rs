//! A published figure against every independent bound.
