//! Where the rod goes next most likely, and what is asked before a reading is saved.

use super::booking::Booking;
use crate::drawing::place;
use crate::words::levels as words;
use swingtie_core::levels::{LevelFinding, Levels, heights_without, written_in};
use swingtie_core::plan::Plan;
use swingtie_core::record::{EntryId, LevelWith, PointId, Record, UnitSystem};
use swingtie_core::units::float::sqrt;
use swingtie_core::units::{Length, sort_by};

/// So many keys stand over the list of points.
const KEYS: usize = 4;
/// No rod is read higher: 5 m or 16 ft are the usual ones. Common practice, no source.
const ROD: Length = Length::from_metres(5.0);
/// Nobody reaches higher with a tape up to a string or the water. Common practice, no source.
const REACH: Length = Length::from_metres(2.5);
/// A reading this many standard deviations off is asked about.
const ASKED_FROM: f64 = 4.0;
/// Less is not worth a question: half an inch.
const PETTY: Length = Length::from_inches(0.5);

/// The points that are likely read next. A set-up begins where the last one read, the first of all on what
/// heights count from or a threshold; then comes what stands near and was not read yet.
#[must_use]
pub fn likely(record: &Record, plan: &Plan, levels: &Levels, booking: &Booking) -> Vec<PointId> {
    let mut found: Vec<PointId> = Vec::new();
    let read: Vec<&PointId> = booking.readings(record).map(|l| &l.what.point).collect();
    let mut add = |id: &PointId| {
        let known = record.points.iter().any(|p| p.id == *id);
        if known && found.len() < KEYS && !found.contains(id) && !read.contains(&id) {
            found.push(id.clone());
        }
    };
    let mark = record.bench_mark.as_ref().map(|mark| &mark.point);
    let Some(last) = read.last() else {
        // The new set-up is tied to the old ones by a point both read.
        record.levels.iter().rev().for_each(|l| add(&l.what.point));
        mark.into_iter().for_each(&mut add);
        let doors = record.features.iter().filter(|f| f.what.kind == "door");
        doors.filter_map(|door| door.what.points.first()).for_each(&mut add);
        let labelled = |start| record.points.iter().filter(move |p| p.label.starts_with(start));
        labelled('D').take(1).for_each(|p| add(&p.id));
        return found;
    };
    let from = place(plan, last);
    let mut near: Vec<(f64, &PointId)> = plan
        .points
        .iter()
        .filter(|p| !levels.points.contains_key(&p.id))
        .filter_map(|p| Some((from?.distance(p.at).metres(), &p.id)))
        .collect();
    sort_by(&mut near, |a, b| a.0.total_cmp(&b.0));
    near.iter().take(KEYS - 1).for_each(|(_, id)| add(id));
    // The last set-up closes on what the first one began with.
    let first = record.levels.first().map(|l| &l.what.point);
    mark.or(first).into_iter().for_each(add);
    found
}

/// Why the reading looks like a slip, in words; none where it does not.
#[must_use]
pub fn question(record: &Record, levels: &Levels, booking: &Booking) -> Option<String> {
    let reading = booking.typed.reading()?;
    let point = booking.point.as_ref()?;
    let longest = if booking.pairs() { REACH } else { ROD };
    if reading.value > longest {
        return Some(words::too_long(&reading.text, booking.pairs()));
    }
    if reading.value <= Length::ZERO {
        return Some(words::nothing_read(&reading.text));
    }
    if let Some(other) = other_units(record, booking) {
        return Some(words::other_units(&reading.text, reading.value, other));
    }
    let below = if booking.overhead { -reading.value } else { reading.value };
    // What may be wrong says nothing about what is right.
    let out: Vec<EntryId> = levels.doubted.iter().chain(&booking.correcting).cloned().collect();
    let without = (!out.is_empty()).then(|| heights_without(record, &out));
    let levels_ = without.as_ref().unwrap_or(levels);
    let mut expected = None;
    for read in booking.readings(record).filter(|read| !out.contains(&read.entry)) {
        if read.what.point == *point {
            // Twice from one set-up: the same but for the reading's spread.
            expected = Some((read.what.below_line(), read.what.spread().metres()));
        }
    }
    if let Some((was, sd)) = expected.or_else(|| from_before(record, levels_, booking, &out)) {
        let off = (below - was).abs();
        if off > PETTY && off.metres() > ASKED_FROM * sd * std::f64::consts::SQRT_2 {
            let told = words::otherwise(record.label(point), was.abs(), off, record.site.units);
            let doubt = levels.findings.iter().find_map(|f| match f {
                LevelFinding::Suspect { point, .. } => Some(words::in_doubt(record.label(point))),
                _ => None,
            });
            return Some(doubt.map_or(told.clone(), |doubt| say!("{told} {doubt}")));
        }
    }
    let last = booking.readings(record).next_back()?;
    let again = last.what.reading.text == reading.text && last.what.point != *point;
    again.then(|| words::same_again(&reading.text, record.label(&last.what.point)))
}

