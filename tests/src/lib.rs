//! Shared helpers of the project-wide tests.
