//! Delimited logs to typed channels, with every repair counted.
