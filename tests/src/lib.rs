//! Shared parts of the project-wide tests.

pub mod dice;
pub mod fit;
pub mod flat;
pub mod fuzzed;
pub mod hostile;
pub mod package;
pub mod scenario;
pub mod taped;
pub mod yard;
