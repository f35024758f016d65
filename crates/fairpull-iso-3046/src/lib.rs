//! Relative power of ISO 3046-1.
