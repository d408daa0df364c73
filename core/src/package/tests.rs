//! What is written is read back; what was changed on its way is not.

use super::*;
use crate::book::{Book, Entry};
use crate::record::{Anchor, AuthorId, EntryId, LEFT_OPEN, Note, PhotoId, Point, Site, Statement};
use std::io::Error;
use std::ops::Range;

fn said(book: &mut Book, author: &str, statement: Statement) -> EntryId {
    let id = EntryId(format!("{author}{}", book.len()));
    let entry =
        Entry::new(id.clone(), book.next_clock(), 1_000 * book.len() as i64, author.into(), statement);
    book.add(entry.unwrap()).unwrap();
    id
}

fn site(name: &str) -> Statement {
    Statement::Site(Site { name: name.to_owned(), client: "Quince".to_owned(), ..Site::default() })
}

fn point(label: &str) -> Statement {
    Statement::Point(Point { id: label.into(), label: label.to_owned(), note: String::new() })
}

fn note(topic: &str, text: &str) -> Statement {
    let note = Note { topic: topic.to_owned(), text: text.to_owned(), ..Note::default() };
    Statement::Note(note.into())
}

fn yard() -> Book {
    let mut book = Book::new();
    said(&mut book, "a", site("Quince Lane"));
    said(&mut book, "a", point("H1"));
    said(&mut book, "b", point("H2"));
    said(&mut book, "b", Statement::Author { name: "Odalys".to_owned() });
    let (source, accuracy) = (String::new(), None);
    said(
        &mut book,
        "a",
        Statement::Anchor(Anchor { point: "H1".into(), latitude: 12.5, longitude: 7.25, source, accuracy }),
    );
    said(&mut book, "a", note("budget", "no more than a hedge"));
    said(&mut book, "b", note(LEFT_OPEN, "the dog was in the way"));
    book
}

fn about() -> About {
    About {
        swingtie_package: FORMAT,
        site: "yard".to_owned(),
        made_by: "a".into(),
        made_at_ms: 1_780_000_000_000,
        pictures: Pictures::All,
        left_out: Left::default(),
    }
}

fn packed(book: &str, about: &str, pictures: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = Writer::new(Vec::new(), about_time());
    writer.add(ABOUT, about.as_bytes()).unwrap();
    writer.add(BOOK, book.as_bytes()).unwrap();
    for (name, bytes) in pictures {
        writer.add_as_is(name, bytes).unwrap();
    }
    writer.finish().unwrap()
}

fn about_time() -> i64 {
    about().made_at_ms
}

fn read(bytes: &[u8]) -> Result<(Package, Contents), Trouble> {
    let mut at = |place: Range<u64>| at(bytes, place);
    Package::read(bytes.len() as u64, &mut at)
}

fn at(bytes: &[u8], place: Range<u64>) -> Result<Vec<u8>, Error> {
    let (from, to) = (usize::try_from(place.start).unwrap(), usize::try_from(place.end).unwrap());
    bytes.get(from..to).map(<[u8]>::to_vec).ok_or_else(|| Error::other("outside"))
}

fn whole() -> Vec<u8> {
    let picture: Vec<u8> = (0..300_000_u32).map(|i| (i.wrapping_mul(i) >> 7) as u8).collect();
    let name = picture_name(PHOTOS, &PhotoId(unpack::sum_of(&picture)), "image/jpeg");
    packed(&yard().to_json_lines(), &serde_json::to_string(&about()).unwrap(), &[(&name, &picture)])
}

#[test]
fn a_package_comes_back_whole() {
    let bytes = whole();
    let (mut package, contents) = read(&bytes).unwrap();
    assert_eq!((contents.book, contents.about), (yard(), about()));
    let pictures = package.pictures().unwrap().clone();
    let (id, picture) = pictures.iter().next().unwrap();
    let mut length = 0;
    let sum = package.unpack(picture.full.as_ref().unwrap(), &mut |place| at(&bytes, place), &mut |piece| {
        length += piece.len()
    });
    assert_eq!((sum, length, pictures.len()), (Ok(id.0.clone()), 300_000, 1));
}

#[test]
fn every_byte_changed_or_cut_is_seen_or_harmless() {
    let bytes = packed(&yard().to_json_lines(), &serde_json::to_string(&about()).unwrap(), &[]);
    for cut in 0..bytes.len() {
        assert!(read(&bytes[..cut]).is_err(), "{cut} of {}", bytes.len());
    }
    for at in 0..bytes.len() {
        let mut bytes = bytes.clone();
        bytes[at] ^= 0x55;
        if let Ok((_, contents)) = read(&bytes) {
            assert_eq!(contents.book, yard(), "byte {at}");
        }
    }
}

#[test]
fn a_picture_changed_with_its_check_sum_is_seen_by_its_name() {
    let wrong = picture_name(PHOTOS, &PhotoId("0".repeat(64)), "image/jpeg");
    let bytes = packed(&yard().to_json_lines(), "{\"swingtie_package\":1}", &[(&wrong, b"another picture")]);
    let (mut package, contents) = read(&bytes).unwrap();
    let picture = package.pictures().unwrap().values().next().unwrap().full.clone().unwrap();
    let sum = package.unpack(&picture, &mut |place| at(&bytes, place), &mut |_| {}).unwrap();
    assert_eq!(contents.check(&picture.name, &sum), Err(Trouble::Sum(wrong.clone())));
    // It alone is left; what holds more than it says is no accident.
    assert_eq!(contents.spoilt(&wrong, Ok(sum)), Ok(Some(Trouble::Sum(wrong.clone()))));
    let trap = Trouble::Size(wrong.clone());
    assert_eq!(contents.spoilt(&wrong, Err(trap.clone())), Err(trap));
    assert_eq!(contents.spoilt(&wrong, Ok("0".repeat(64))), Ok(None));
}

