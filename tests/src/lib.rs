//! Shared parts of the project-wide tests.

pub mod scenario;
