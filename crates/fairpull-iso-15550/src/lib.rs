//! Engine power to ISO 15550.
