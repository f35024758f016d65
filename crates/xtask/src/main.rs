//! Chores of the fairpull repository.
fn main() {}
