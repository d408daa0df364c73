//! Thousands of packages spoilt by chance, the same in every run: nothing panics, nothing takes more memory than the
//! limits allow, and what is taken in all the same is what was written.
//!
//! `tests/fuzz` looks for more with a fuzzer, by hand.

use crate::{alone, memory};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};
use swingtie_core::book::{Book, fold};
use swingtie_core::package::{ABOUT, BOOK, CHECKSUMS, Trouble, Writer};
use swingtie_tests::dice::Dice;
use swingtie_tests::hostile;
use swingtie_tests::package::{Sample, TakenIn, about, sum, take_in_bytes};

/// What a spoilt package of some kilobytes may take at once: what reading one takes (buffers, the unpacker's state), and
/// the book.
const MOST_MEMORY: usize = 4 * 1024 * 1024;
/// All of it takes seconds; one of it, were it to hang, longer.
const LONGEST: Duration = Duration::from_secs(5);

/// Two short books: a hostile one, and the first lines of the other.
fn samples() -> [Sample; 2] {
    let lines = hostile::book(0).to_json_lines();
    let some = |from: usize, to: usize| -> Book {
        let lines: Vec<&str> = lines.lines().skip(from).take(to - from).collect();
        let (book, errors) = Book::from_json_lines(&lines.join("\n"));
        assert_eq!((errors.len(), book.len()), (0, to - from));
        book
    };
    [Sample::of(some(0, 12), &[700, 0]), Sample::of(some(12, 20), &[300])]
}

/// What is taken in, within the memory allowed.
fn taken_in(bytes: &[u8]) -> Result<TakenIn, Trouble> {
    let started = Instant::now();
    let (taken, peak) = memory(|| take_in_bytes(bytes));
    assert!(peak < MOST_MEMORY, "{peak} bytes of memory");
    assert!(started.elapsed() < LONGEST, "{:?}", started.elapsed());
    if let Err(why) = &taken {
        let words = why.to_string();
        assert!(words.ends_with(['.', ')']) || matches!(why, Trouble::Lines(_)), "{words}");
    }
    taken
}

/// Numbers at the edges of what fields of two, four and eight bytes hold.
const EDGES: [u64; 9] = [0, 1, 0x7f, 0xffff, 0x8000, 0xffff_ffff, 0x7fff_ffff, u64::MAX, u64::MAX - 40];

/// Where the zip file's own records stand: `PK` and two bytes.
fn records(bytes: &[u8]) -> Vec<usize> {
    (0..bytes.len()).filter(|at| bytes[*at..].starts_with(b"PK")).collect()
}

/// Spoils it once, in one of many ways.
fn spoil(bytes: &mut Vec<u8>, other: &[u8], dice: &mut Dice) {
    if bytes.is_empty() {
        return;
    }
    let at = dice.below(bytes.len());
    let long = 1 + dice.below(1 + (bytes.len() - at - 1).min(200));
    match dice.below(8) {
        0 => bytes[at] ^= 1 << dice.below(8),
        1 => bytes[at] = dice.below(256) as u8,
        2 => bytes.truncate(at),
        3 => drop(bytes.drain(at..at + long)),
        4 => {
            let from = dice.below(other.len());
            let piece = other[from..(from + long).min(other.len())].to_vec();
            let end = (at + dice.below(2) * piece.len()).min(bytes.len());
            drop(bytes.splice(at..end, piece));
        }
        5 => {
            let piece = bytes[at..at + long].to_vec();
            let to = dice.below(bytes.len());
            drop(bytes.splice(to..to, piece));
        }
        // A field of a header: the most of an evil file.
        _ => {
            let records = records(bytes);
            if records.is_empty() {
                return;
            }
            // The last records more often: the directory is what is believed.
            let record =
                records[records.len() - 1 - dice.below(records.len()).min(dice.below(records.len()))];
            let (field, wide) = (4 + dice.below(44), [2, 4, 8][dice.below(3)]);
            let edge = EDGES[dice.below(EDGES.len())].to_le_bytes();
            for (step, byte) in edge.iter().take(wide).enumerate() {
                if let Some(place) = bytes.get_mut(record + field + step) {
                    *place = *byte;
                }
            }
        }
    }
}

/// The fuzzer's seeds are what is written today. After a change of the form: run with `UPDATE_SNAPSHOTS=1`.
#[test]
fn the_fuzzers_seeds_are_packages() {
    let _alone = alone();
    let [one, other] = samples();
    let texts = format!("T{}\n---\n{}", serde_json::to_string(&about()).unwrap(), one.book.to_json_lines());
    for (name, bytes) in [("one.zip", one.small()), ("other.zip", other.small()), ("texts", texts.into())] {
        let seed = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/seeds/package").join(name);
        if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
            std::fs::write(&seed, &bytes).unwrap();
        }
        assert!(std::fs::read(&seed).unwrap() == bytes, "{name} is another");
        assert!(bytes.len() < 10_000, "{name}: {} bytes", bytes.len());
    }
}

