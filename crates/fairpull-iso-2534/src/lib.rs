//! Gross engine power to ISO 2534.
