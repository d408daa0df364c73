//! Misreads of the usual sorts, and of any size, in yards from a seed: is the reading that was spoilt
//! named first, and is what happened told? The slips are made here anew, not taken from the product.

use swingtie_core::network::{AdjustedReading, Adjustment, Finding, Quantity, ReadingRole, Slip, adjust};
use swingtie_core::record::{EntryId, Measurement, Reading};
use swingtie_core::units::{BareUnit, Length, METRES_PER_FOOT, read_length};
use swingtie_tests::dice::Dice;
use swingtie_tests::taped::{Yard, read, written};
use swingtie_tests::yard as invented;
use swingtie_tests::yard::{Slot, Spot};

/// What was done to a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Done {
    Foot,
    TenFeet,
    Digit,
    Transposed,
    Tenths,
    OtherEnd,
    OtherSide,
    Swapped,
    Chance,
}

const ALL: [Done; 9] = [
    Done::Foot,
    Done::TenFeet,
    Done::Digit,
    Done::Transposed,
    Done::Tenths,
    Done::OtherEnd,
    Done::OtherSide,
    Done::Swapped,
    Done::Chance,
];

struct Spoilt {
    what: Vec<Measurement>,
    /// Entry number, part and role of what was spoilt.
    at: Vec<(usize, usize, ReadingRole)>,
}

fn metres(q: Quantity) -> f64 {
    match q {
        Quantity::Length(l) => l.metres(),
        Quantity::Angle(a) => a.radians(),
    }
}

fn reading(m: &mut Measurement, part: usize, role: ReadingRole) -> &mut Reading {
    match m {
        Measurement::Tie { reading, .. } => reading,
        Measurement::Run { readings, .. } => &mut readings[part].reading,
        Measurement::Walk { legs, .. } => legs[part].length.as_mut().expect("taped"),
        Measurement::Offsets { rows, .. } => {
            let row = &mut rows[part];
            if role == ReadingRole::Station { &mut row.station } else { &mut row.offset }
        }
        _ => panic!("no reading"),
    }
}

/// Spoils the reading in one way, where that way fits it.
fn spoil(yard: &Yard, dice: &mut Dice, r: &AdjustedReading, done: Done) -> Option<Spoilt> {
    let number: usize = r.entry.as_str()[1..].parse().expect("our entries");
    let mut what = yard.taken.clone();
    let mut at = vec![(number, r.part, r.role)];
    let old = reading(&mut what[number], r.part, r.role).clone();
    let sign = if dice.unit() < 0.5 { -1.0 } else { 1.0 };
    let feet = |by: f64| written(old.value.metres() + Length::from_feet(by).metres());
    let text = |new: String| {
        let value = read_length(&new, BareUnit::Feet).ok().filter(|v| *v != old.value);
        value.map(|_| read(&new))
    };
    let signs: Vec<char> = old.text.chars().collect();
    let new = match done {
        Done::Foot => feet(sign),
        Done::TenFeet => feet(10.0 * sign),
        Done::Digit => {
            let alike = |c: char| "69173".find(c).and_then(|i| "96718".chars().nth(i));
            let can: Vec<usize> = (0..signs.len()).filter(|&i| alike(signs[i]).is_some()).collect();
            let i = *can.get(dice.below(can.len().max(1)))?;
            let mut new = signs.clone();
            new[i] = alike(signs[i])?;
            text(new.into_iter().collect())?
        }
        Done::Transposed => {
            let digit = |i: usize| signs.get(i).is_some_and(char::is_ascii_digit);
            let can: Vec<usize> = (0..signs.len()).filter(|&i| digit(i) && digit(i + 1)).collect();
            let i = *can.get(dice.below(can.len().max(1)))?;
            let mut new = signs.clone();
            new.swap(i, i + 1);
            text(new.into_iter().collect())?
        }
        Done::Tenths => {
            let inches = old.value.inches().round();
            let (feet, inches) = ((inches / 12.0).floor(), inches % 12.0);
            // A whole number of inches was read, and written behind a point.
            let honest = (old.value.inches() - old.value.inches().round()).abs() < 0.2;
            (honest && inches < 10.0).then(|| read(&format!("{feet}.{inches} ft")))?
        }
        Done::OtherEnd => {
            let Measurement::Run { zero, toward, .. } = &what[number] else { return None };
            let total = yard.far(zero, toward);
            (r.points.len() == 3).then(|| written(total - old.value.metres()))?
        }
        Done::OtherSide => {
            let Measurement::Offsets { rows, .. } = &mut what[number] else { return None };
            rows[r.part].side = rows[r.part].side.other();
            return (r.role == ReadingRole::Offset).then_some(Spoilt { what, at });
        }
        Done::Swapped => {
            let other = (number + 1, 0, ReadingRole::Tie);
            let (Measurement::Tie { to, .. }, Some(Measurement::Tie { to: next, .. })) =
                (&what[number], what.get(number + 1))
            else {
                return None;
            };
            if to != next {
                return None;
            }
            let theirs = reading(&mut what[number + 1], 0, ReadingRole::Tie).clone();
            *reading(&mut what[number + 1], 0, ReadingRole::Tie) = old;
            at.push(other);
            theirs
        }
        Done::Chance => written(old.value.metres() + sign * dice.between(0.15, 3.0)),
    };
    if new.value.metres() < 0.1 {
        return None;
    }
    *reading(&mut what[number], r.part, r.role) = new;
    Some(Spoilt { what, at })
}

