//! What the forms of the measurements say: kinds, their parts, and what is asked for each.

use super::rotation;
use crate::capture::corrections::corrected;
use crate::capture::draft::{Choice, Draft, Kind, Lay, Slot};
use crate::capture::expect::Unexpected;
use swingtie_core::language::tr;
use swingtie_core::network::Quantity;
use swingtie_core::record::{
    AngleInstrument, How, Instrument, NorthKind, Slope, TapedTo, Target, Turn, UnitSystem,
};
use swingtie_core::units::Length;

/// A kind of measurement on its button.
pub const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Tie => "Tape between two points",
        Kind::Run => "Tape along a wall",
        Kind::Offsets => "Baseline and offset",
        Kind::Ordinates => "Ordinates from a string",
        Kind::Walk => "Walk the walls",
        Kind::Square => "Square corner",
        Kind::InLine => "In line",
        Kind::SideOnly => "Side only",
        Kind::Angle => "Turned angle",
        Kind::Bearing => "Compass bearing",
        Kind::Parallel => "Parallel",
        Kind::SameLength => "Same length",
        Kind::Arc => "Arc by its rise",
        Kind::ArcThrough => "Arc through three points",
        Kind::Girth => "Girth of a trunk",
    }
}

/// Shows the kinds seldom wanted.
pub const MORE_KINDS: &str = "More kinds";
/// The way to the heights.
pub const HEIGHTS_BY_LEVEL: &str = "Heights by level";
/// Shows the usual kinds again.
pub const USUAL_KINDS: &str = "The usual kinds";

/// One plain line under the kind's name.
pub const fn kind_hint(kind: Kind) -> &'static str {
    match kind {
        Kind::Tie => "one distance, straight across",
        Kind::Run => "hook the zero, read along",
        Kind::Offsets => "along a line, then square out",
        Kind::Ordinates => "a curve, every few feet",
        Kind::Walk => "lengths and turns",
        Kind::Square => "a corner of 90°",
        Kind::InLine => "three or more on one line",
        Kind::SideOnly => "no number, only left or right",
        Kind::Angle => "from one point to another",
        Kind::Bearing => "degrees from north",
        Kind::Parallel => "two lines run the same way",
        Kind::SameLength => "two lengths are equal",
        Kind::Arc => "two ends, and how far it bows",
        Kind::ArcThrough => "two ends, and one on it",
        Kind::Girth => "the tape once round",
    }
}

/// What a slot is called beside its value.
pub const fn slot(kind: Kind, slot: Slot) -> &'static str {
    match (kind, slot) {
        (Kind::Run, Slot::First) => "zero at",
        (Kind::Run, Slot::Second) => "toward",
        (Kind::Walk, Slot::First) => "start",
        (Kind::Square, Slot::First) => "corner",
        (Kind::Square, Slot::Second) => "one leg",
        (Kind::Square, Slot::Third) => "other leg",
        (Kind::Angle, Slot::First) => "at",
        (Kind::Angle, Slot::Second) => "from",
        (Kind::Parallel | Kind::SameLength, Slot::First) => "line 1 from",
        (Kind::Parallel | Kind::SameLength, Slot::Second) => "line 1 to",
        (Kind::Parallel | Kind::SameLength, Slot::Third) => "line 2 from",
        (Kind::ArcThrough, Slot::Second) => "through",
        (Kind::ArcThrough, Slot::Third) => "to",
        (Kind::Girth, Slot::Target) => "trunk",
        (Kind::Tie | Kind::Walk | Kind::Angle | Kind::Bearing, Slot::Target) => "to",
        (_, Slot::First) => "from",
        (_, Slot::Second) => "to",
        (_, Slot::Third) => "third",
        (_, Slot::Fourth) => "line 2 to",
        (_, Slot::Target) => "point",
        (_, Slot::TapedTo) => "taped to its",
        (_, Slot::Interval) => "every",
        (_, Slot::Turn) => "turn",
        (_, Slot::Rotation) => "turned",
        (_, Slot::North) => "north",
        (Kind::Bearing, Slot::Angle) => "bearing",
        (_, Slot::Angle) => "angle",
        (_, Slot::Station) => "station",
        (Kind::Offsets | Kind::Ordinates, Slot::Length) => "offset",
        (Kind::Arc, Slot::Length) => "rise",
        (Kind::Girth, Slot::Length) => "girth",
        (_, Slot::Length) => "reading",
        (_, Slot::Rise) => "higher by",
        (_, Slot::Incline) => "slope",
        (_, Slot::Side) => "side",
        (_, Slot::Many) => "points",
    }
}

