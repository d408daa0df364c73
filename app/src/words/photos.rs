//! What the screens of photos say.

use super::{Names, count, list, problem_name};
use swingtie_core::language::tr;
use swingtie_core::plan::{NorthArrow, looks};
use swingtie_core::record::{At, EntryId, Facing, Record, kind};
use swingtie_core::units::Angle;

pub const PHOTOS: &str = "Photos";
pub const NO_PHOTOS: &str = "No photos yet.";
pub const TAKE_PHOTOS: &str = "Take photos";
pub const CHOOSE_PHOTOS: &str = "Choose photos";
pub const PHOTOS_WHERE: &str = "Change where they belong";
pub const KEEP_ORIGINALS: &str = "Keep the original file too";
pub const KEEP_ORIGINALS_HINT: &str = "An original file is large and can hold the place where it was taken. Without it only a smaller \
     copy is kept, and that holds no place.";
pub const PHOTOS_PRIVATE: &str = "Before you send photos: ask for leave where they show faces, number plates, alarm boxes or children's things.";
pub const PHOTOS_BUSY: &str = "Still adding photos. Wait until they are done, or stop them.";
pub const PHOTO_PROGRESS: &str = "Photos done";
pub const PHOTO_OF_PROBLEM: &str = "Photo of the problem";
pub const STOP: &str = "Stop";
pub const NO_PICTURE: &str = "not on this device";
pub const NO_PICTURE_LONG: &str =
    "The picture is not on this device. The book came without it; what was written about it is here.";
pub const OPENING_PHOTO: &str = "Opening the photo…";
pub const ALL_PHOTOS: &str = "All photos";
pub const PHOTO_GONE: &str = "This photo is struck, or not in this book. The Book brings struck ones back.";
pub const CAPTION: &str = "What it shows";
pub const SAVE_PHOTO: &str = "Save changes";
pub const STRIKE_PHOTO: &str = "Strike this photo";
pub const SAVE_PICTURE: &str = "Save the picture as a file";
pub const SAVE_ORIGINAL: &str = "Save the original file";

// Drawing on it.
pub const DRAW_ON_IT: &str = "Draw on it";
pub const MARK_ARROW: &str = "Arrow";
pub const MARK_CIRCLE: &str = "Circle";
pub const MARK_WORDS: &str = "Words";
pub const MARK_TEXT: &str = "Words to put there";
pub const UNDO_MARK: &str = "Undo the last mark";
pub const MARKS_HINT: &str = "Pick one to draw over the picture. The picture itself stays as it is.";
pub const MARK_STROKE_HINT: &str = "Drag on the picture, or tap what is meant. Pick it again when done. With keys: Enter puts one in the \
     middle, the arrow keys move it, with Shift its end.";
pub const MARK_WORDS_HINT: &str = "Type the words, then tap where they belong. Pick it again when done. With keys: Enter puts them in \
     the middle, the arrow keys move them.";

// Where it belongs.
pub const PIN_TITLE: &str = "Where it belongs";
pub const PIN_LEGEND: &str = "Pinned to";
pub const PIN_SITE: &str = "The whole site";
pub const PIN_POINTS: &str = "Points";
pub const PIN_PLACE: &str = "A place on the plan";
pub const PIN_THING: &str = "A thing or problem";
pub const PIN_WHICH: &str = "At which points";
pub const PIN_PLACE_HINT: &str = "Tap the place, or move the pin with the arrow keys.";
pub const PIN_PLACE_LABEL: &str = "Place on the plan";
pub const PIN_THING_LABEL: &str = "Which thing or problem";

// Which way it looks.
pub const FACING_TITLE: &str = "Which way it looks";
pub const FACING_HINT: &str = "Drag on the drawing toward what it shows, or turn it with the + and − keys.";
pub const TURN_LEFT: &str = "Turn left";
pub const TURN_RIGHT: &str = "Turn right";
pub const NO_FACING: &str = "Not known";
pub const BY_COMPASS: &str = "By the phone's compass, now";
pub const NO_COMPASS: &str = "This phone told no direction. Hold it upright, as you took the photo, and away from metal; or drag \
     the view on the drawing.";
pub const NO_COMPASS_HERE: &str =
    "This browser tells pages nothing of the phone's compass: drag the view on the drawing, or turn it.";

/// A button's name, with whose photos it means.
pub fn photos_for(button: &str, whose: &str) -> String {
    if whose.is_empty() { tr(button).to_owned() } else { say!("{button}: {whose}") }
}

/// How far a run is.
pub fn photo_progress(now: usize, all: usize) -> String {
    say!("Photo {now} of {all}…")
}

/// Photos wait to be saved with what they show.
pub fn photos_ready(number: usize) -> String {
    say!("{} ready", count(number, "photo", "photos"))
}

