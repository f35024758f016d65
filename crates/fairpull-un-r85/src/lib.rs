//! Net engine power to UN Regulation No. 85.
