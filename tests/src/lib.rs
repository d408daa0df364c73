//! Shared parts of the project-wide tests.

pub mod flat;
pub mod scenario;
