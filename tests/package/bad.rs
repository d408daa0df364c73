//! Packages that Python made to be bad (`tests/reference/package/bad.py`): each is refused for its own reason, in plain
//! words, within the time and memory that a phone has. What is refused gives nothing that could be stored. Where one picture
//! alone is damaged, all else is taken in, and which one it is and why is said.

use crate::scripts::{folder, python};
use crate::{alone, memory};
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;
use std::time::{Duration, Instant};
use swingtie_core::book::Book;
use swingtie_core::package::{LARGEST_BOOK, LARGEST_PICTURE, Trouble};
use swingtie_tests::package::{Sample, TakenIn, take_in};

const DEMO: &str = include_str!("../../public/demo.jsonl");

/// What a file must bring about: a trouble like this, and words of its message.
struct Bad {
    name: &'static str,
    is: fn(&Trouble) -> bool,
    says: &'static str,
}

const fn bad(name: &'static str, is: fn(&Trouble) -> bool, says: &'static str) -> Bad {
    Bad { name, is, says }
}

macro_rules! is {
    ($pattern:pat) => {
        |why| matches!(why, $pattern)
    };
}

const CUT: &str = "its end is missing";
const DAMAGED: &str = "is damaged";
const OTHER: &str = "its checksum is another";
const BOOK_OTHER: &str = "book.jsonl is not as it was written: its checksum is another";
const HOLDS: &str = "does not hold what the zip file says it holds";
const ELSEWHERE: &str = "leads elsewhere";
const NO_PACKAGE: &str = "is no site package";
const RARE: &str = "with a password, or by a rare method";

