//! A reading the others do not agree with: what it says, what they say, and what may have happened.

use super::capture::measurement;
use super::{count, list, quantity};
use swingtie_core::network::{
    AdjustedReading, Adjustment, Correction, Doubt, Finding, Quantity, ReadingRole, Slip,
};
use swingtie_core::record::{EntryId, Measurement, PointId, Record, Recorded};
use swingtie_core::units::format::format_number;
use swingtie_core::units::{Length, sort_by};

/// A reading accused, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubted {
    /// The entry.
    pub entry: EntryId,
    /// Which row of it.
    pub part: usize,
    /// Its points.
    pub points: Vec<PointId>,
    /// Its two points in one order, where it is the length between them: a repeat has the same.
    pub pair: Option<[PointId; 2]>,
    /// As read: `19' 5"`.
    pub value: String,
    /// `T3 from H6 reads 19' 5"`.
    pub reads: String,
    /// `The others say 16' 5"`.
    pub others: String,
    /// What may have happened: `A 9 for a 6?`.
    pub why: Option<String>,
    /// What the likeliest slip would have it say: the words on its button, and what goes into the book.
    pub correction: Option<(String, Vec<Correction>)>,
    /// For who wants the figures.
    pub figures: String,
}

/// Readings of which one is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction {
    /// The suspect first, then those that could as well be wrong.
    pub readings: Vec<Doubted>,
    /// What to make of it.
    pub told: String,
}

/// Readings of a contradiction between the same two points, or one alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// `T3 from H6 reads 19' 5" and 16' 5"`.
    pub reads: String,
    /// The readings.
    pub readings: Vec<Doubted>,
}

impl Contradiction {
    /// The likeliest misread.
    #[must_use]
    pub fn likeliest(&self) -> Option<&Doubted> {
        self.readings.first()
    }

    /// Its readings, repeats beside each other.
    #[must_use]
    pub fn together(&self) -> Vec<Together> {
        let mut groups: Vec<Together> = Vec::new();
        for one in &self.readings {
            let repeat = |group: &&mut Together| {
                one.pair.is_some() && group.readings.first().is_some_and(|first| first.pair == one.pair)
            };
            match groups.iter_mut().find(repeat) {
                Some(group) => {
                    group.reads = say!("{} and {}", group.reads, one.value);
                    group.readings.push(one.clone());
                }
                None => groups.push(Together { reads: one.reads.clone(), readings: vec![one.clone()] }),
            }
        }
        groups
    }
}

/// Everything that contradicts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doubts {
    /// In the order found.
    pub found: Vec<Contradiction>,
    /// In one line, for where there is no room for more.
    pub short: Option<String>,
}

impl Doubts {
    /// What contradicts in this record.
    #[must_use]
    pub fn of(record: &Record, adjustment: &Adjustment) -> Self {
        let found = contradictions(record, adjustment);
        Self { short: contradictions_short(&found), found }
    }

    /// The likeliest misreads, one for each contradiction.
    pub fn likeliest(&self) -> impl Iterator<Item = &Doubted> {
        self.found.iter().filter_map(Contradiction::likeliest)
    }
}