fn role_of(yard: &Adjustment, at: (usize, usize, ReadingRole)) -> Option<&AdjustedReading> {
    yard.readings
        .iter()
        .find(|r| r.entry == EntryId(format!("e{}", at.0)) && r.part == at.1 && r.role == at.2)
}

/// Whether every spoilt reading was changed by more than the clean yard said would show.
fn shows(clean: &Adjustment, spoilt: &Adjustment, at: &[(usize, usize, ReadingRole)]) -> bool {
    at.iter().all(|&at| {
        let (Some(a), Some(b)) = (role_of(clean, at), role_of(spoilt, at)) else { return false };
        let by = (metres(a.observed) - metres(b.observed)).abs();
        a.smallest_detectable.is_some_and(|d| by > metres(d)) && a.redundancy.is_some_and(|r| r > 0.02)
    })
}

fn explains(slip: &Slip, done: Done) -> bool {
    match done {
        Done::Foot => *slip == Slip::OneFoot,
        Done::TenFeet => *slip == Slip::TenFeet,
        Done::Digit => matches!(slip, Slip::LookAlike { .. }),
        Done::Transposed => *slip == Slip::Transposed,
        Done::Tenths => *slip == Slip::InchesAsTenths,
        Done::OtherEnd => *slip == Slip::OtherEnd,
        Done::OtherSide => *slip == Slip::OtherSide,
        Done::Swapped => matches!(slip, Slip::Swapped { .. }),
        Done::Chance => false,
    }
}

