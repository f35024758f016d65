//! Gross power of small engines to SAE J607.