const ALL: &[Bad] = &[
    bad("cut at 0 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 1 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 2 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 3 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 4 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 5 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 6 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 7 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 8 tenths", is!(Trouble::NoDirectory), CUT),
    bad("cut at 9 tenths", is!(Trouble::NoDirectory), CUT),
    bad("1 bytes short", is!(Trouble::NoDirectory), CUT),
    bad("10 bytes short", is!(Trouble::NoDirectory), CUT),
    bad("22 bytes short", is!(Trouble::NoDirectory), CUT),
    bad("23 bytes short", is!(Trouble::NoDirectory), CUT),
    bad("100 bytes short", is!(Trouble::NoDirectory), CUT),
    bad("the start missing", is!(Trouble::Damaged(_)), "something is not where it says"),
    bad("the middle missing", is!(Trouble::Damaged(_)), DAMAGED),
    bad("another book", is!(Trouble::Sum(_)), BOOK_OTHER),
    bad("another statement of itself", is!(Trouble::Sum(_)), "about.json is not as it was written"),
    bad("the book with another crc", is!(Trouble::Sum(_)), BOOK_OTHER),
    bad(
        "the book spoilt",
        is!(Trouble::Damaged(_) | Trouble::Cut(_) | Trouble::Size(_) | Trouble::Sum(_)),
        "book.jsonl",
    ),
    bad("the book no deflate", is!(Trouble::Damaged(_)), "is damaged (book.jsonl)"),
    bad("the book shorter than said", is!(Trouble::Cut(_)), "book.jsonl ends too early"),
    bad("the book cut", is!(Trouble::Cut(_)), "book.jsonl ends too early"),
    bad("the book longer than said", is!(Trouble::Size(_)), HOLDS),
    bad("the book elsewhere", is!(Trouble::Damaged(_)), DAMAGED),
    bad("the book beyond the end", is!(Trouble::Damaged(_)), DAMAGED),
    bad("more taken than said", is!(Trouble::Size(_)), HOLDS),
    bad("name up", is!(Trouble::LeadsOut(_)), "(../book.jsonl)"),
    bad("name up from within", is!(Trouble::LeadsOut(_)), ELSEWHERE),
    bad("name up at the end", is!(Trouble::LeadsOut(_)), ELSEWHERE),
    bad("name from the root", is!(Trouble::LeadsOut(_)), "(/etc/x)"),
    bad("name a backslash", is!(Trouble::LeadsOut(_)), ELSEWHERE),
    bad("name a drive", is!(Trouble::LeadsOut(_)), "(C:/x.jpg)"),
    bad("name another machine", is!(Trouble::LeadsOut(_)), ELSEWHERE),
    bad("name a nul", is!(Trouble::LeadsOut(_)), "(photos/x.jpg\\0.txt)"),
    bad("name a stream", is!(Trouble::LeadsOut(_)), ELSEWHERE),
    bad("a folder that leads up", is!(Trouble::LeadsOut(_)), "(../)"),
    bad("a link", is!(Trouble::Link(_)), "is a link to another file"),
    bad("a link from a mac", is!(Trouble::Link(_)), "is a link to another file"),
    bad("a name of other letters", is!(Trouble::NoName), "is no text (UTF-8)"),
    bad("a name of half a letter", is!(Trouble::NoName), "is no text (UTF-8)"),
    bad("two books", is!(Trouble::Twice(_)), "two files named book.jsonl"),
    bad("two books by case", is!(Trouble::Twice(_)), "two files named Book.JSONL"),
    bad("two of a photo", is!(Trouble::Twice(_)), "two files named photos/"),
    bad("form 2", is!(Trouble::Newer(2)), "a newer version of Swingtie (form 2; this one reads 1)"),
    bad("form 100000000000", is!(Trouble::Newer(_)), "Update the app, then open it again."),
    bad("form 1000000000000000000000000000000", is!(Trouble::Newer(_)), "Update the app"),
    bad("no form", is!(Trouble::About(_)), "about.json cannot be read"),
    bad("a letter", is!(Trouble::NoBook), NO_PACKAGE),
    bad("an empty zip", is!(Trouble::NoBook), NO_PACKAGE),
    bad("a folder only", is!(Trouble::NoBook), NO_PACKAGE),
    bad("a folder named as the book", is!(Trouble::NoBook), NO_PACKAGE),
    bad("no zip", is!(Trouble::NoDirectory), "is no zip file"),
    bad("not a byte", is!(Trouble::NoDirectory), "is no zip file"),
    bad("a long film", is!(Trouble::NoDirectory), "is no zip file"),
    bad("the book no text", is!(Trouble::NoText(_)), "book.jsonl is no text"),
    bad("the book half a letter", is!(Trouble::NoText(_)), "book.jsonl is no text"),
    bad("the book torn", is!(Trouble::Lines(_)), "The book in it cannot be read: line "),
    bad("the book without a line", is!(Trouble::Empty), "is empty"),
    bad("the book of other lines", is!(Trouble::Lines(_)), "line 1: not an entry of a field book"),
    bad("the book nested", is!(Trouble::Lines(_)), "line 1: not an entry of a field book"),
    bad("the book with a clash", is!(Trouble::Lines(_)), "The book in it cannot be read: line "),
    bad("a password", is!(Trouble::Method(_)), RARE),
    bad("strong encryption", is!(Trouble::Method(_)), RARE),
    bad("encrypted names", is!(Trouble::Method(_)), RARE),
    bad("lzma", is!(Trouble::Method(_)), RARE),
    bad("bzip2", is!(Trouble::Method(_)), RARE),
    bad("a size beyond measure", is!(Trouble::TooLarge { most: LARGEST_BOOK, .. }), "the 64 MB it may have"),
    bad("a photo beyond measure", is!(Trouble::Swells), "far more than pictures do"),
    bad("takes beyond measure", is!(Trouble::Damaged(_)), "lie over each other"),
    bad("a place beyond measure", is!(Trouble::Damaged(_)), DAMAGED),
    bad("a directory beyond measure", is!(Trouble::Damaged(_)), DAMAGED),
    bad("a directory of no length", is!(Trouble::Damaged(_)), DAMAGED),
    bad("files beyond measure", is!(Trouble::Damaged(_)), DAMAGED),
    bad("more files than said", is!(Trouble::Damaged(_)), "more files than it says"),
    bad("fewer files than said", is!(Trouble::Damaged(_)), "or fewer"),
    bad("10 GiB claimed", is!(Trouble::TooLarge { most: LARGEST_PICTURE, .. } | Trouble::Swells), ""),
    bad("10 GiB unclaimed", is!(Trouble::Size(_)), HOLDS),
    bad("a book of 1 GiB", is!(Trouble::TooLarge { .. }), "book.jsonl is larger than the 64 MB"),
    bad("a book of 1 GiB unclaimed", is!(Trouble::Size(_)), HOLDS),
    bad("sums of 1 GiB", is!(Trouble::TooLarge { .. }), "checksums.sha256 is larger than the 64 MB"),
    bad("10 GiB in 170 pictures", is!(Trouble::Swells), "far more than pictures do"),
    bad("files over each other", is!(Trouble::Damaged(_)), "lie over each other"),
    bad("100000 files", is!(Trouble::TooMany), "more than 20000 files"),
    bad("100000 files, 5 said", is!(Trouble::TooMany), "more than 20000 files"),
    bad("100000 folders", is!(Trouble::TooMany), "more than 20000 files"),
    bad("names of 26 MB", is!(Trouble::Damaged(_)), "its list of files is longer than any site's"),
    bad("64 MiB of no lines", is!(Trouble::TooLong), "more than 100000 lines"),
    bad("64 MiB of wrong lines", is!(Trouble::TooLong), "more than 100000 lines"),
    bad("64 MiB of lines", is!(Trouble::TooLong), "more than 100000 lines"),
    bad("100000 wrong lines", is!(Trouble::Lines(_)), "line 1: not an entry"),
    bad("64 MiB in one line", is!(Trouble::Lines(_)), "line 1: not an entry"),
];

