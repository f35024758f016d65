//! Helpers shared by the tests: reading fixtures.
