//! Stress figures.