#[test]
fn what_a_newer_version_made_is_left_to_it() {
    let book = yard().to_json_lines();
    assert_eq!(
        read(&packed(&book, "{\"swingtie_package\":2,\"site\":[]}", &[])).err(),
        Some(Trouble::Newer(2))
    );
    assert!(matches!(read(&packed(&book, "{", &[])).err(), Some(Trouble::About(_))));
    assert_eq!(read(&packed("\n", "{\"swingtie_package\":1}", &[])).err(), Some(Trouble::Empty));
    assert!(matches!(
        read(&packed("nonsense", "{\"swingtie_package\":1}", &[])).err(),
        Some(Trouble::Lines(_))
    ));
}

#[test]
fn what_is_left_out_is_gone_and_comes_back_from_home() {
    let book = yard();
    let bare = without(&book, Left { place: true, names: true, money: true });
    let text = bare.to_json_lines();
    for word in ["Quince", "Odalys", "12.5", "hedge"] {
        assert!(!text.contains(word), "{word} in {text}");
    }
    assert!(text.contains("the dog was in the way"));
    let mut home = book.clone();
    assert_eq!(home.merge(&bare).1, []);
    assert_eq!(crate::book::fold(&home).record.site, crate::book::fold(&book).record.site);
    assert_eq!(without(&home, Left { place: true, names: true, money: true }), bare, "the same every time");
    assert_eq!(without(&book, Left::default()), book);
    assert!(Incoming::of(&book, &bare).is_nothing(), "what was left out at home comes back as news");
}

#[test]
fn who_was_not_told_the_names_does_not_wipe_them() {
    let book = yard();
    let mut theirs = without(&book, Left { names: true, ..Left::default() });
    said(&mut theirs, "z", Statement::Site(Site { name: "Job twelve".to_owned(), ..Site::default() }));
    let mut home = book;
    home.merge(&theirs);
    let named = crate::book::fold(&home).record.site;
    assert_eq!((named.name.as_str(), named.client.as_str()), ("Job twelve", "Quince"));
    // Who said it may take it back.
    said(&mut home, "a", site("Job twelve"));
    said(&mut home, "a", Statement::Site(Site { name: "Mine".to_owned(), ..Site::default() }));
    assert_eq!(crate::book::fold(&home).record.site.client, "");
}

#[test]
fn a_correction_of_what_is_left_out_goes_with_it() {
    let mut book = yard();
    let entry =
        book.entries().find(|e| matches!(e.statement(), Some(Statement::Anchor(_)))).unwrap().id.clone();
    let Some(Statement::Anchor(anchor)) = book.get(&entry).unwrap().statement().cloned() else {
        unreachable!()
    };
    let now = Box::new(Statement::Anchor(Anchor { latitude: 33.75, ..anchor }));
    said(&mut book, "a", Statement::Correct { entry: entry.clone(), now });
    said(&mut book, "a", Statement::Strike { entry, why: "33.75 was wrong".to_owned() });
    let text = without(&book, Left { place: true, ..Left::default() }).to_json_lines();
    assert!(!text.contains("33.75") && text.contains("Quince"), "{text}");
}

#[test]
fn what_comes_in_is_told_before_it_does() {
    let ours = yard();
    let mut theirs = ours.clone();
    let (before, author) = (ours.len(), AuthorId("c".to_owned()));
    let point_entry = said(&mut theirs, "c", point("T1"));
    said(&mut theirs, "c", Statement::Strike { entry: "b2".into(), why: String::new() });
    let incoming = Incoming::of(&ours, &theirs);
    assert_eq!(incoming.merged, theirs);
    assert_eq!(incoming.shares, [Share { author, entries: 2, when: (7_000, 8_000) }]);
    assert_eq!((incoming.new.len(), &incoming.new[0].id), (theirs.len() - before, &point_entry));
    assert_eq!(incoming.struck, [EntryId("b2".to_owned())]);
    assert!(Incoming::of(&theirs, &ours).is_nothing() && same_site(&ours, &theirs));
    let mut other = Book::new();
    said(&mut other, "z", site("Elsewhere"));
    assert!(!same_site(&ours, &other));
}

#[test]
fn a_file_is_named_as_every_system_takes_it() {
    let name = file_name("Quince Lane / 4: back", "2026-11-26 15:30");
    assert_eq!(name, "Quince-Lane-4-back-2026-11-26-1530.zip");
    assert!(file_name(&"long ".repeat(20), "2026-11-26 15:30").ends_with("-2026-11-26-1530.zip"));
    assert_eq!(file_name("", "2026-11-26 15:30"), "2026-11-26-1530.zip");
    assert_eq!(file_name("", ""), "site.zip");
    assert_eq!(file_name("../..", ""), "site.zip");
}

#[test]
fn what_earlier_versions_said_of_a_package_is_read_by_its_former_name() {
    let mut writer = Writer::new(Vec::new(), about_time());
    writer.add(ABOUT_BEFORE, &serde_json::to_vec(&about()).unwrap()).unwrap();
    writer.add(BOOK, yard().to_json_lines().as_bytes()).unwrap();
    let (_, contents) = read(&writer.finish().unwrap()).unwrap();
    assert_eq!(contents.about, about());
}
