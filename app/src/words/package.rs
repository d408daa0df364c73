//! What is said where a site is sent and where one comes in.

use super::count;
use swingtie_core::language::tr;
use swingtie_core::record::{AuthorId, Record};

pub const SEND: &str = "Send everything";
pub const SEND_HINT: &str = "One file with the field book, the photos, plan and report, for the designer.";
pub const SEND_MORE: &str = "Who gets the file opens it in Swingtie and goes on from it, or unpacks it and reads the \
     report. Everything stays on this device too.";
pub const BACK_TO_SHEET: &str = "Sheet";
pub const PHOTOS: &str = "Photos";
pub const ALL: &str = "All";
pub const SMALL: &str = "Small ones, for mail";
pub const NONE: &str = "None";
pub const LEFT_OUT: &str = "Stays here";
pub const PLACE: &str = "Where on earth the site is";
pub const NAMES: &str = "Names: the site, the client, who measured";
pub const MONEY: &str = "What was said about money";
pub const ORIGINALS: &str = "Also the camera's own files, which may hold where each was taken";
pub const GOES: &str = "What leaves this device";
pub const YOU_CHOOSE: &str = "Swingtie sends nothing by itself: where the file goes, you choose.";
pub const FREE_WORDS: &str = "What you wrote in your own words goes along as it is, names in it too.";
pub const CALL_YOU: &str = "What should others call you? (optional)";
pub const CALL_YOU_HINT: &str = "They see it beside what you wrote. You can change it in Settings.";
pub const SHARE: &str = "Share the package";
pub const SAVE: &str = "Save the package";
pub const SAVE_AS: &str = "Save it into a folder…";
pub const NO_ZIP: &str =
    "This browser does not pass zip files to other apps. Save it, then attach it from your downloads.";
pub const MAKING: &str = "Making the package…";
pub const READY: &str = "The package is ready. Tap once more to share it.";
pub const STOP: &str = "Stop";
pub const STOPPED: &str = "Stopped. Nothing was changed.";
pub const NEVER_SENT: &str = "Not sent or saved yet: everything is on this device only.";
pub const SINCE_SENT: &str = "Since last sent";
pub const CAME_LAST: &str = "Came in last";
pub const SENT_LINK: &str = "Send everything to the designer";

/// By whom something was written, for who reads it on the device of `me`.
#[must_use]
pub fn by_whom(record: &Record, author: &AuthorId, me: &AuthorId) -> String {
    match record.called(author) {
        _ if author == me => tr(super::ON_THIS_DEVICE).to_owned(),
        None => tr(super::ON_ANOTHER).to_owned(),
        // The same person has two phones, or two persons one name.
        Some(name) if record.called(me) == Some(name) => say!("by {name} ({})", super::ON_ANOTHER),
        Some(name) => say!("by {name}"),
    }
}

/// Megabytes, as people read them.
pub(super) fn size(bytes: u64) -> String {
    let tenths = (bytes + 50_000) / 100_000;
    if tenths == 0 {
        return if bytes == 0 { "0 MB" } else { "under 0.1 MB" }.to_owned();
    }
    if tenths >= 100 { say!("{} MB", tenths / 10) } else { say!("{}.{} MB", tenths / 10, tenths % 10) }
}

/// All photos, with how many and how large.
pub fn all_photos(number: usize, bytes: u64) -> String {
    say!("{ALL}: {number}, {}", size(bytes))
}

/// How far something is.
pub fn done(done: u64, total: u64) -> String {
    say!("{} of {}", size(done.min(total)), size(total))
}

/// The entries of a book that go along, and how many people wrote them.
pub fn entries_go(entries: usize, authors: usize) -> String {
    let by = if authors > 1 { say!(", written on {authors} devices") } else { String::new() };
    say!("Field book: {}{by}", count(entries, "entry", "entries"))
}

/// The photos that go along.
pub fn photos_go(number: usize, is_small: bool) -> String {
    let photos = count(number, "photo", "photos");
    let small = if is_small { ", small ones only" } else { "" };
    say!("{photos}{small}, without what the camera wrote into them")
}

/// The camera's own files that go along.
pub fn originals_go(number: usize) -> String {
    say!("{} as the camera wrote them", count(number, "file", "files"))
}

/// Names that go along.
pub fn names_go(names: &str) -> String {
    say!("Names: {names}")
}

/// The place that goes along.
pub fn place_goes(latitude: f64, longitude: f64) -> String {
    say!("Where the site is: {latitude:.5}, {longitude:.5} (latitude, longitude)")
}

pub const MONEY_GOES: &str = "What was said about money";

/// When it was sent last and what came since.
pub fn sent(when: &str, since: usize) -> String {
    if since == 0 {
        say!(
            "Last sent, saved or taken in {when}; nothing was written since. A file that was only saved is still on this \
             device: send it on."
        )
    } else {
        say!("Last sent, saved or taken in {when}; {} since then.", count(since, "new entry", "new entries"))
    }
}

/// What is on this device only.
pub fn unsent(entries: usize, is_all: bool) -> String {
    if is_all {
        say!("Nothing of this site was sent or saved yet: it is on this device only.")
    } else {
        say!("{} not sent or saved yet.", count(entries, "entry is", "entries are"))
    }
}

/// The package lacks pictures.
pub fn without_pictures(number: usize) -> String {
    say!("{} not on this device and could not go along.", count(number, "photo is", "photos are"))
}

/// It was not made.
pub fn not_made(why: &str) -> String {
    say!("The package could not be made ({why}). Nothing was changed.")
}

/// It was not shared.
pub fn not_shared(why: &str) -> String {
    say!("Sharing did not work ({why}). Save the package instead.")
}

