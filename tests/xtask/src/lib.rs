//! Builds, serves and proves Swingtie: what `cargo xtask` does.
//!
//! It needs a Rust toolchain from rustup and what `tools` installs; it refers to nothing outside
//! the workspace but the tools' own install folders and the user's cache folder.

pub mod bench;
pub mod dist;
pub mod languages;
pub mod lighthouse;
mod program;
pub mod reference;
pub mod run;
pub mod server;
pub mod size;
pub mod steps;
mod thin;
pub mod tools;
mod wasm;