/// What the panel asks for.
pub const fn ask(kind: Kind, slot: Slot) -> &'static str {
    match (kind, slot) {
        (Kind::Tie, Slot::First) => "From which point? Tap it.",
        (Kind::Tie, Slot::Target) => "To which point?",
        (Kind::Run, Slot::First) => "Where is the tape's zero?",
        (Kind::Run, Slot::Second) => "Toward which point does it run?",
        (Kind::Run, Slot::Target) => "Which point do you read at?",
        (Kind::Offsets, Slot::First) => "Where does the baseline start?",
        (Kind::Offsets, Slot::Second) => "Where does it lead?",
        (Kind::Offsets | Kind::Ordinates, Slot::Target) => "Which point is it?",
        (Kind::Ordinates, Slot::First) => "Where does the string start?",
        (Kind::Ordinates, Slot::Second) => "Where does it end?",
        (Kind::Walk, Slot::First) => "At which corner do you start?",
        (Kind::Walk, Slot::Target) => "Which corner do you reach?",
        (Kind::Square, Slot::First) => "Which corner is square?",
        (Kind::Square, _) => "Along which point does a leg go?",
        (Kind::SideOnly, Slot::Target) => "Which point?",
        (Kind::SideOnly, _) => "Beside which line? Tap its two ends.",
        (Kind::Angle, Slot::First) => "At which point do you stand?",
        (Kind::Angle, Slot::Second) => "At which point do you look first?",
        (Kind::Angle, Slot::Target) => "To which point do you turn?",
        (Kind::Bearing, Slot::First) => "Where do you hold the compass?",
        (Kind::Bearing, Slot::Target) => "Which point do you look at?",
        (Kind::Parallel | Kind::SameLength, Slot::First) => "One line: tap its first end.",
        (Kind::Parallel | Kind::SameLength, Slot::Third) => "The other line: tap its first end.",
        (Kind::Parallel | Kind::SameLength, _) => "And its other end.",
        (Kind::Arc | Kind::ArcThrough, Slot::First) => "Where does the curve begin?",
        (Kind::ArcThrough, Slot::Second) => "Through which point does it go?",
        (Kind::Arc | Kind::ArcThrough, Slot::Second | Slot::Third) => "Where does it end?",
        (Kind::Arc, Slot::Side) => "To which side does it bow?",
        (Kind::Girth, Slot::Target) => "Round which trunk?",
        (_, Slot::TapedTo) => "What of it does the tape reach?",
        (_, Slot::Rotation) => "Which way do you turn, seen from above?",
        (_, Slot::North) => "Which north does it count from?",
        (_, Slot::Interval) => "How far apart are the ordinates?",
        (_, Slot::Turn) => "How does the wall turn here?",
        (_, Slot::Station) => "How far along the line?",
        (Kind::Offsets | Kind::Ordinates, Slot::Length) => "How far square out?",
        (_, Slot::Length | Slot::Angle | Slot::Rise | Slot::Incline) => "Type the reading.",
        (_, Slot::Side) => "On which side?",
        (_, Slot::Many) => "Tap three or more points, in order.",
        (_, Slot::First | Slot::Second | Slot::Third | Slot::Fourth | Slot::Target) => "Which point?",
    }
}

/// One of the few things a slot can hold.
pub const fn choice(choice: Choice) -> &'static str {
    match choice {
        Choice::Turn(what) => turn(what),
        Choice::TapedTo(TapedTo::Middle) => "middle",
        Choice::TapedTo(TapedTo::NearSide) => "near side",
        Choice::TapedTo(TapedTo::FarSide) => "far side",
        Choice::Rotation(way) => rotation(way),
        Choice::North(NorthKind::Magnetic) => "compass north",
        Choice::North(NorthKind::True) => "true north",
    }
}

