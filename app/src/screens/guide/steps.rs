//! The steps of the guided walk: what each asks, and whether the book answers it already.

use super::pictures;
use crate::words;
use leptos::prelude::AnyView;
use std::collections::BTreeSet;
use swingtie_core::checks::{Line, Mend};
use swingtie_core::record::{Measurement, Record};

/// One question.
pub struct Step {
    /// Remembered on the device.
    pub key: &'static str,
    /// The question.
    pub asks: &'static str,
    /// How one finds the answer.
    pub help: &'static str,
    /// A drawing of it.
    pub picture: fn() -> AnyView,
    /// The button that opens where it is answered.
    pub opens: &'static str,
    /// What that opens.
    pub does: Does,
    /// Whether the book answers it.
    pub done: fn(&Record, &[Line]) -> bool,
}

/// What a step opens.
#[derive(Clone)]
pub enum Does {
    /// A tape to a point.
    Tie,
    /// The tape that is advised, where there is one.
    Advised,
    /// Things of any kind.
    Things,
    /// A problem's form.
    Problem,
    /// The list before leaving.
    List,
    /// What mends a line of that list.
    Mends(Mend),
}

/// All of them, in the order in which a yard is best recorded. Common practice, no source.
pub const STEPS: &[Step] = &[
    Step {
        key: "sketch",
        asks: "Where are the corners of the house?",
        help: "Walk once round it. Then tap them on the sketch, three at least, one after the other, roughly as they lie.",
        picture: pictures::sketch,
        opens: "Open the sketch",
        does: Does::Mends(Mend::Sketch),
        done: |record, _| record.points.len() > 2,
    },
    Step {
        key: "walls",
        asks: "How long is each wall?",
        help: "Hook the tape at one corner, pull it tight along the wall, read it at the next corner. Go on \
               round the house until you are back, and say at each corner which way you turn.",
        picture: pictures::hook,
        opens: "Walk the walls",
        does: Does::Mends(Mend::Walk),
        done: |record, _| walked(record),
    },
    Step {
        key: "house",
        asks: "Which corners make the house?",
        help: "They are filled in for you: look at them, then save.",
        picture: pictures::outline,
        opens: "Draw the house",
        does: Does::Mends(Mend::House),
        done: |record, _| record.features.iter().any(|f| f.what.kind == "house"),
    },
    Step {
        key: "openings",
        asks: "What is on each wall?",
        help: "Hook the tape at a corner and leave it there. Walk along and read every edge: window, door, \
               tap, downspout. All numbers count from the same zero.",
        picture: pictures::running,
        opens: "Read along a wall",
        does: Does::Mends(Mend::Run),
        done: |record, lines| ran(record) && !open(lines, &["wall "]),
    },
    Step {
        key: "ties",
        asks: "Where do trees, posts and corners of paving stand?",
        help: "Tape to each from two corners of the house: it stands where both tapes meet. They should meet \
               at a wide angle, not nearly in line. At a tree hold the tape to the side of the trunk, level \
               with its middle: so it reads the distance to the middle, which is what is recorded unless \
               you say near or far side.",
        picture: pictures::ties,
        opens: "Tape to a point",
        does: Does::Tie,
        done: |record, lines| tied(record) && !open(lines, &["loose ", "group ", "which "]),
    },
    Step {
        key: "check",
        asks: "Does a third tape agree?",
        help: "Two tapes always meet somewhere, even when one was misread. A third one shows it.",
        picture: pictures::third,
        opens: "Tape once more",
        does: Does::Advised,
        done: |record, lines| tied(record) && !open(lines, &["unchecked ", "disputed "]),
    },
    Step {
        key: "things",
        asks: "What is in the yard?",
        help: "Fences, gates, trees, paving, taps. Say what it is, tap the points it stands on, add the sizes \
               that are asked for: how wide the gate is clear, how far the leaves reach.",
        picture: pictures::things,
        opens: "Record a thing",
        does: Does::Things,
        done: |record, lines| {
            let other = |kind: &str| !matches!(kind, "house" | "door" | "window");
            record.features.iter().any(|f| other(&f.what.kind)) && !open(lines, &["unmade "])
        },
    },
    Step {
        key: "problems",
        asks: "Is anything wrong?",
        help: "Wet ground, a leaning post, a downspout at the wall, a stump. Measure how much, take a photo. \
               Touch nothing that may fall, sting or carry current.",
        picture: pictures::wrong,
        opens: "Add a problem",
        does: Does::Problem,
        done: |record, _| !record.problems.is_empty(),
    },
    Step {
        key: "marks",
        asks: "Is there paint or a flag on the ground?",
        help: "It shows a buried line. Record its colour, its letters, the ticket's number and the day. No mark \
               does not mean no line: have lines marked before any digging.",
        picture: pictures::marks,
        opens: "Record a mark",
        does: Does::Mends(Mend::Mark),
        done: |record, lines| !record.marks.is_empty() || answered(lines, "marks"),
    },
    Step {
        key: "photos",
        asks: "Does a photo show each side of the house?",
        help: "From further back, the whole side. Then pin it to where you stood.",
        picture: pictures::photo,
        opens: "Go to Photos",
        does: Does::Mends(Mend::Photos),
        done: |record, lines| !record.photos.is_empty() && !open(lines, &["photo "]),
    },
    Step {
        key: "notes",
        asks: "What do the people here want?",
        help: "Wishes, what stays, pets, which door is used, where it is sunny now.",
        picture: pictures::talk,
        opens: "Write it down",
        does: Does::Mends(Mend::Notes),
        done: |record, _| record.notes().iter().any(|note| note.what.settles.is_empty()),
    },
    Step {
        key: "north",
        asks: "Where is north?",
        help: "Hold a compass along one wall, away from iron and cars, and read its bearing.",
        picture: pictures::north,
        opens: "Say where north is",
        does: Does::Mends(Mend::Details),
        done: |record, lines| record.north_that_counts().is_some() || answered(lines, "north"),
    },
    Step {
        key: "list",
        asks: "Is anything missing?",
        help: "The list says what would cost a second visit. Mend it, or say why it can stay.",
        picture: pictures::list,
        opens: "Open the list",
        does: Does::List,
        done: |record, lines| {
            !record.measurements.is_empty() && lines.iter().all(|line| line.answer.is_some())
        },
    },
];

