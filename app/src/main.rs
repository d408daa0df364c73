//! The phone's shell around `swingtie-core`: gathers what the surveyor says, stores it as entries
//! of a field book, and shows what core computes from the book.
//!
//! Nothing is computed here that belongs to the survey, and nothing imports this crate.

#[macro_use]
extern crate swingtie_derive;
#[macro_use]
extern crate swingtie_markup;

mod capture;
mod device;
mod drawing;
mod importing;
mod keypad;
mod markup;
mod notices;
mod office;
mod routes;
mod screens;
mod state;
mod store;
mod words;

fn main() {
    console_error_panic_hook::set_once();
    device::language::adopt();
    words::round_lengths(device::prefs::ROUNDED.is_on());
    leptos::mount::mount_to_body(screens::Shell);
}