/// What stands under the few things a slot can hold, where it helps to choose.
pub const fn choice_hint(slot: Slot) -> Option<&'static str> {
    match slot {
        Slot::TapedTo => {
            Some("Middle: the tape held beside it. To a side: tape round it too (Girth of a trunk).")
        }
        Slot::North => {
            Some("Compass north: as the needle shows it. True north: already corrected, or off a plan.")
        }
        _ => None,
    }
}

/// A turn.
pub const fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::Left => "left, square",
        Turn::Right => "right, square",
        Turn::LeftNotSquare => "left, not square",
        Turn::RightNotSquare => "right, not square",
        Turn::Straight => "straight on",
    }
}

/// As [`slot`], of a run whose zero is elsewhere too.
pub const fn slot_now(draft: &Draft, of: Slot) -> &'static str {
    match of {
        Slot::First if draft.zero_unknown => "line from",
        of => slot(draft.kind, of),
    }
}

/// As [`ask`], of a run whose zero is elsewhere too.
pub const fn ask_now(draft: &Draft, of: Slot) -> &'static str {
    match of {
        Slot::First if draft.zero_unknown => "Along which line? Tap a point of it.",
        of => ask(draft.kind, of),
    }
}

/// The switch of a run whose zero is elsewhere.
pub const ZERO_ELSEWHERE: &str = "The tape's zero is not at this point";
/// As [`ZERO_ELSEWHERE`], what follows from it.
pub const ONLY_DIFFERENCES: &str =
    "Only the differences between readings count: read at two points or more, this one too if you can.";

/// An instrument.
pub const fn instrument(instrument: Instrument) -> &'static str {
    match instrument {
        Instrument::SteelTape => "steel tape",
        Instrument::FibreglassTape => "fibreglass tape",
        Instrument::Laser => "laser",
        Instrument::Wheel => "wheel",
        Instrument::Pacing => "paced",
        Instrument::Guess => "guess",
    }
}

/// An instrument in a word.
pub const fn instrument_short(instrument: Instrument) -> &'static str {
    match instrument {
        Instrument::SteelTape => "steel",
        Instrument::FibreglassTape => "fibre",
        Instrument::Laser => "laser",
        Instrument::Wheel => "wheel",
        Instrument::Pacing => "paced",
        Instrument::Guess => "guess",
    }
}

/// What an angle is read with.
pub const fn sight(instrument: AngleInstrument) -> &'static str {
    match instrument {
        AngleInstrument::Compass => "compass",
        AngleInstrument::Phone => "phone",
        AngleInstrument::Protractor => "protractor",
        AngleInstrument::Theodolite => "theodolite",
        AngleInstrument::Guess => "by eye",
    }
}

/// What was measured to.
pub const fn target(target: Target) -> &'static str {
    match target {
        Target::Hard => "hard edge",
        Target::Soft => "soft edge",
    }
}

/// How the tape lay.
pub const fn slope(slope: Option<Lay>) -> &'static str {
    match slope {
        None => "level",
        Some(Lay::Rise) => "one end higher",
        Some(Lay::Incline) => "at an angle",
        Some(Lay::Heights) => "slope by heights",
    }
}

/// How a length is taken, in one line.
pub fn how(how: &How, lay: Option<Lay>) -> String {
    let mut words = say!("{}, {}", instrument(how.instrument), target(how.target));
    if lay.is_some() {
        words = say!("{words}, {}", slope(lay));
    }
    if corrected(how) {
        words.push_str(tr(", corrected"));
    }
    words
}

/// How a length is taken, in a word or two.
pub fn how_short(how: &How) -> String {
    let soft = if how.target == Target::Soft { ", soft" } else { "" };
    let mark = if corrected(how) { ", corrected" } else { "" };
    say!("{}{soft}{mark}", instrument_short(how.instrument))
}

