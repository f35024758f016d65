//! Engine power to JIS D 1001.
