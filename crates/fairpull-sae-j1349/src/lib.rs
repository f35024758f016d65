//! Net engine power to SAE J1349.
