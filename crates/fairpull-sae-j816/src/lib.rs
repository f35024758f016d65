//! Engine power to SAE J816.
