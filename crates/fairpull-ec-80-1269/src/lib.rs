//! Net engine power to 80/1269/EEC.