/// Bars of the project: of the misreads larger than the smallest that should show, 95 % named first
/// and 80 % of the usual ones explained; of the readings of clean yards no more than 1 % accused.
#[test]
fn misreads_are_named_first_and_explained() {
    let (mut named, mut one, mut explained, mut usual) = (0, 0, 0, 0);
    let (mut accused, mut clean_readings) = (0, 0);
    let mut table = std::collections::BTreeMap::new();
    for seed in 0..40 {
        let yard = Yard::new(seed, 14, 8, 0.5);
        let record = yard.record();
        let clean = adjust(&record);
        accused += clean.findings.len();
        clean_readings += clean.readings.len();
        let mut dice = Dice::new(8, seed);
        for done in ALL {
            let turn = (0..40).find_map(|_| {
                let r = &clean.readings[dice.below(clean.readings.len())];
                let kind = matches!(
                    r.role,
                    ReadingRole::Tie
                        | ReadingRole::Run
                        | ReadingRole::Wall
                        | ReadingRole::Station
                        | ReadingRole::Offset
                );
                let spoilt = kind.then(|| spoil(&yard, &mut dice, r, done)).flatten()?;
                let mut bad = yard.clone();
                bad.taken = spoilt.what;
                let result = adjust(&bad.record());
                shows(&clean, &result, &spoilt.at).then_some((spoilt.at, result))
            });
            let Some((at, result)) = turn else { continue };
            let row: &mut [i32; 3] = table.entry(done).or_default();
            row[0] += 1;
            usual += i32::from(done != Done::Chance);
            let first = result.findings.iter().find_map(|f| match f {
                Finding::Suspect { entry, part, doubt, rivals, .. } => Some((entry, *part, doubt, rivals)),
                _ => None,
            });
            let hit = first.is_some_and(|(entry, part, doubt, _)| {
                at.iter().any(|&(n, p, role)| {
                    *entry == EntryId(format!("e{n}")) && part == p && role == doubt.role
                })
            });
            // Two readings swapped are two misreads: whether they are explained is counted, not the first name.
            one += i32::from(done != Done::Swapped);
            if !hit {
                println!("seed {seed} {done:?} {at:?}: {:?}", first.map(|(e, p, d, _)| (e, p, d.role)));
                continue;
            }
            named += i32::from(done != Done::Swapped);
            row[1] += 1;
            let slip = first.and_then(|(.., doubt, _)| doubt.causes.first());
            let told = slip.is_some_and(|c| explains(&c.slip, done));
            explained += i32::from(told);
            row[2] += i32::from(told);
        }
    }
    for (done, [all, named, explained]) in &table {
        println!("{done:?}: {all} misreads, {named} named first, {explained} explained");
    }
    println!(
        "{named} of {one} named first, {explained} of {usual} explained, {accused} of {clean_readings} clean readings accused"
    );
    assert!(one > 200, "{one}");
    assert!(100 * named >= 95 * one, "{named} of {one} named first");
    assert!(100 * explained >= 80 * usual, "{explained} of {usual} explained");
    assert!(100 * accused <= clean_readings, "{accused} of {clean_readings} clean readings accused");
}

/// A point in the wrong place, feet for metres, or any: they twist the whole plan, and must be all that is said. The
/// truth is that of the invented yard. Bars of the project: 95 of 100 named first or as the equal of the first, 90 of
/// 100 the only finding, and of those that left the figures as they were 80 of 100 explained.
#[test]
fn a_misread_of_many_metres_is_the_only_finding() {
    let (mut all, mut named, mut alone, mut usual, mut explained) = (0, 0, 0, 0, 0);
    let mut dice = Dice::new(19, 1);
    for seed in 1..=60 {
        let mut yard = invented::Yard::new(20 + dice.below(60), seed);
        let ties: Vec<Slot> = yard.slots().into_iter().filter(|slot| slot.spot == Spot::Tie).collect();
        let slot = ties[dice.below(ties.len())];
        let right = yard.value(slot);
        let (error, slip) = match seed % 3 {
            0 => (-0.9 * right, Some(Slip::Point)),
            1 => ((1.0 / METRES_PER_FOOT - 1.0) * right, Some(Slip::OtherUnit)),
            _ => (dice.between(5.0, 40.0), None),
        };
        yard.spoil(slot, error);
        let found = adjust(&yard.record(Default::default())).findings;
        all += 1;
        usual += i32::from(slip.is_some());
        let entry = EntryId(format!("M{}", slot.measurement));
        let Some(Finding::Suspect { entry: first, doubt, rivals, .. }) = found.first() else {
            println!("seed {seed}: {right:.2} m {error:+.2} m: {found:?}");
            continue;
        };
        let mine = if *first == entry {
            Some(doubt)
        } else {
            rivals.iter().find(|r| r.entry == entry).map(|r| &r.doubt)
        };
        named += i32::from(mine.is_some());
        alone += i32::from(mine.is_some() && found.len() == 1);
        let cause = mine.and_then(|doubt| doubt.causes.first());
        explained += i32::from(slip.is_some() && cause.map(|cause| &cause.slip) == slip.as_ref());
    }
    println!("{named} of {all} named, {alone} alone, {explained} of {usual} explained");
    assert!(100 * named >= 95 * all, "{named} of {all} named");
    assert!(100 * alone >= 90 * all, "{alone} of {all} the only finding");
    assert!(100 * explained >= 80 * usual, "{explained} of {usual} explained");
}
