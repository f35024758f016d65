//! Engine power to SAE J245.
