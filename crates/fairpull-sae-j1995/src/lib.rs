//! Gross engine power to SAE J1995.