/// What contradicts, in the order found.
#[must_use]
pub fn contradictions(record: &Record, adjustment: &Adjustment) -> Vec<Contradiction> {
    let one = |finding: &Finding| {
        let Finding::Suspect { entry, part, standardised, doubt, rivals } = finding else { return None };
        let alone = rivals.is_empty();
        let say =
            |entry: &EntryId, part, w, doubt| doubted(record, adjustment, (entry, part), w, doubt, alone);
        let first = say(entry, *part, *standardised, doubt);
        let others = rivals.iter().map(|r| say(&r.entry, r.part, r.standardised, &r.doubt));
        let readings: Vec<Doubted> = std::iter::once(first).chain(others).collect();
        let told = match readings.len() {
            1 => say!("It alone does not fit."),
            2 => say!("These two contradict each other. One more tape tells which is wrong."),
            n => say!("One of these {n} is wrong. One more tape tells which."),
        };
        let told = match kept_beside(record, &readings) {
            Some(kept) => {
                say!("You kept {kept}. Then one of these is wrong; or the kept one is after all.")
            }
            None => told,
        };
        Some(Contradiction { readings, told })
    };
    let mut found: Vec<Contradiction> = Vec::new();
    for new in adjustment.findings.iter().filter_map(one) {
        // The same line misread twice is one matter.
        let pair = |c: &Contradiction| c.likeliest().filter(|_| c.readings.len() == 1)?.pair.clone();
        let repeat = |old: &&mut Contradiction| {
            let first = old.likeliest().and_then(|first| first.pair.as_ref());
            first.is_some() && first == pair(&new).as_ref()
        };
        match found.iter_mut().find(repeat) {
            Some(old) => {
                old.readings.extend(new.readings);
                old.told = say!("Neither fits the others.");
            }
            None => found.push(new),
        }
    }
    found
}

/// The points of the readings most likely misread, by the findings alone.
#[must_use]
pub fn questioned(adjustment: &Adjustment) -> Vec<&PointId> {
    let suspect = |finding: &Finding, reading: &AdjustedReading| match finding {
        Finding::Suspect { entry, part, doubt, .. } => {
            reading.entry == *entry && reading.part == *part && reading.role == doubt.role
        }
        _ => false,
    };
    let asked = |r: &&AdjustedReading| adjustment.findings.iter().any(|finding| suspect(finding, r));
    adjustment.readings.iter().filter(asked).flat_map(|r| &r.points).collect()
}

/// What is said of a disputed point: its own reading in question, or the reading it waits for; none where
/// there is nothing to name.
#[must_use]
pub fn waits(point: &PointId, record: &Record, found: &[Contradiction]) -> Option<String> {
    let asked = |c: &&Contradiction| c.likeliest().is_some_and(|first| first.points.contains(point));
    if let Some(first) = found.iter().find(asked).and_then(Contradiction::likeliest) {
        return Some(say!("In question: {}. {}.", first.reads, first.others));
    }
    let rival = |c: &&Contradiction| c.readings.iter().any(|r| r.points.contains(point));
    let first = found.iter().find(rival).or(found.first())?.likeliest()?;
    let name = match &first.pair {
        Some([a, b]) => say!("{}–{}, {}", record.label(a), record.label(b), first.value),
        None => first.reads.clone(),
    };
    Some(match found.iter().find(rival) {
        Some(_) => say!("Waits for {name}: if that is right, a reading of this point is wrong."),
        None => say!("Waits for {name}: once that is settled, this point stands right again."),
    })
}

/// A reading of the same points that the user kept.
fn kept_beside(record: &Record, readings: &[Doubted]) -> Option<String> {
    let speaks =
        |what: &Measurement| readings.iter().any(|r| r.points.iter().any(|p| what.points().contains(&p)));
    let kept = |m: &&Recorded<Measurement>| record.kept.iter().any(|((entry, _), ())| *entry == m.entry);
    let found = record.measurements.iter().filter(kept).find(|m| speaks(&m.what))?;
    Some(measurement(&found.what, record))
}

/// Every contradiction in one line, for where there is no room for more.
fn contradictions_short(found: &[Contradiction]) -> Option<String> {
    let all = &found.first()?.readings;
    let first = all.first()?;
    Some(match found.len() {
        1 if all.len() > 1 && first.pair.is_some() && all.iter().all(|r| r.pair == first.pair) => {
            let both = found.first()?.together().into_iter().next()?.reads;
            let others = if all.len() == 2 { "They contradict each other." } else { "One is wrong." };
            say!("{both}. {others}")
        }
        1 if all.len() == 2 => {
            let two: Vec<String> = all.iter().map(|r| r.reads.clone()).collect();
            say!("These contradict each other: {}", list(&two))
        }
        1 => {
            let one_of = match all.len() {
                1 => String::new(),
                n => say!("One of {n} readings is wrong, perhaps this: "),
            };
            let why = first.why.as_deref().unwrap_or_default();
            say!("{one_of}{}. {}. {why}", first.reads, first.others).trim_end().to_owned()
        }
        n => say!("{} do not agree with the others", count(n, "reading", "readings")),
    })
}

