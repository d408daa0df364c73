//! What is said where a site is sent and where one comes in.

use super::count;

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

/// Megabytes, as people read them.
fn size(bytes: u64) -> String {
    let tenths = (bytes + 50_000) / 100_000;
    if tenths >= 100 { format!("{} MB", tenths / 10) } else { format!("{}.{} MB", tenths / 10, tenths % 10) }
}

/// All photos, with how many and how large.
pub fn all_photos(number: usize, bytes: u64) -> String {
    format!("{ALL}: {number}, {}", size(bytes))
}

/// How far something is.
pub fn done(done: u64, total: u64) -> String {
    format!("{} of {}", size(done.min(total)), size(total))
}

/// The entries of a book that go along, and how many people wrote them.
pub fn entries_go(entries: usize, authors: usize) -> String {
    let by = if authors > 1 { format!(", written on {authors} devices") } else { String::new() };
    format!("Field book: {}{by}", count(entries, "entry", "entries"))
}

/// The photos that go along.
pub fn photos_go(number: usize, is_small: bool) -> String {
    let photos = count(number, "photo", "photos");
    let small = if is_small { ", small ones only" } else { "" };
    format!("{photos}{small}, without what the camera wrote into them")
}

/// The camera's own files that go along.
pub fn originals_go(number: usize) -> String {
    format!("{} as the camera wrote them", count(number, "file", "files"))
}

/// Names that go along.
pub fn names_go(names: &str) -> String {
    format!("Names: {names}")
}

/// The place that goes along.
pub fn place_goes(latitude: f64, longitude: f64) -> String {
    format!("Where the site is: {latitude:.5}, {longitude:.5} (latitude, longitude)")
}

pub const MONEY_GOES: &str = "What was said about money";

/// When it was sent last and what came since.
pub fn sent(when: &str, since: usize) -> String {
    if since == 0 {
        format!("Everything is elsewhere too, last {when}; nothing was written since.")
    } else {
        format!(
            "Last sent, saved or taken in {when}; {} since then.",
            count(since, "new entry", "new entries")
        )
    }
}

/// What is on this device only.
pub fn unsent(entries: usize, is_all: bool) -> String {
    if is_all {
        "Nothing of this site was sent or saved yet: it is on this device only.".to_owned()
    } else {
        format!("{} not sent or saved yet.", count(entries, "entry is", "entries are"))
    }
}

/// The package lacks pictures.
pub fn without_pictures(number: usize) -> String {
    format!("{} not on this device and could not go along.", count(number, "photo is", "photos are"))
}

/// It was not made.
pub fn not_made(why: &str) -> String {
    format!("The package could not be made ({why}). Nothing was changed.")
}

/// It was not shared.
pub fn not_shared(why: &str) -> String {
    format!("Sharing did not work ({why}). Save the package instead.")
}

/// It was saved.
pub fn saved(name: &str) -> String {
    format!("{name} was saved.")
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
    format!("{name} was not taken in. {why} Nothing was changed.")
}

/// Who made it and when.
pub fn made(when: &str, is_mine: bool) -> String {
    let by = if is_mine { "on this device" } else { "on another device" };
    format!("Made {when}, {by}")
}

/// What one person brings, and when the first and the last of it was written.
pub fn brings(entries: usize, first: &str, last: &str, is_mine: bool) -> String {
    let by = if is_mine { "on this device" } else { "on another device" };
    // Of one day the day is said once.
    let day = |moment: &str| moment.rsplit_once(", ").map(|(day, _)| day.to_owned());
    let last_said = match last.rsplit_once(", ") {
        Some((_, time)) if day(first) == day(last) => time,
        _ => last,
    };
    let when = if first == last { first.to_owned() } else { format!("{first} to {last_said}") };
    format!("{}, written {by}, {when}", count(entries, "new entry", "new entries"))
}

/// The whole book of a new site.
pub fn photos_come(number: usize) -> String {
    count(number, "new photo", "new photos")
}

/// Something of the site's details is written otherwise.
pub fn renamed(what: &str, before: &str, now: &str) -> String {
    format!("{what}: {} → {}", quoted(before), quoted(now))
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
    format!("{} answered", count(number, "question is", "questions are"))
}

/// Photos whose picture is missing.
pub fn lacks(number: usize) -> String {
    format!(
        "{} not in it at full size; what was written about them is",
        count(number, "photo is", "photos are")
    )
}

/// Entries that stood and do not any more.
pub fn struck(number: usize) -> String {
    format!("{} here are struck or written anew in it", count(number, "entry", "entries"))
}

/// Entries of one id that differ.
pub fn clashes(number: usize) -> String {
    format!(
        "{} in it under the name of one that is here, with other words. One of the files was changed by hand; \
         those here stay.",
        count(number, "entry stands", "entries stand")
    )
}

/// It was taken in.
pub fn taken(entries: usize, photos: usize) -> String {
    let photos =
        if photos == 0 { String::new() } else { format!(" and {}", count(photos, "photo", "photos")) };
    format!("Taken in: {}{photos}.", count(entries, "entry", "entries"))
}
