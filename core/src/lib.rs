//! Turns what a surveyor says in a yard into a plan a designer elsewhere can trust.
//!
//! Data flows one way, and the modules are listed in that order; a later one may use an earlier
//! one, never the reverse (a test enforces it):
//!
//! ```text
//! entry -> book -> record -> network -> plan -> { screen, sheet (SVG), GeoJSON, report, table }
//!                      \-> levels --^
//! ```
//!
//! # What this crate does not do
//! No input or output, no clock, no randomness, no browser: ids and times are handed in, text and
//! numbers are handed out. It never panics on user data: bad input is an error value with a
//! sentence a beginner understands, doubtful surveys are findings beside a usable result.

#[macro_use]
extern crate swingtie_derive;

// What `say!` writes finds this crate by its name, here too.
extern crate self as swingtie_core;

pub mod language;

pub mod units;

mod chance;

pub mod record;

mod slips;

pub mod book;

pub mod network;

pub mod levels;

pub mod plan;

pub mod place;

pub mod checks;

pub mod compare;

pub mod sheet;

pub mod exchange;

pub mod report;

pub mod package;
