//! The desk command.

fn main() {}