/// How much of a step is there, where the book can tell and it is some but not all.
#[must_use]
pub fn so_far(step: &Step, record: &Record, lines: &[Line]) -> Option<String> {
    let (corners, points) = (corners(record), record.points.len());
    let some = |open: usize, all: usize| (0 < open && open < all).then_some(open);
    match step.key {
        "walls" => {
            let read = walls_read(record);
            some(read, corners).map(|read| words::walls_read(read, corners))
        }
        "openings" if ran(record) => {
            some(count(lines, &["wall "]), corners).map(|bare| words::walls_run(bare, corners))
        }
        "ties" => some(count(lines, &["loose "]), points).map(|loose| words::points_placed(loose, points)),
        "check" if tied(record) => {
            some(count(lines, &["unchecked "]), points).map(|bare| words::points_unchecked(bare, points))
        }
        "things" => Some(count(lines, &["unmade "])).filter(|open| *open > 0).map(words::things_unmade),
        "photos" if !record.photos.is_empty() => {
            Some(count(lines, &["photo "])).filter(|open| *open > 0).map(words::sides_unseen)
        }
        _ => None,
    }
}

/// How many open lines' keys start so.
fn count(lines: &[Line], starts: &[&str]) -> usize {
    let is = |key: &&String| starts.iter().any(|start| key.starts_with(start));
    lines.iter().filter(|line| line.is_open()).flat_map(|line| &line.keys).filter(is).count()
}

/// Whether a line with such a key is open.
fn open(lines: &[Line], starts: &[&str]) -> bool {
    count(lines, starts) > 0
}

/// Whether the line of this key was answered in words.
fn answered(lines: &[Line], key: &str) -> bool {
    lines.iter().any(|line| line.answer.is_some() && line.keys.iter().any(|one| one == key))
}

/// Whether the walls are read: all of those known, three at least.
fn walked(record: &Record) -> bool {
    walls_read(record) >= corners(record).max(3)
}

