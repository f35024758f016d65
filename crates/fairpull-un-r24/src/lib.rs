//! Compression-ignition engine power to UN Regulation No. 24.