/// What of a round thing was taped to, where it is not its middle.
pub const fn reached(taped_to: TapedTo) -> &'static str {
    match taped_to {
        TapedTo::Middle => "",
        TapedTo::NearSide => " to its near side",
        TapedTo::FarSide => " to its far side",
    }
}

/// That the tape did not lie level.
pub const fn sloped(how: &How) -> &'static str {
    match how.slope {
        None => "",
        Some(Slope::RiseMetres(_)) => ", one end higher",
        Some(Slope::AngleRadians(_)) => ", at an angle",
        Some(Slope::Heights) => ", slope by heights",
    }
}

/// That a run's zero was hooked somewhere else on its line.
pub const fn zero(unknown: bool) -> &'static str {
    if unknown { ", zero elsewhere" } else { "" }
}

/// Goes back to what is measured.
pub const HOWS_DONE: &str = "Back to the reading";
/// The switch of the voice.
pub const READ_ALOUD: &str = "read back aloud";
/// The disclosure of the tape's corrections.
pub const CORRECTIONS: &str = "Tape corrections, for surveyors";
/// What the corrections are reckoned from.
pub const CORRECTIONS_HINT: &str = "Leave empty what is not wanted. A steel tape is taken as true at 68 °F (20 °C). \
    Pull and weight correct the sag of a tape that hangs free between its ends. The last three count for a \
    steel tape only.";

/// What is typed of a tape, by its number.
pub const fn tape_field(number: usize, metric: bool) -> &'static str {
    match (number, metric) {
        (0, false) => "Length by its marks, ft",
        (0, true) => "Length by its marks, m",
        (1, false) => "Length found when compared, ft",
        (1, true) => "Length found when compared, m",
        (2, false) => "Temperature, °F",
        (2, true) => "Temperature, °C",
        (3, false) => "Pull, pounds",
        (3, true) => "Pull, newtons",
        (_, false) => "Weight, pounds per 100 ft",
        (_, true) => "Weight, newtons per metre",
    }
}

/// A figure that is none, or far beyond what tapes have.
pub fn cannot_be(name: &str) -> String {
    say!("{name}: this cannot be. It is left out.")
}

/// What the corrections make of a reading.
pub fn counts_as(read: &str, counts: &str) -> String {
    say!("{read} read counts as {counts}.")
}

/// Two ties to one point do not meet: what the other reads, the labels of the anchor of this one and of that, and how
/// far these are from each other.
pub fn do_not_meet(read: &str, [from, other]: [&str; 2], apart: &str) -> String {
    say!("It does not meet {read} from {other}: {from} and {other} are {apart} apart.")
}

/// Points of something saved have no place, so that it is on no drawing.
pub fn no_place_yet(labels: &[&str]) -> String {
    match labels {
        [label] => say!("Saved, but not on the plan yet: {label} has no place. Tape to it."),
        _ => {
            let labels = labels.join(", ");
            say!("Saved, but not on the plan yet: {labels} have no place. Tape to them.")
        }
    }
}

/// What the plan expects in place of a length typed, and a slip that would explain it.
pub fn length_not_expected(doubt: &Unexpected, units: UnitSystem) -> String {
    let [expected, within] = [doubt.expected, doubt.within].map(|quantity| match quantity {
        Quantity::Length(length) => length,
        Quantity::Angle(_) => Length::ZERO,
    });
    plan_expects(&super::length(expected, units), &super::capture::within(within, units), doubt.slip)
}

/// As [`length_not_expected`], of an angle.
pub fn angle_not_expected(doubt: &Unexpected, units: UnitSystem) -> String {
    let within = match doubt.within {
        Quantity::Angle(within) => within.degrees().ceil(),
        Quantity::Length(_) => 0.0,
    };
    plan_expects(&super::quantity(doubt.expected, units), &say!("within {within:.0}°"), doubt.slip)
}

fn plan_expects(expected: &str, within: &str, slip: Option<&str>) -> String {
    // What would explain it is a guess: the tape read first may be the wrong one.
    let wrong = tr("This reading is wrong, or one before it.");
    let why = slip.map_or_else(|| wrong.to_owned(), |slip| format!("{} {wrong}", tr(slip)));
    say!("The plan expects {expected}, {within}. {why}")
}
