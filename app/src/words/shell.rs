//! Navigation, saving, and what goes wrong.

use crate::state::SaveError;
use crate::store::StoreError;

pub const CLOSE: &str = "Close";
pub const CANCEL: &str = "Cancel";
pub const BACK_TO_SITES: &str = "All sites";
pub const OPENING: &str = "Opening the field book…";
pub const NEW_VERSION: &str = "A new version is ready. Nothing you recorded changes.";
pub const USE_IT: &str = "Use it now";
pub const LATER: &str = "Later";
pub const HELD: &str = "Swingtie is open in another window, in an older version. Close that window: this one then goes on by itself. \
     Nothing you recorded changes.";
pub const ONLY_READING: &str = "A newer version of Swingtie has written on this device. This older one shows what it can and saves nothing. Load \
     the page again for the newer one.";
pub const TAKEN_OVER: &str = "A newer version of Swingtie goes on in another window. What you recorded is safe; this window saves nothing more. \
     Load it again to go on here.";
pub const TAKEN_AWAY: &str = "The browser has closed what Swingtie keeps on this device, as when site data are cleared. This window saves nothing \
     more. Load it again to see what is there.";
pub const LOAD_AGAIN: &str = "Load again";
pub const TABS: &str = "Site";
pub const PLAN: &str = "Plan";
pub const BOOK: &str = "Book";
pub const PROBLEMS: &str = "Problems";
pub const SHEET: &str = "Sheet";
pub const STILL_SAVING: &str = "Still saving the last one. Tap again in a moment.";
pub const SITE_GONE: &str = "This site is not on this device.";

pub const NO_SCREENS: &str = "This part of Swingtie could not be fetched. What you recorded is safe, and the plan works. \
     Once you have a signal, try again.";

/// Something said was not saved.
pub fn not_saved(error: &SaveError) -> String {
    say!("Not saved: {}. What you entered is still on the screen; try again.", error.to_string())
}

/// The store cannot be used.
pub fn no_store(error: &StoreError) -> String {
    say!(
        "Swingtie keeps everything on this device, and cannot: {}. \
         A private window or blocked site data may be the cause. Nothing was lost.",
        error.to_string()
    )
}

/// A site cannot be opened.
pub fn cannot_open(error: &StoreError) -> String {
    say!("The site could not be opened: {}. It is still on this device; try again.", error.to_string())
}

/// Lines of the book that cannot be read.
pub fn damaged(lines: usize) -> String {
    say!(
        "{} of this book could not be read. They stay stored and are left out of the plan.",
        super::count(lines, "line", "lines")
    )
}

/// Entries a newer version wrote.
pub fn not_understood(entries: usize) -> String {
    say!(
        "{} written by a newer version: kept, but left out of the plan.",
        super::count(entries, "entry was", "entries were")
    )
}
/// An entry was written, in words that are not here yet.
pub const WRITTEN: &str = "written in the book";
