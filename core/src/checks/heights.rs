//! What is wrong with the heights, or unproved.

use super::list::{List, few};
use super::words::listed;
use super::{Mend, Weight, answer_to};
use crate::levels::{Closing, LevelFinding, book_pages, setups};
use crate::plan::Ground;
use crate::record::{EntryId, PointId, Record};
use crate::units::{Length, LengthStyle, format_length};

/// Heights that contradict each other, that hang on nothing, or that nothing proves.
pub(super) fn add(list: &mut List, record: &Record, ground: &Ground) {
    let levels = &ground.levels;
    let fine = |length: Length| format_length(length.abs(), LengthStyle::from(record.site.units));
    for finding in &levels.findings {
        match finding {
            LevelFinding::Suspect { point, observed, expected, rivals, .. } => {
                let (label, off) = (record.label(point), fine(*observed - *expected));
                let again = levels.readings.iter().filter(|reading| reading.point == *point).count() > 1;
                let (what, how) = if again {
                    (say!("The level readings of {label} differ by {off}"), "Read it a third time")
                } else {
                    (say!("The level reading of {label} is off by {off} from the others"), "Read it again")
                };
                let of_another = |entry: &&EntryId| {
                    levels.readings.iter().any(|r| r.entry == **entry && r.point != *point)
                };
                let others = match rivals.iter().filter(of_another).count() {
                    0 => String::new(),
                    1 => say!("; another reading may be the wrong one"),
                    n => say!("; {n} other readings may be the wrong one"),
                };
                list.one(suspect(record, point), Weight::Wrong, what, &say!("{how}{others}."), Mend::Levels);
            }
            LevelFinding::Apart { points } => {
                let labels: Vec<&str> = points.iter().map(|point| record.label(point)).collect();
                let key =
                    labels.iter().fold("levelled apart".to_owned(), |key, label| format!("{key} {label}"));
                let (is, have) = if labels.len() == 1 { ("is", "it has") } else { ("are", "they have") };
                let what = say!("{} {is} levelled, but joined to nothing: {have} no height", few(&labels));
                let how = "From one set-up, read one of them and a point that has a height.";
                list.one(key, Weight::Wrong, what, how, Mend::Levels);
            }
            LevelFinding::DatumAssumed { .. } | LevelFinding::MixedUnits { .. } => {}
        }
    }
    let open = open(record, ground);
    if let Some(widest) = open.iter().max_by(|a, b| a.by.abs().metres().total_cmp(&b.by.abs().metres())) {
        let items = open.iter().map(|c| (loop_to(record, c), record.label(&c.point).to_owned())).collect();
        let (by, allowed) = (fine(widest.by), fine(widest.allowed));
        let how = "Run the loop again, or read its turning points from a third set-up.";
        list.many(items, Weight::Wrong, how, Mend::Levels, |names| {
            let one = names.len() == 1;
            let (loops, most) = if one { ("loop", "") } else { ("loops", "at most ") };
            let miss = if one { "misses" } else { "miss" };
            say!(
                "The level {loops} to {} {miss} the close by {most}{by}; chance explains {allowed}",
                listed(names)
            )
        });
    }
    if !levels.readings.is_empty() && levels.redundancy == 0 {
        let what = say!("Nothing proves the heights: no level reading is checked by another");
        let how = match record.bench_mark.as_ref().map(|mark| &mark.point).or_else(|| levels.assumed()) {
            Some(point) => say!("Close on {}: read it once more at the end.", record.label(point)),
            None => say!("Close on the reference: read it once more at the end."),
        };
        list.one("heights unproved".to_owned(), Weight::Better, what, &how, Mend::Levels);
    }
}

/// Whether a level reading is in doubt that nobody answered for: heights that rest on it may be wrong.
pub(super) fn doubtful(record: &Record, ground: &Ground) -> bool {
    let notes = record.notes();
    let stands = |key: String| answer_to(&notes, &key).is_none();
    let suspected = ground.levels.findings.iter().any(|finding| match finding {
        LevelFinding::Suspect { point, .. } => stands(suspect(record, point)),
        _ => false,
    });
    suspected || open(record, ground).iter().any(|closing| stands(loop_to(record, closing)))
}

/// Loops that miss by more than chance, the widest miss of each point; none where a reading is suspected, which says the same more exactly.
fn open(record: &Record, ground: &Ground) -> Vec<Closing> {
    if ground.levels.findings.iter().any(|finding| matches!(finding, LevelFinding::Suspect { .. })) {
        return Vec::new();
    }
    let (_, closings) = book_pages(&setups(record), record.bench_mark.as_ref());
    let mut open: Vec<Closing> = Vec::new();
    for closing in closings.into_iter().filter(|closing| !closing.closes()) {
        match open.iter_mut().find(|known| known.point == closing.point) {
            Some(known) if known.by.abs() < closing.by.abs() => *known = closing,
            Some(_) => {}
            None => open.push(closing),
        }
    }
    open
}