/// What became of the photos picked: how many are new, were there already, were left out with why, and
/// were not looked at because the run was stopped.
pub fn photos_added(new: usize, there: usize, left_out: &[(String, String)], missing: usize) -> String {
    let mut said = vec![say!("{} added", count(new, "photo", "photos"))];
    if there > 0 {
        said.push(say!("{} here already", count(there, "was", "were")));
    }
    if missing > 0 {
        said.push(say!("stopped: {} left to add", count(missing, "one is", "are")));
    }
    let mut said = said.join(", ") + ".";
    if !left_out.is_empty() {
        let named = left_out.iter().take(5).map(|(name, why)| say!("{name} ({})", why.trim_end_matches('.')));
        let mut named: Vec<String> = named.collect();
        if left_out.len() > named.len() {
            named.push(say!("{} more", left_out.len() - named.len()));
        }
        said.push_str(&say!(" Left out: {}.", list(&named)));
    }
    said
}

/// The part that makes pictures small could not be had.
pub fn no_studio(why: &str) -> String {
    say!("Photos cannot be added now. Once you have a signal, try again ({why}).")
}

/// Where the next photos go.
pub fn photos_belong(pinned: &str) -> String {
    say!("New photos belong to: {pinned}.")
}

/// Where a photo belongs.
pub fn pinned(at: &At, of: Option<&EntryId>, record: &Record, names: &Names) -> String {
    of.and_then(|of| thing_named(of, record)).unwrap_or_else(|| super::entries::at(at, names))
}

/// What a feature or problem is called.
pub fn thing_named(entry: &EntryId, record: &Record) -> Option<String> {
    let feature = record.features.iter().find(|f| f.entry == *entry).map(|feature| {
        let f = &feature.what;
        let name = kind(&f.kind).map_or(f.kind.as_str(), |kind| kind.name);
        let points: Vec<_> = f.points.iter().take(3).map(|p| record.label(p).to_owned()).collect();
        let more = if f.points.len() > 3 { " …" } else { "" };
        let called = if f.name.is_empty() { String::new() } else { say!(", {}", f.name) };
        say!("{name} {}{more}{called}", list(&points))
    });
    let problem = (1..).zip(&record.problems).find(|(_, p)| p.entry == *entry);
    feature.or_else(|| problem.map(|(number, p)| say!("problem {number}: {}", problem_name(&p.what.kind))))
}

/// The heading of a photo.
pub fn photo_number(number: usize) -> String {
    say!("Photo {number}")
}

/// A photo in the list, for those who do not see it.
pub fn photo_title(number: usize, caption: &str, pinned: &str) -> String {
    let caption = if caption.is_empty() { String::new() } else { say!(": {caption}") };
    say!("Photo {number}{caption}, {pinned}")
}

/// What stands for a photo where it is not seen.
pub fn photo_alt(number: usize, caption: &str) -> String {
    if caption.is_empty() { say!("Photo {number}, not described yet") } else { caption.to_owned() }
}

/// A photo's name as a file.
pub fn photo_file(number: usize) -> String {
    format!("photo-{number}.jpg")
}

/// What is drawn over a photo.
pub fn marks_told(marks: usize) -> String {
    say!("Marks on the picture: {marks}")
}

/// Which way a photo looks: as said, as drawn (counter-clockwise from the plan's x), and by north.
pub fn facing(said: Option<Facing>, drawn: Option<Angle>, north: Option<&NorthArrow>) -> String {
    let waits = matches!(said, Some(Facing::Compass(_))) && (drawn.is_none() || north.is_none());
    let later = if waits { " It is drawn once north is known: see Site details." } else { "" };
    looks(said, drawn, north).map_or_else(|| say!("Not known."), |looks| say!("It {looks}.{later}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::NorthKind;

    #[test]
    fn a_run_says_what_became_of_every_file() {
        assert_eq!(photos_added(60, 0, &[], 0), "60 photos added.");
        let left_out = [("a.heic".to_owned(), "it could not be read.".to_owned())];
        assert_eq!(
            photos_added(1, 2, &left_out, 3),
            "1 photo added, 2 were here already, stopped: 3 are left to add. Left out: a.heic (it could not be read)."
        );
        let many = vec![("b".to_owned(), "w".to_owned()); 8];
        assert!(photos_added(0, 1, &many, 0).ends_with("b (w) and 3 more."));
    }

    #[test]
    fn a_view_is_told_from_north_where_north_is_known() {
        let north =
            NorthArrow { direction: Angle::RIGHT, kind: NorthKind::True, source: String::new(), sd: None };
        let right = Facing::Plan(Angle::ZERO);
        assert_eq!(facing(Some(right), Some(Angle::ZERO), Some(&north)), "It looks 90° from true north.");
        let needle = Facing::Compass(Angle::RIGHT);
        assert!(facing(Some(needle), None, None).starts_with("It looks 90° from magnetic north, by compass"));
        assert_eq!(facing(None, None, Some(&north)), "Not known.");
    }
}
