//! Shared parts of the project-wide tests.

pub mod fit;
pub mod flat;
pub mod scenario;