/// What a point of known height should read from a line of known height, and how well that is known, metres.
fn from_before(
    record: &Record,
    levels: &Levels,
    booking: &Booking,
    out: &[EntryId],
) -> Option<(Length, f64)> {
    let known = levels.points.get(booking.point.as_ref()?)?;
    let mut lines = Vec::new();
    for read in booking.readings(record).filter(|read| !out.contains(&read.entry)) {
        // A height that this set-up alone gives says nothing about its line.
        let elsewhere = |l: &swingtie_core::levels::Levelled| {
            l.point == read.what.point && !booking.readings(record).any(|mine| mine.entry == l.entry)
        };
        let held = record.bench_mark.as_ref().is_some_and(|mark| mark.point == read.what.point);
        let height = levels.points.get(&read.what.point)?;
        if held || levels.readings.iter().any(elsewhere) {
            lines.push((height.above + read.what.below_line(), height.sd.metres()));
        }
    }
    let (line, sd) = lines.first()?;
    let own = booking.with.sd().metres();
    let sd = sqrt(known.sd.metres() * known.sd.metres() + sd * sd + own * own);
    Some((*line - known.above, sd))
}

/// The units all rods before were read in, where this one is in others of the same rod: 5.6 ft is not 5' 6".
/// The first reading in tenths where tapes are in inches is asked about as well.
fn other_units(record: &Record, booking: &Booking) -> Option<UnitSystem> {
    let now = written_in(&booking.typed.text())?;
    if now == UnitSystem::Metres || booking.correcting.is_some() {
        return None;
    }
    let before = record.levels.last().map(|l| written_in(&l.what.reading.text));
    let before = before.map_or(record.site.units, |units| units.unwrap_or(record.site.units));
    (before != now && before != UnitSystem::Metres).then_some(before)
}

/// What comes first of the kinds of level: the one used last.
#[must_use]
pub fn usual(record: &Record) -> Option<LevelWith> {
    record.levels.last().map(|l| l.what.with)
}

#[cfg(test)]
mod tests {
    use super::super::booking::tests::{booking, levelled, typed};
    use super::*;
    use crate::keypad::Key;
    use swingtie_core::levels::heights;

    fn labels(record: &Record, booking: &Booking) -> Vec<String> {
        let found = likely(record, &Plan::default(), &heights(record), booking);
        found.iter().map(|id| id.as_str().to_owned()).collect()
    }

    #[test]
    fn a_set_up_begins_where_the_last_one_ended() {
        let record = levelled(&[(0, "D1a", "4'"), (0, "PK2", "5'"), (0, "E3", "6'")]);
        assert_eq!(labels(&record, &booking(None, "X")), ["E3", "PK2", "D1a"]);
        // In it, what it read is not proposed again; without places nothing is near.
        assert!(labels(&record, &booking(Some("0"), "X")).is_empty());
        let further = levelled(&[(0, "D1a", "4'"), (0, "E3", "6'"), (1, "E3", "4'")]);
        assert_eq!(labels(&further, &booking(Some("2"), "X")), ["D1a"], "back to where it began");
    }

    #[test]
    fn the_first_of_all_is_read_on_the_threshold() {
        let mut record = levelled(&[(0, "H1", "4'"), (0, "D1a", "4'")]);
        record.levels.clear();
        assert_eq!(labels(&record, &booking(None, "X")), ["D1a"]);
    }

