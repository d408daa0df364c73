//! Every word the user reads, in one place, by area.

pub mod capture;
mod shell;

pub use shell::*;