#[test]
fn spoilt_anyhow_it_is_refused_or_the_same() {
    let _alone = alone();
    let samples = samples();
    let written = [&samples[0], &samples[1]].map(Sample::small);
    let whole = [0, 1].map(|n| taken_in(&written[n]).expect("whole"));
    let mut dice = Dice::new(32, 1);
    let (mut refused, mut same, mut without) = (BTreeMap::<String, usize>::new(), 0, 0);
    for _ in 0..12_000 {
        let first = dice.below(2);
        let mut bytes = written[first].clone();
        for _ in 0..1 + dice.below(4) {
            spoil(&mut bytes, &written[1 - first], &mut dice);
        }
        match taken_in(&bytes) {
            Ok((book, pictures, damaged)) => {
                let (wanted, all, _) = &whole[first];
                assert_eq!(&book, wanted, "another book is taken in");
                // A picture whose name was spoilt is one fewer; the others are whole.
                for (id, (full, small)) in &pictures {
                    let (wanted, least) = all.get(id).copied().unwrap_or((0, u64::MAX));
                    let known = (*full == wanted || *full == 0) && (*small == least || *small == 0);
                    assert!(known || !all.contains_key(id) && *full == 0, "{id:?} {full} {small}");
                }
                same += 1;
                without += usize::from(!damaged.is_empty());
            }
            Err(why) => {
                let words = format!("{why:?}");
                let kind = words.split(['(', ' ']).next().unwrap_or_default().to_owned();
                *refused.entry(kind).or_default() += 1;
            }
        }
    }
    println!("the same: {same}, of which without a picture: {without}; refused: {refused:?}");
    // By chance the spoiling goes to every guard.
    for kind in ["NoDirectory", "Damaged", "NoBook", "Method", "TooLarge", "Size", "Sum", "NoName", "TooMany"]
    {
        assert!(refused.contains_key(kind), "{kind} of {refused:?}");
    }
    assert!(same > 100 && without > 20, "{same}, {without}");
}

fn packed(texts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = Writer::new(Vec::new(), 0);
    for (name, bytes) in texts {
        writer.add(name, bytes).unwrap();
    }
    writer.finish().unwrap()
}

/// The same within the files, packed with the right sums of the zip file: what a person with a text editor can do.
#[test]
fn texts_spoilt_within_are_refused_or_a_book() {
    let _alone = alone();
    let samples = samples();
    let texts = [0, 1].map(|n| samples[n].book.to_json_lines().into_bytes());
    let said = serde_json::to_vec(&about()).unwrap();
    let (mut dice, mut read, mut refused) = (Dice::new(33, 1), 0, 0);
    for round in 0..2_000 {
        let (mut book, mut about) = (texts[0].clone(), said.clone());
        if round % 3 == 0 {
            spoil(&mut about, &said, &mut dice);
        } else {
            spoil(&mut book, &texts[1], &mut dice);
        }
        // With the sums of what it was; under a name that the writer's own list does not take the place of.
        let sums = format!("{}  {BOOK}\n{}  {ABOUT}\n", sum(&texts[0]), sum(&said));
        let mut with_old = packed(&[(ABOUT, &about), (BOOK, &book), ("checksums.sha25x", sums.as_bytes())]);
        rename(&mut with_old, CHECKSUMS, "unread.sha256...");
        rename(&mut with_old, "checksums.sha25x", CHECKSUMS);
        let taken = taken_in(&with_old);
        if book == texts[0] && about == said {
            assert_eq!(taken.map(|(book, ..)| book), Ok(samples[0].book.clone()));
        } else {
            let name = if about == said { BOOK } else { ABOUT };
            assert_eq!(taken.err(), Some(Trouble::Sum(name.to_owned())));
        }
        match taken_in(&packed(&[(ABOUT, &about), (BOOK, &book)])) {
            Ok((taken, ..)) => {
                read += 1;
                // What is taken in can be gone on with.
                let (again, errors) = Book::from_json_lines(&taken.to_json_lines());
                assert_eq!((&again, errors.len()), (&taken, 0));
                let _ = fold(&taken);
            }
            Err(_) => refused += 1,
        }
    }
    println!("{read} read, {refused} refused");
    assert!(read > 200 && refused > 200, "{read} read, {refused} refused");
}

/// Another name of the same length, wherever the zip file says it.
fn rename(bytes: &mut [u8], from: &str, to: &str) {
    assert_eq!(from.len(), to.len());
    let places: Vec<usize> =
        (0..bytes.len()).filter(|at| bytes[*at..].starts_with(from.as_bytes())).collect();
    assert_eq!(places.len(), 2, "beside the file and in the directory");
    for at in places {
        bytes[at..at + to.len()].copy_from_slice(to.as_bytes());
    }
}
