//! `cargo xtask serve` and `cargo xtask test`.

fn main() {}
