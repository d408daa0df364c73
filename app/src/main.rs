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

/// More than a long visit takes: 2,000 entries and 100 photos are 12 MB.
const ROOM: usize = 32 << 20;

/// The program's memory grows once, before anything stands in it. WebKit 2.50 stopped once in the middle of an adjustment
/// ("Out of bounds memory access", freeing a list); others have met that where memory had just grown. Pages that nothing
/// stands in cost a phone nothing; where there is not so much room, memory grows as it is needed.
fn make_room() {
    let mut room: Vec<u8> = Vec::new();
    let _ = room.try_reserve_exact(ROOM);
    std::hint::black_box(room);
}

fn main() {
    make_room();
    console_error_panic_hook::set_once();
    device::language::adopt();
    words::round_lengths(device::prefs::ROUNDED.is_on());
    leptos::mount::mount_to_body(screens::Shell);
}
