//! Ground truth for tests.
