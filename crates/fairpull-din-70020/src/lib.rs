//! Net engine power to DIN 70020.