fn doubted(
    record: &Record,
    adjustment: &Adjustment,
    (entry, part): (&EntryId, usize),
    standardised: f64,
    doubt: &Doubt,
    alone: bool,
) -> Doubted {
    let units = record.site.units;
    let reading =
        adjustment.readings.iter().find(|r| r.entry == *entry && r.part == part && r.role == doubt.role);
    let points = reading.map(|r: &AdjustedReading| r.points.clone()).unwrap_or_default();
    let (observed, expected) = (quantity(doubt.observed, units), quantity(doubt.expected, units));
    let cause = doubt.causes.first();
    let pair = match (doubt.role, points.as_slice()) {
        (ReadingRole::Tie | ReadingRole::Wall, [a, b]) if a <= b => Some([a.clone(), b.clone()]),
        (ReadingRole::Tie | ReadingRole::Wall, [a, b]) => Some([b.clone(), a.clone()]),
        _ => None,
    };
    Doubted {
        entry: entry.clone(),
        part,
        reads: reads(doubt.role, &points, &observed, record),
        value: observed,
        pair,
        others: others(doubt, alone, &expected),
        why: cause.map(|cause| happened(&cause.slip, record)),
        correction: cause.filter(|c| !c.corrections.is_empty()).map(|cause| {
            let words = match &cause.reading {
                Some(reading) => say!("Correct to {}", reading.text),
                None => say!("Correct it so"),
            };
            (words, cause.corrections.clone())
        }),
        figures: say!(
            "Standardised difference {}. The others' value has a standard deviation of {}.",
            format_number(standardised, 1),
            quantity(doubt.expected_sd, units)
        ),
        points,
    }
}

/// What a reading says of its points, as a clause.
fn reads(role: ReadingRole, points: &[PointId], value: &str, record: &Record) -> String {
    let names: Vec<&str> = points.iter().map(|p| record.label(p)).collect();
    let all = || list(&names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>());
    match (role, names.as_slice()) {
        (ReadingRole::Tie | ReadingRole::Wall | ReadingRole::Bearing, [from, to, ..]) => {
            say!("{to} from {from} reads {value}")
        }
        (ReadingRole::Run, [zero, .., at]) => say!("{at} on the tape from {zero} reads {value}"),
        (ReadingRole::Station, [from, to, at]) => say!("{at} along {from} to {to} reads {value}"),
        (ReadingRole::Offset, [from, to, at]) => say!("{at} out from {from} to {to} reads {value}"),
        (ReadingRole::Square, [.., corner]) => say!("{corner} is said to be square"),
        (ReadingRole::OnRun | ReadingRole::InLine, [.., at]) => say!("{at} is said to stand on the line"),
        (ReadingRole::Angle, _) => say!("The angle at {} reads {value}", all()),
        (ReadingRole::Parallel, [a, b, c, d]) => say!("{a}–{b} is said to be parallel to {c}–{d}"),
        (ReadingRole::SameLength, [a, b, c, d]) => say!("{a}–{b} is said to be as long as {c}–{d}"),
        _ => say!("{} reads {value}", all()),
    }
}

/// What the others make of it.
fn others(doubt: &Doubt, alone: bool, expected: &str) -> String {
    match (doubt.role, doubt.expected) {
        (ReadingRole::OnRun | ReadingRole::InLine | ReadingRole::SameLength, Quantity::Length(_))
        | (ReadingRole::Parallel, _) => say!("The others say {expected} off"),
        _ if alone => say!("The others say {expected}"),
        _ => say!("Without it they say {expected}"),
    }
}

