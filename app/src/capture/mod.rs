//! The Plan tab: the live drawing, and below it the slip on which readings are taken.
//!
//! A flow is: pick a kind, tap its points on the drawing (or on the list of labels, or type the
//! label), type on the keypad, read it back, save. The plain modules decide ([`draft`], [`say`],
//! [`back`], [`rewrite`], [`corrections`], [`hand`], [`expect`], [`naming`], [`next`],
//! [`thing`]); [`state`], [`touch`] and [`save`] join
//! them to signals and the store; the others only show.
//!
//! # Accessible names, for whoever drives the screen without eyes
//! All are buttons unless said otherwise; names are exact.
//!
//! * Idle slip: `Sketch`, `Measure`, `Thing`, `Utility mark`, `Undo`, `Redo`. The line of class
//!   `last` reads `last: T1 from H3 · 31' 6"` once something is saved. A side that is open is asked
//!   here: `left, walking from H3 to E2`, `right, walking from H3 to E2`.
//! * `Measure` opens the kinds: `Tape between two points`, `Tape along a wall`,
//!   `Baseline and offset`, `Ordinates from a string`, `Walk the walls`, `Square corner`, `In line`,
//!   `Side only`; `More kinds` shows `Turned angle`, `Compass bearing`, `Parallel`, `Same length`, `Arc by
//!   its rise`, `Arc through three points`, `Girth of a trunk`, and `The usual kinds` the first ones again.
//!   `Back` leaves every panel.
//! * Slots show what is said so far and take the focus when tapped: `from: H3`, `to: —`,
//!   `reading: 31' 6"`; their first words by kind are in `words::forms`.
//! * A point is wanted: the list holds one button a point, named by its label (`H3`); the text field
//!   `Label` takes a typed label, and `Use H3` or `New point X1` beside it puts it in (so does the
//!   Enter key). The select `Letters for new points` decides the next automatic label. On the
//!   drawing every point is a button `Point H3, checked`. Two points under one finger are asked by
//!   a group `Which one?` with a button each, named `This one: H3`.
//! * A number is wanted: keys `0` … `9`, `point`, `feet`, `inches`, `one half`, `one quarter`,
//!   `three quarters`, `one eighth`, `three eighths`, `five eighths`, `seven eighths`; `sixteenths`
//!   turns these into `one sixteenth` … `fifteen sixteenths` for one key; `minus` (stations only),
//!   `delete`, `clear`; on other pads `metres`, `centimetres`, `millimetres`. `units: feet and
//!   inches` switches to `units: decimal feet`, then `units: metres`. An impossible number offers a
//!   better one: `Take 13' 2"`. An angle is typed with `degrees` between degrees and minutes; it has no
//!   units to switch.
//! * The wide key reads `Next` while something is still needed and `Save` when all is there; where
//!   no number is asked the same key stands at the foot of the slip. A wall whose length is not
//!   taped is saved by `Save` with nothing typed.
//! * A side is wanted: `left, walking from A to B`, `right, walking from A to B`; after a second tie
//!   also `Leave it open`. A turn is wanted: `left, square`, `right, square`, `left, not square`,
//!   `right, not square`, `straight on`. Which way an angle turns: `clockwise`, `counter-clockwise`. Which
//!   north: `compass north`, `true north`. A tape to a round thing has the part `taped to its: middle`, with
//!   `near side`, `far side`, `middle`.
//! * Over the pad, and over the list of points, a row of keys (the group `what it is, or where the tape goes
//!   next`; it comes with the later part). Along a wall: `at H2` (its far end), `at W1a, Window` and so on, `next
//!   wall` once the far end is read. A tie: `from H3`, `to T2` (a point with one tie), `next point T3`. Two places or a
//!   baseline: the sides. With the number complete each saves it, and says so: `save at W1a, Window`, `save, then
//!   from H3`, `save left, walking from A to B`. `another kind of thing` opens the list of all kinds.
//! * The key `the same again: 16' 0"` of the pad takes the last number over; on a run it goes as far again.
//! * Where a run's zero is asked: the switch `The tape's zero is not at this point`.
//! * The plan expects another value, or a tape reads less than before or the very same again: a group `another
//!   value was expected` with `Keep 34' 6"` or `Type again`.
//! * The element of class `read-back` holds the whole reading: `T1 from H3 · 31' 6"`.
//! * After a save the panel stays open: a tie keeps its `to` and asks `from` anew; a run, baseline,
//!   string or walk keeps its line and asks the next point, an angle or a bearing its place and the way it
//!   counts. A walk that is back at its start says how well it closes in the line `last: …`.
//! * `Correct` in the book opens the entry's form again. Of an entry with several readings, rows or walls a
//!   slip asks first which: a button each, named by what it says (`T1 at 31' 6"`).
//! * How it is taken: `how: steel tape, hard edge` opens `steel tape`, `fibreglass tape`, `laser`,
//!   `wheel`, `paced`, `guess`, `hard edge`, `soft edge`; for a tie or a run also `level`, `one end higher`,
//!   `at an angle`, which add the parts `higher by: —` or `slope: —`; and the disclosure `Tape corrections,
//!   for surveyors` with text fields (`Length by its marks, ft` …). For an angle or a bearing `how: compass`
//!   opens `compass`, `phone`, `protractor`, `theodolite`, `by eye`. `read back aloud` has each reading said when it is
//!   saved. `Back` and `Back to the reading` lead to what was being typed.
//! * Sketch: tap the drawing to drop a point; tap a point, then its new place, to move it (or drag
//!   it). The text field `Label of the next point` may be changed before each drop. `Done` leaves.
//! * Measure also holds `Heights by level`, the way to the screen of that name. Its buttons `Builder's level or
//!   laser`, `Hand level`, `String with a line level`, `Water in a clear hose` begin a set-up on the plan: keys over
//!   the list of points name likely ones (`on D1a`), `Move the level` ends the set-up, the slot `on: D1a` picks
//!   another point, `rod: upright` and `stands: on the ground` are switches, `Save` goes on to the next point.
//! * Thing: the text field `Find a kind`, one button a kind by its name; then points as above, what is
//!   asked about it (`screens::asked`: `trunk diameter: —` opens a pad that ends with `Done`), `Save
//!   thing`. Behind the disclosure `More: keep or remove, name, note`: what is asked seldom, `keep`,
//!   `move`, `remove`, `ask`, `told, not seen`, `smooth line`, text fields `Name` and `Note`.
//! * Utility mark: a button a colour (`red, electric`), text fields `Letters on it` and `Note`, what is
//!   asked about marks, `told, not marked`, `Save mark`.
//! * Card of a point: `Tape from H3`, `Tape to H3`, text field `Label` with `Rename`, `Add a problem
//!   here`, `Exact figures`.
//! * Readings that contradict: `Look at it` opens the slip; a group a reading, named by what it reads
//!   (`T3 from H6 reads 19' 5"`), holds `Tape it again`, `Correct to 16' 5"` (where a usual slip explains
//!   it), `Keep it`, `Strike it`, and the disclosure `Exact figures`.
//! * A tape that is advised: `Tape it` starts it; the select `Longest tape` bounds what is advised.
//! * A question that is being answered: over the slip the group `Answering` says it, `Not now` puts it off.
//! * Drawing: `zoom in`, `zoom out`, `show all`, `tapes`. Its points are one stop of the Tab key; arrow keys
//!   go from one to the next, Page Up and Page Down through all in order.

mod advise;
mod advised;
mod ahead;
mod back;
pub mod before;
mod card;
mod chooser;
pub mod corrections;
mod doubts;
pub mod draft;
pub mod expect;
mod hand;
mod hows;
mod idle;
pub mod keep;
mod kept;
mod kind;
mod kinds;
mod measure;
mod meeting;
mod naming;
mod next;
mod parts;
#[cfg(test)]
mod placed;
mod rewrite;
mod row;
mod save;
mod say;
mod screen;
mod sketch;
mod state;
pub mod steps;
mod thing;
mod things;
mod touch;

pub use advise::fetch_step;
pub use advised::{Advised, LongestTape, next_tape};
pub use ahead::fetch_ahead;
pub use chooser::{Chooser, Chosen};
pub use draft::Kind;
pub use hows::INSTRUMENTS;
pub use idle::SlipHead;
pub use next::Key;
#[cfg(test)]
pub use placed::placed;
pub use row::{Row, later_row};
pub use screen::{PlanScreen, later_hows, later_slip};
pub use state::{Capture, Panel};
