//! Net engine power to ISO 1585.