/// How many walls are read on walks round them, each once.
fn walls_read(record: &Record) -> usize {
    let mut read = BTreeSet::new();
    for m in &record.measurements {
        let Measurement::Walk { start, legs, .. } = &m.what else { continue };
        let ends = std::iter::once(start).chain(legs.iter().map(|leg| &leg.to)).zip(legs);
        let taped = ends.filter(|(_, leg)| leg.length.is_some());
        read.extend(taped.map(|(from, leg)| (from.min(&leg.to), from.max(&leg.to))));
    }
    read.len()
}

/// How many corners the house has, and so walls: as drawn, else by the letter of their labels.
fn corners(record: &Record) -> usize {
    let house = record.features.iter().find(|f| f.what.kind == "house");
    let corner = |label: &str| label.strip_prefix('H').is_some_and(|rest| rest.parse::<u32>().is_ok());
    house.map_or_else(
        || record.points.iter().filter(|p| corner(&p.label)).count(),
        |house| house.what.points.len(),
    )
}

fn ran(record: &Record) -> bool {
    record.measurements.iter().any(|m| matches!(m.what, Measurement::Run { .. }))
}

fn tied(record: &Record) -> bool {
    record.measurements.iter().any(|m| matches!(m.what, Measurement::Tie { .. }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Book, Entry, fold};
    use swingtie_core::network::adjust;
    use swingtie_core::plan::Plan;
    use swingtie_core::record::{How, Leg, Point, Reading, Statement};
    use swingtie_core::units::{BareUnit, UnitSystem};

    fn states(record: &Record) -> Vec<&'static str> {
        let adjustment = adjust(record);
        let lines = swingtie_core::checks::lines(record, &adjustment, &Plan::build(record, &adjustment));
        STEPS.iter().filter(|step| (step.done)(record, &lines)).map(|step| step.key).collect()
    }

    #[test]
    fn an_empty_book_answers_nothing_and_the_demo_answers_most() {
        assert_eq!(states(&Record::default()), [""; 0]);
        let record = fold(&Book::from_json_lines(crate::state::DEMO).0).record;
        let done = states(&record);
        for key in ["sketch", "house", "things", "problems", "marks", "north"] {
            assert!(done.contains(&key), "{key} is not among {done:?}");
        }
        // Nobody photographed the demo yard.
        assert!(!done.contains(&"photos"), "{done:?}");
    }

    /// A book with six corners, of whose walls so many are read on one walk.
    fn six_corners(walls: usize) -> Record {
        let corner = |n: usize| format!("H{n}");
        let point = |n: usize| Point { id: corner(n).as_str().into(), label: corner(n), note: String::new() };
        let leg = |n: usize| Leg {
            turn: None,
            to: corner(n % 6 + 1).as_str().into(),
            length: Reading::read("10'", BareUnit::from(UnitSystem::FeetInches)).ok(),
        };
        let (legs, how) = ((1..=walls).map(leg).collect(), How::default());
        let walk = Statement::Measure(Measurement::Walk { start: "H1".into(), legs, how });
        let mut said: Vec<Statement> = (1..=6).map(|n| Statement::Point(point(n))).collect();
        if walls > 0 {
            said.push(walk);
        }
        let mut book = Book::default();
        for (at, said) in (1_u64..).zip(said) {
            let entry = Entry::new(format!("e{at}").as_str().into(), at, 0, "a".into(), said).unwrap();
            book.add(entry).unwrap();
        }
        fold(&book).record
    }

    #[test]
    fn some_walls_are_not_all_of_them() {
        let step = STEPS.iter().find(|step| step.key == "walls").unwrap();
        let told = |walls: usize| {
            let record = six_corners(walls);
            ((step.done)(&record, &[]), so_far(step, &record, &[]))
        };
        assert_eq!(told(0), (false, None));
        assert_eq!(told(1), (false, Some("So far: 1 of 6 walls read.".to_owned())));
        assert_eq!(told(5), (false, Some("So far: 5 of 6 walls read.".to_owned())));
        assert_eq!(told(6), (true, None));
    }
}