/// It was saved.
pub fn saved(name: &str) -> String {
    say!("{name} was saved.")
}

// Coming in.
pub const READING: &str = "Looking into the file…";
pub const CAME: &str = "This came in";
pub const IS_NEW: &str = "This site is not on this device yet.";
pub const IS_HERE: &str = "This site is on this device. Both books become one; nothing of either is lost.";
pub const TAKE: &str = "Take it in";
pub const LEAVE_IT: &str = "Leave it";
pub const GO_TO_IT: &str = "Open the site";
pub const NOTHING_NEW: &str = "Everything in it is here already.";
pub const TAKING: &str = "Checking and storing the photos…";
pub const RIVALS: &str = "Both wrote these anew or struck them. The latest counts; see each in the book:";
pub const LIGHT: &str = "It holds small photos only; the large ones stayed where they were taken.";

/// The file was not opened.
pub fn not_opened(name: &str, why: &str) -> String {
    say!("{name} was not taken in. {why} Nothing was changed.")
}

/// Who made it and when.
pub fn made(when: &str, by: &str) -> String {
    say!("Made {when}, {by}")
}

/// What one person brings, and when the first and the last of it was written.
pub fn brings(entries: usize, first: &str, last: &str, by: &str) -> String {
    // Of one day the day is said once.
    let day = |moment: &str| moment.rsplit_once(", ").map(|(day, _)| day.to_owned());
    let last_said = match last.rsplit_once(", ") {
        Some((_, time)) if day(first) == day(last) => time,
        _ => last,
    };
    let when = if first == last { first.to_owned() } else { say!("{first} to {last_said}") };
    say!("{}, written {by}, {when}", count(entries, "new entry", "new entries"))
}

/// The whole book of a new site.
pub fn photos_come(number: usize) -> String {
    count(number, "new photo", "new photos")
}

/// Something of the site's details is written otherwise.
pub fn renamed(what: &str, before: &str, now: &str) -> String {
    say!("{what}: {} → {}", quoted(before), quoted(now))
}

fn quoted(text: &str) -> &str {
    if text.is_empty() { "—" } else { text }
}

/// Questions that come in.
pub fn asks(number: usize) -> String {
    count(number, "new question to answer", "new questions to answer")
}

/// Questions that are answered by what comes in.
pub fn answers(number: usize) -> String {
    say!("{} answered", count(number, "question is", "questions are"))
}

/// Photos whose picture was damaged on its way, each by its number and words.
#[must_use]
pub fn damaged(photos: &[String]) -> String {
    let are = if photos.len() == 1 { "One photo in it is" } else { "Some photos in it are" };
    say!(
        "{are} damaged: {}. The field book and all else are sound. Have the package sent once more for what is left \
         out now.",
        super::list(photos)
    )
}

/// One of them.
#[must_use]
pub fn damaged_photo(number: Option<usize>, note: &str) -> String {
    let note = note.trim();
    match number {
        None => say!("one that was struck"),
        Some(number) if note.is_empty() => say!("photo {number}"),
        Some(number) => say!("photo {number} ({note})"),
    }
}

/// Where a site stands in the list: how much of it is on this device only.
#[must_use]
pub fn copies(when: Option<&str>, since: usize) -> String {
    match (when, since) {
        (None, _) => say!("Not sent yet"),
        (Some(when), 0) => say!("Sent or taken in {when}"),
        (Some(when), since) => say!("Sent or taken in {when}, {} since", count(since, "entry", "entries")),
    }
}

/// Before a site is removed that is on this device only, or partly.
#[must_use]
pub fn would_be_lost(since: usize, is_all: bool) -> String {
    if is_all {
        say!("It was never sent or saved: all of it would be gone.")
    } else {
        say!(
            "{} never sent or saved and would be gone.",
            count(since, "entry of it was", "entries of it were")
        )
    }
}

pub const SEND_FIRST: &str = "Send it first";
pub const TAKE_REST: &str = "Take everything but these";

/// Photos whose picture is missing.
pub fn lacks(number: usize) -> String {
    say!("{} not in it at full size; what was written about them is", count(number, "photo is", "photos are"))
}

/// Entries that stood and do not any more.
pub fn struck(number: usize) -> String {
    say!("{} here are struck or written anew in it", count(number, "entry", "entries"))
}

/// Entries of one id that differ.
pub fn clashes(number: usize) -> String {
    say!(
        "{} in it under the name of one that is here, with other words. One of the files was changed by hand; \
         those here stay.",
        count(number, "entry stands", "entries stand")
    )
}

/// It was taken in.
pub fn taken(entries: usize, photos: usize) -> String {
    let photos = if photos == 0 { String::new() } else { say!(" and {}", count(photos, "photo", "photos")) };
    say!("Taken in: {}{photos}.", count(entries, "entry", "entries"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_wrote_is_named_where_that_was_said() {
        let (me, anna, other) = ("me".into(), "anna".into(), "other".into());
        let mut record = Record::default();
        record.authors.insert(AuthorId::from("anna"), "Anna".to_owned());
        let by = |record: &Record, author| by_whom(record, author, &me);
        assert_eq!(by(&record, &me), "on this device");
        assert_eq!(by(&record, &anna), "by Anna");
        assert_eq!(by(&record, &other), "on another device");
        record.authors.insert(AuthorId::from("me"), "Anna".to_owned());
        assert_eq!(by(&record, &anna), "by Anna (on another device)");
    }

    #[test]
    fn little_is_not_nothing() {
        assert_eq!(
            [0, 1, 49_999, 50_000, 12_340_000].map(size),
            ["0 MB", "under 0.1 MB", "under 0.1 MB", "0.1 MB", "12 MB"]
        );
    }
}
