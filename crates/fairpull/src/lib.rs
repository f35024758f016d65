//! Engine power figures on one footing: the facade developers depend on.