fn suspect(record: &Record, point: &PointId) -> String {
    format!("level reading {}", record.label(point))
}

fn loop_to(record: &Record, closing: &Closing) -> String {
    format!("level loop {}", record.label(&closing.point))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::yard::Yard;

    const EXACT: Length = Length::from_metres(1e-5);

    /// Ground before the front that falls too little, and another set-up that reads T2, H1 and H2 again: T2 so much too
    /// high on the rod, in feet.
    fn twice(off: f64) -> Yard {
        let mut yard = Yard::default();
        yard.house().put("t", "peg", &[(20.0, -10.0), (20.0, -15.0)], &[]);
        yard.levels(&[("H1", 100.0), ("H2", 100.0), ("T2", 99.9)]);
        yard.rods("again", &[("H1", 5.0), ("H2", 5.0), ("T2", 5.1 + off)], EXACT);
        yard
    }

    #[test]
    fn a_suspect_comes_first_and_holds_back_what_rests_on_heights() {
        let clean = twice(0.0);
        assert!(clean.line("level reading").is_none() && clean.concern("wall H1 to H2").is_some());
        let mut yard = twice(1.0);
        let first = yard.list().into_iter().next().unwrap();
        assert_eq!(first.what, "The level readings of T2 differ by 1' 0\"");
        assert_eq!((first.weight, &first.mend), (Weight::Wrong, &Mend::Levels));
        assert_eq!(
            (first.how.as_str(), first.keys[0].as_str()),
            ("Read it a third time.", "level reading T2")
        );
        assert!(yard.concern("wall H1 to H2").is_none() && yard.concern("Water can stand").is_none());
        let held = yard.concern("while a level reading is in doubt").unwrap();
        assert_eq!(held.about, ["house".into()], "the wall's fall is of the house");
        // The walls that were not levelled are missing whatever the readings say.
        assert!(yard.concern("is not known at the wall").is_some());
        // Once somebody answers for the reading, all is told again.
        yard.answer("why", &first, "the peg was moved");
        assert!(yard.concern("wall H1 to H2").is_some() && yard.concern("in doubt").is_none());
    }

    #[test]
    fn what_is_levelled_apart_is_told() {
        let mut yard = twice(0.0);
        yard.point("X1").point("X2").rods("apart", &[("X1", 4.0), ("X2", 5.0)], EXACT);
        let line = yard.line("X1 and X2 are levelled, but joined to nothing").unwrap();
        assert_eq!((line.weight, line.keys[0].as_str()), (Weight::Wrong, "levelled apart X1 X2"));
        // The heights of the others do not hang on them.
        assert!(yard.concern("wall H1 to H2").is_some());
    }

    /// A loop of four readings of 0.01 ft each has a standard deviation of 0.02 ft; chance is taken to explain three of
    /// them, 0.06 ft (11/16 in, written to the sixteenth 3/4).
    #[test]
    fn a_loop_that_misses_its_close_and_one_that_closes() {
        let looped = |miss: f64| {
            let mut yard = Yard::default();
            let sd = Length::from_feet(0.01);
            yard.house().point("T2").rods("out", &[("H1", 5.0), ("T2", 4.0)], sd);
            yard.rods("back", &[("T2", 5.0), ("H1", 6.0 + miss)], sd);
            yard
        };
        assert!(looped(0.059).line("misses the close").is_none());
        let line = looped(0.063)
            .line("The level loop to H1 misses the close by 3/4\"; chance explains 3/4\"")
            .unwrap();
        assert_eq!(
            (line.weight, line.mend, line.keys[0].as_str()),
            (Weight::Wrong, Mend::Levels, "level loop H1")
        );
        assert!(looped(0.0).line("Nothing proves the heights").is_none());
    }

    #[test]
    fn heights_that_nothing_proves_ask_to_close_on_the_reference() {
        let mut yard = Yard::default();
        yard.house().point("T2").rods("out", &[("H1", 5.0), ("T2", 4.0)], EXACT);
        let line = yard.line("Nothing proves the heights").unwrap();
        assert_eq!((line.weight, line.mend), (Weight::Better, Mend::Levels));
        assert!(line.how.starts_with("Close on H1"), "{}", line.how);
        let mut bare = Yard::default();
        assert!(bare.house().line("Nothing proves").is_none());
    }
}