/// What may have happened, as a question.
#[must_use]
pub fn happened(slip: &Slip, record: &Record) -> String {
    match slip {
        Slip::LookAlike { written, meant } => say!("A {written} for a {meant}?"),
        Slip::Transposed => say!("Two figures in each other's place?"),
        Slip::OneFoot => say!("One foot off?"),
        Slip::TenFeet => say!("Ten feet off?"),
        Slip::OneMetre => say!("One metre off?"),
        Slip::OneInch => say!("One inch off?"),
        Slip::TenCentimetres => say!("Ten centimetres off?"),
        Slip::Point => say!("The point in the wrong place?"),
        Slip::OtherUnit => say!("Feet for metres, the tape's other edge?"),
        Slip::InchesAsTenths => say!("Inches written as tenths of a foot?"),
        Slip::TenthsAsInches => say!("Tenths of a foot written as inches?"),
        Slip::OtherEnd => say!("Read from the other end?"),
        Slip::OtherCorner => say!("The whole tape laid from the other end?"),
        Slip::OtherSide => say!("Left and right swapped?"),
        Slip::Swapped { entry, .. } => match record.measurements.iter().find(|m| m.entry == *entry) {
            Some(other) => say!("Swapped with {}?", measurement(&other.what, record)),
            None => say!("Swapped with another reading?"),
        },
        Slip::OtherPoint { point } => say!("Taped to {} instead?", record.label(point)),
        Slip::Zero { off } => {
            say!("The tape's zero {} off, a hook or a ring?", super::length(off.abs(), record.site.units))
        }
    }
}