/// What is taken in without one picture, and what is said of that: it alone is damaged.
const WITHOUT: &[Bad] = &[
    bad("another photo", is!(Trouble::Sum(_)), OTHER),
    bad("another small picture", is!(Trouble::Sum(_)), OTHER),
    bad("the photo with another crc", is!(Trouble::Sum(_)), OTHER),
    bad("the small picture with another crc", is!(Trouble::Sum(_)), OTHER),
    bad("the photo cut", is!(Trouble::Cut(_)), "ends too early: a part of it is missing"),
    bad("the photo shorter than said", is!(Trouble::Cut(_)), "ends too early"),
    bad("the photo no deflate", is!(Trouble::Damaged(_)), "is damaged (photos/"),
];

/// What is taken in: as good as can be, and at the edge of what is.
const TAKEN: [&str; 4] = ["good", "zip64", "20000 files", "100000 lines"];

const MIB: usize = 1024 * 1024;

/// What a refusal may take: a second, and the pieces read so far. The text of a book lies in memory whole, and is there
/// twice while it grows; one of 64 MiB must be unpacked before it can be judged.
fn allowed(name: &str) -> (Duration, usize) {
    match name {
        "100000 lines" => (Duration::from_secs(5), 160 * MIB),
        name if name.starts_with("64 MiB") => (Duration::from_secs(5), 128 * MIB),
        "names of 26 MB" | "20000 files" => (Duration::from_secs(3), 24 * MIB),
        _ => (Duration::from_secs(1), 8 * MIB),
    }
}

fn taken_in(path: &Path) -> Result<TakenIn, Trouble> {
    let mut file = File::open(path).unwrap();
    let length = file.metadata().unwrap().len();
    let mut read = |place: std::ops::Range<u64>| {
        file.seek(SeekFrom::Start(place.start))?;
        let mut bytes = vec![0; usize::try_from(place.end - place.start).unwrap()];
        file.read_exact(&mut bytes)?;
        Ok(bytes)
    };
    take_in(length, &mut read, &mut |_, _| {})
}

#[test]
fn each_is_refused_for_its_own_reason_in_time_and_memory() {
    let _alone = alone();
    let sample = Sample::of(Book::from_json_lines(DEMO).0, &[30_000, 400]);
    let folder = folder("bad");
    let good = folder.join("written.zip");
    std::fs::write(&good, sample.whole()).unwrap();
    let made: Vec<String> = serde_json::from_value(python("bad", &[&good, &folder])).unwrap();
    let sound = sample.photos.len() + sample.thumbnails.len();
    let mut wrong = Vec::new();
    for name in &made {
        let started = Instant::now();
        let (taken, peak) = memory(|| taken_in(&folder.join(format!("{name}.zip"))));
        let took = started.elapsed();
        let said = match &taken {
            Ok((book, pictures, damaged)) => {
                let why: Vec<String> = damaged.iter().map(Trouble::to_string).collect();
                format!("taken in: {} entries, {} pictures. {}", book.len(), pictures.len(), why.join(" "))
            }
            Err(why) => why.to_string(),
        };
        println!("{name:36} {:5} ms {:6} KiB  {said}", took.as_millis(), peak / 1024);
        let (longest, most) = allowed(name);
        if took > longest || peak > most {
            wrong.push(format!("{name}: {took:?}, {} KiB", peak / 1024));
        }
        match (&taken, ALL.iter().find(|bad| bad.name == name)) {
            (Err(why), Some(bad)) if (bad.is)(why) && said.contains(bad.says) => {}
            (Ok((book, pictures, damaged)), None) if WITHOUT.iter().any(|bad| bad.name == name) => {
                let bad = WITHOUT.iter().find(|bad| bad.name == name);
                let told = bad.is_some_and(|bad| {
                    matches!(damaged.as_slice(), [why] if (bad.is)(why)) && said.contains(bad.says)
                });
                // All else of it is there: every picture but one.
                let there =
                    pictures.values().flat_map(|(full, small)| [*full, *small]).filter(|long| *long > 0);
                if !told || *book != sample.book || there.count() != sound - 1 {
                    wrong.push(format!("{name}: {said}"));
                }
            }
            (Ok((book, _, damaged)), None) if TAKEN.contains(&name.as_str()) => {
                assert_eq!(damaged, &[], "{name}");
                if name != "100000 lines" {
                    assert_eq!(*book, sample.book, "{name}");
                }
            }
            _ => wrong.push(format!("{name}: {taken:.200?}", taken = taken.as_ref().map(|_| "taken in"))),
        }
    }
    // Some hundred MB of files.
    std::fs::remove_dir_all(&folder).unwrap();
    for name in ALL.iter().chain(WITHOUT).map(|bad| bad.name).chain(TAKEN) {
        assert!(made.iter().any(|made| made == name), "{name} was not made");
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), made.len(), wrong.join("\n"));
}
