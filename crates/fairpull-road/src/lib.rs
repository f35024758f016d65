//! Road load, acceleration times and power from a speed log.