/// From which size on a misread would show in a point's readings that the others check: in the best of
/// them, and in the weakest.
#[must_use]
pub fn would_show(point: &PointId, record: &Record, adjustment: &Adjustment) -> Option<String> {
    let mine = adjustment.readings.iter().filter(|r| r.points.contains(point));
    let sizes = mine.filter_map(|r| match r.smallest_detectable {
        Some(Quantity::Length(size)) => Some(size),
        _ => None,
    });
    let mut sizes: Vec<Length> = sizes.collect();
    sort_by(&mut sizes, |a, b| a.metres().total_cmp(&b.metres()));
    let (least, most) = (*sizes.first()?, *sizes.last()?);
    let say = |size| super::capture::rounded_up(size, record.site.units);
    Some(say!(
        "Of its readings, the best checked would show a misread of {}, the weakest of {}.",
        say(least),
        say(most)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::network::{Cause, Rival};
    use swingtie_core::record::{How, Measurement, Point, Reading, Recorded, Site, TapedTo, UnitSystem};
    use swingtie_core::units::BareUnit;

    fn yard() -> Record {
        let point = |id: &str| Point { id: id.into(), label: id.to_uppercase(), note: String::new() };
        let reading = Reading::read("19' 5\"", BareUnit::Feet).unwrap();
        let tie = Measurement::Tie {
            from: "h6".into(),
            to: "t3".into(),
            reading,
            side: None,
            taped_to: TapedTo::Middle,
            how: How::default(),
        };
        Record {
            site: Site { units: UnitSystem::FeetInches, ..Site::default() },
            points: vec![point("h6"), point("t3")],
            measurements: vec![Recorded { entry: "e".into(), author: "a".into(), at_ms: 0, what: tie }],
            ..Record::default()
        }
    }

    fn doubt() -> Doubt {
        let length = |text: &str| Quantity::Length(Reading::read(text, BareUnit::Feet).unwrap().value);
        let cause = Cause {
            slip: Slip::LookAlike { written: '9', meant: '6' },
            reading: Some(Reading::read("16' 5\"", BareUnit::Feet).unwrap()),
            corrections: vec![Correction { entry: "e".into(), now: yard().measurements[0].what.clone() }],
        };
        Doubt {
            role: ReadingRole::Tie,
            observed: length("19' 5\""),
            expected: length("16' 5\""),
            expected_sd: length("1\""),
            causes: vec![cause],
        }
    }

    fn adjusted(rivals: Vec<Rival>) -> Adjustment {
        let quantity = doubt().observed;
        let reading = AdjustedReading {
            entry: "e".into(),
            part: 0,
            role: ReadingRole::Tie,
            points: vec!["h6".into(), "t3".into()],
            observed: quantity,
            adjusted: Some(quantity),
            residual: Some(quantity),
            sd: quantity,
            redundancy: Some(0.5),
            standardised: Some(-20.0),
            smallest_detectable: Some(Quantity::Length(Length::from_inches(6.3))),
        };
        let suspect =
            Finding::Suspect { entry: "e".into(), part: 0, standardised: -20.0, doubt: doubt(), rivals };
        Adjustment { readings: vec![reading], findings: vec![suspect], ..Adjustment::default() }
    }

    #[test]
    fn a_misread_is_said_with_what_the_others_say_and_what_may_have_happened() {
        let found = contradictions(&yard(), &adjusted(Vec::new()));
        let [Contradiction { readings, .. }] = found.as_slice() else { panic!("{found:?}") };
        let [one] = readings.as_slice() else { panic!("{readings:?}") };
        assert_eq!(one.reads, "T3 from H6 reads 19' 5\"");
        assert_eq!(one.others, "The others say 16' 5\"");
        assert_eq!(one.why.as_deref(), Some("A 9 for a 6?"));
        assert_eq!(one.correction.as_ref().unwrap().0, "Correct to 16' 5\"");
        let short = contradictions_short(&found).unwrap();
        assert_eq!(short, "T3 from H6 reads 19' 5\". The others say 16' 5\". A 9 for a 6?");
    }

    #[test]
    fn two_that_contradict_ask_for_a_third() {
        let rival = Rival { entry: "e".into(), part: 0, standardised: 19.0, doubt: doubt() };
        let found = contradictions(&yard(), &adjusted(vec![rival]));
        assert!(found[0].told.contains("One more tape"), "{}", found[0].told);
        assert_eq!(found[0].readings.len(), 2);
    }

    #[test]
    fn tapes_of_the_same_line_are_said_together() {
        let rival = Rival { entry: "e".into(), part: 0, standardised: 19.0, doubt: doubt() };
        let found = contradictions(&yard(), &adjusted(vec![rival]));
        let together = found[0].together();
        assert_eq!(together.len(), 1, "{together:?}");
        assert_eq!(together[0].reads, "T3 from H6 reads 19' 5\" and 19' 5\"");
        assert_eq!(together[0].readings.len(), 2);
        let short = contradictions_short(&found).unwrap();
        assert_eq!(short, "T3 from H6 reads 19' 5\" and 19' 5\". They contradict each other.");
    }

    #[test]
    fn a_line_misread_twice_is_one_matter() {
        let mut adjusted = adjusted(Vec::new());
        let again = adjusted.findings.first().cloned();
        adjusted.findings.extend(again);
        let found = contradictions(&yard(), &adjusted);
        assert_eq!((found.len(), found[0].readings.len()), (1, 2), "{found:?}");
    }

    #[test]
    fn a_point_in_dispute_names_the_reading_it_waits_for() {
        let (record, adjusted) = (yard(), adjusted(Vec::new()));
        let found = contradictions(&record, &adjusted);
        assert_eq!(questioned(&adjusted), ["h6", "t3"].map(PointId::from).iter().collect::<Vec<_>>());
        let said = waits(&"t3".into(), &record, &found).unwrap();
        assert_eq!(said, "In question: T3 from H6 reads 19' 5\". The others say 16' 5\".");
        let said = waits(&"b".into(), &record, &found).unwrap();
        assert!(said.starts_with("Waits for H6–T3, 19' 5\":"), "{said}");
        assert_eq!(waits(&"b".into(), &record, &[]), None);
    }

    #[test]
    fn a_checked_point_says_what_would_show() {
        let said = would_show(&"t3".into(), &yard(), &adjusted(Vec::new()));
        assert_eq!(
            said.as_deref(),
            Some(
                "Of its readings, the best checked would show a misread of 7 inches, the weakest of 7 inches."
            )
        );
        assert_eq!(would_show(&"x".into(), &yard(), &adjusted(Vec::new())), None);
    }
}
