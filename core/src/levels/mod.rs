//! Heights: from level readings to the height of every point, and how well each is known.
//!
//! ```text
//! record -> set-ups -> { booking (as in a field book), adjustment } -> heights, findings
//! ```
//! One equation serves builder's level, hand level, string and water: within a set-up the level line has one
//! height, and a reading is how far a point lies below it, `reading = line − height`. So the set-ups' lines and
//! the points' heights are the unknowns, and set-ups are joined by the points they share.
//!
//! * `setups`: which readings belong together;
//! * `booking`: rise and fall, height of instrument, arithmetic check, closings, as a surveyor books them;
//! * `adjust`: least squares over all set-ups, with what each reading has to spare;
//! * `doubt`: which heights cannot be trusted while readings contradict each other;
//! * `causes`: what may have happened to a reading that does not fit;
//! * `traps`: rods and tapes in different units;
//! * `lay`: heights for tapes that lay on a slope;
//! * `slope`: rise over run in every way the trade writes it;
//! * `words`: figures, sums and closings of the book, as phone and report write them.

mod adjust;
mod booking;
mod causes;
mod doubt;
mod lay;
mod setups;
mod slope;
mod surface;
mod traps;
pub mod words;

#[cfg(test)]
mod tests;

pub use adjust::{Height, LevelFinding, Levelled, Levels, heights, heights_without};
pub use booking::{Booked, Closing, Page, Sums, book_pages};
pub use causes::LevelCause;
pub use lay::{above, lay};
pub use setups::{Rod, SetUp, setups};
pub use slope::Slope;
pub use surface::{Contour, FAR, LowPoint, NoSurface, Spot, Surface};
pub use traps::{mixed_units, written_in};
