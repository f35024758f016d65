//! The `fairpull` command.
fn main() {}