    fn asked(record: &Record, booking: &Booking) -> Option<String> {
        question(record, &heights(record), booking)
    }

    #[test]
    fn what_no_rod_reads_is_asked_about() {
        let record = levelled(&[(0, "A", "4'")]);
        let mut long = booking(Some("0"), "B");
        long.typed = typed(UnitSystem::FeetInches, &[Key::Digit(5), Key::Digit(6), Key::Feet]);
        assert!(asked(&record, &long).unwrap().contains("56'"));
        assert_eq!(asked(&record, &booking(Some("0"), "B")), None);
    }

    #[test]
    fn a_rod_of_nothing_is_asked_about() {
        let mut nothing = booking(Some("0"), "B");
        nothing.typed = typed(UnitSystem::FeetInches, &[Key::Digit(0), Key::Feet]);
        assert!(asked(&levelled(&[(0, "A", "4'")]), &nothing).unwrap().contains("very foot"));
    }

    // By hand: B is read twice, one foot apart; over C, read once, the line is 104.5, so that A reads 4' 6".
    #[test]
    fn the_right_reading_is_not_called_wrong_for_a_misread_beside_it() {
        let readings = [
            (0, "A", "4'"),
            (0, "C", "5'"),
            (0, "B", "5'"),
            (0, "B", "6'"),
            (4, "B", "5' 6\""),
            (4, "C", "5' 6\""),
        ];
        let record = levelled(&readings);
        let close = |feet: u8| {
            let mut close = booking(Some("4"), "A");
            close.typed = typed(UnitSystem::FeetInches, &[Key::Digit(feet), Key::Feet, Key::Digit(6)]);
            close
        };
        assert!(!heights(&record).doubted.is_empty());
        assert_eq!(asked(&record, &close(4)), None);
        let asked = asked(&record, &close(6)).unwrap();
        assert!(asked.contains("4' 6\"") && asked.contains("B is in doubt"), "{asked}");
    }

    #[test]
    fn tenths_between_inches_are_asked_about_and_inches_between_tenths() {
        let inches = levelled(&[(0, "A", "4' 1\"")]);
        let mut tenths = booking(Some("0"), "B");
        tenths.typed = typed(UnitSystem::DecimalFeet, &[Key::Digit(5), Key::Point, Key::Digit(6)]);
        assert!(asked(&inches, &tenths).unwrap().contains("5.6 ft"));
        let decimal = levelled(&[(0, "A", "4.08 ft")]);
        assert_eq!(asked(&decimal, &tenths), None);
        assert!(asked(&decimal, &booking(Some("0"), "B")).unwrap().contains("5' 6\""));
        // The first of all, where tapes are in inches.
        assert!(asked(&Record::default(), &tenths).is_some());
    }

    #[test]
    fn the_very_same_again_and_another_number_on_the_same_point_are_asked_about() {
        let record = levelled(&[(0, "A", "5' 6\""), (0, "C", "5'")]);
        let same = levelled(&[(0, "A", "5' 6\"")]);
        assert!(asked(&same, &booking(Some("0"), "B")).unwrap().contains("A"));
        assert_eq!(asked(&same, &booking(Some("0"), "A")), None, "a second look at the same point");
        assert!(asked(&record, &booking(Some("0"), "C")).is_some());
    }

    // By hand: the second set-up's line is 100 + 5 = 105; C lies at 100 + 4 - 5 = 99, so that 6 is expected.
    #[test]
    fn a_point_known_from_another_set_up_is_held_against_it() {
        let mut record = levelled(&[(0, "A", "4'"), (0, "C", "5'"), (1, "A", "5'")]);
        let mut near = booking(Some("2"), "C");
        assert!(asked(&record, &near).unwrap().contains("6'"));
        near.typed = typed(UnitSystem::FeetInches, &[Key::Digit(6), Key::Feet]);
        assert_eq!(asked(&record, &near), None);
        record.levels.truncate(2);
        assert_eq!(asked(&record, &booking(Some("new"), "C")), None, "nothing is known of the line yet");
    }
}
