//! The browser and the phone: the only code besides the store that talks to them directly.

pub mod able;
mod clock;
mod files;
pub mod language;
mod photo;
mod position;
pub mod prefs;
mod screen;
pub mod share;
mod signal;
mod update;
mod voice;
mod wake;
mod windows;

pub use able::ask_to_keep_once;
pub use clock::{
    day_and_month, instant, local_day, local_minute, local_time, minutes_east_now, morning, now_ms,
    random_id, sleep, this_minute, this_second, today,
};
pub use files::{FileError, download, object_url, picked_file, read_bytes, read_text, revoke_url, text_url};
pub use photo::{Studio, look_through_compass, picked_files};
pub use position::{Averaged, average_position};
pub use screen::{breath, hand_rests, scale_signs, shown, wide_screen};
pub use signal::Signal;
pub use update::{NewVersion, watch_for_updates};
pub use voice::{fetch_voice, reads_aloud, say_aloud, set_reads_aloud};
use wake::call;
pub use wake::{look_at_awake_again, stay_awake};
pub use windows::Windows;

use leptos::prelude::window;

/// A small text this device remembers at once, such as where the user was or what is half typed;
/// never what was said in a book.
pub fn remembered(key: &str) -> Option<String> {
    window().local_storage().ok().flatten()?.get_item(key).ok().flatten()
}

/// Forgets it.
pub fn forget(key: &str) {
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.remove_item(key);
    }
}

/// Remembers it; a device that does not let it be is no error.
pub fn remember(key: &str, value: &str) {
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.set_item(key, value);
    }
}
