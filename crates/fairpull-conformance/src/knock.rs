//! Checks for knock models.
