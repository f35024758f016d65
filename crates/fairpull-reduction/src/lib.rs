//! Recording to pull, curve, state and comparison.
