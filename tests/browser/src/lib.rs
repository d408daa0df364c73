//! Drives the built app in a real browser, as a person would: by what a screen says, at a phone's
//! and at a desk's size, with the network on, off, or the server gone.
//!
//! Things are found by role and accessible name, as the browser computes them for a screen reader:
//! what these tests can use, a blind surveyor can use.

#![allow(clippy::indexing_slicing, reason = "a JSON value read by key gives null where there is none")]

mod desk;
mod device;
mod engine;
mod hand;
mod phone;
mod scratch;
mod screen;
mod start;
mod surveyor;
mod tour;
mod windows;

pub use desk::at_the_desk;
pub use device::Device;
pub use engine::{Browser, Kind};
pub use hand::Hand;
pub use phone::{Phone, kill};
pub use scratch::Scratch;
pub use screen::{Look, Node};
pub use surveyor::{Surveyor, fraction};
pub use tour::tour;

/// The outcome of a step of a test.
pub type Outcome<T = ()> = Result<T, Box<dyn std::error::Error>>;

/// The sizes the app is looked at in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// 390 × 844, touched, as a phone held upright.
    Phone,
    /// 1280 × 800, with a mouse.
    Desk,
}

/// The colour scheme the person's device asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scheme {
    /// Dark ink on paper.
    Light,
    /// Chalk on slate.
    Dark,
}

/// What every screen is looked at in: a usual phone, a small one, a desk; CSS pixels.
pub const SIZES: [(u32, u32); 3] = [(390, 844), (360, 640), (1280, 800)];

/// The themes of the settings, as the root element is told.
pub const THEMES: [&str; 3] = ["light", "dark", "sun"];

/// How many photos the screen of photos shows, each with a picture that opens: an expression for the page.
pub const PHOTOS_SHOWN: &str =
    "[...document.querySelectorAll('.photo-grid img')].filter(i => i.complete && i.naturalWidth > 0).length";

/// What is too small to hit, too faint to read, or runs off the side: an expression for the page.
pub const AUDIT: &str = concat!("(() => {", include_str!("contrast.js"), include_str!("audit.js"), "})()");

/// What cannot be told apart where the system has set the colours: an expression for the page.
pub const ALIKE: &str = concat!("(() => {", include_str!("contrast.js"), include_str!("alike.js"), "})()");

/// Fails with a sentence unless the condition holds.
///
/// # Errors
/// The sentence.
pub fn check(holds: bool, sentence: &str) -> Outcome {
    if holds { Ok(()) } else { Err(sentence.into()) }
}
