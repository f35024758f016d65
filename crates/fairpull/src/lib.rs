//! Engine power figures on one footing: the facade developers depend on.
#![forbid(unsafe_code)]

mod builtin;

pub use builtin::builtin;
pub use fairpull_core as core;
pub use fairpull_reduction as reduction;
