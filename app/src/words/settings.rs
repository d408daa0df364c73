//! Settings: each with its name and one line of what it does.

use super::length;
use swingtie_core::record::{How, UnitSystem};
use swingtie_core::units::Length;

pub const SETTINGS: &str = "Settings";
pub const SETTINGS_KEPT: &str = "Kept on this device, for all sites. Each works at once.";

pub const LANGUAGE: &str = "Language · Idioma";
pub const LANGUAGE_HINT: &str =
    "Sheets and reports made here speak it too. What was written stays in the words in which it was written.";

pub const LOOKS: &str = "How it looks";
pub const THEME: &str = "Light or dark";
pub const THEMES: [(&str, &str); 4] =
    [("", "As the device"), ("light", "Light"), ("dark", "Dark"), ("sun", "Sunlight")];
pub const THEME_HINT: &str = "Sunlight is black on white with heavy lines, for glare.";
pub const TEXT_SIZE: &str = "Size of text";
pub const TEXT_SIZES: [(&str, &str); 3] = [("", "Normal"), ("large", "Large"), ("extra", "Extra large")];
pub const TEXT_SIZE_HINT: &str = "Large is a third more than normal, extra large two thirds.";
pub const FINENESS: &str = "Worked-out lengths";
pub const FINENESSES: [(&str, &str); 2] = [("no", "As fine as a tape"), ("yes", "Rounded")];
pub const FINENESS_HINT: &str =
    "To 1/16 inch, 0.01 ft or 1 mm; rounded to 1/4 inch, 0.1 ft or 1 cm. What you type stays as typed.";
pub const HAND: &str = "Hand you hold the phone in";
pub const HANDS: [(&str, &str); 2] = [("left", "Left hand"), ("", "Right hand")];
pub const HAND_HINT: &str = "Keys and buttons move to where that thumb reaches.";

pub const TELLS: &str = "How it tells you";
pub const BUZZ: &str = "Vibration";
pub const BUZZ_HINT: &str =
    "One short buzz: saved. Two long ones: look, there is a question. Not every phone can.";
pub const BEEP: &str = "Sound";
pub const BEEP_HINT: &str = "One high beep: saved. Two low ones: look, there is a question.";
pub const TRY_SAVED: &str = "Try: saved";
pub const TRY_ASKED: &str = "Try: a question";
pub const READ_ALOUD: &str = "Read back aloud";
pub const READ_ALOUD_HINT: &str =
    "Says each reading as it is saved, figure by figure, so that a wrong one is heard.";
pub const AWAKE: &str = "Keep the screen on";
pub const AWAKE_HINT: &str = "While a site is open. Turn it off to save the battery.";
/// In place of the hints above, where the browser cannot.
pub const NO_BUZZ: &str = "This browser cannot make the phone buzz. Turn the sound on: it tells the same.";
pub const NO_VOICE: &str =
    "This browser has no voice. What was saved last stands over the keys: one reads it, the other listens.";
pub const NO_AWAKE: &str = "This browser cannot keep the screen on. In the phone's own settings, let it stay on longer; what is half \
     typed is kept when it goes dark.";
pub const ON_OFF: [(&str, &str); 2] = [("yes", "On"), ("no", "Off")];

pub const NEW_SITES: &str = "What new sites start with";
pub const NEW_SITES_HINT: &str =
    "A site you have already started keeps its own: change it under its details.";
pub const USUAL_UNITS: &str = "Lengths are read in";
pub const USUAL_SURVEYOR: &str = "Your name";
pub const USUAL_SURVEYOR_HINT: &str = "Stands on the sheet of new sites as who measures, and goes with what you send, so that others see by whom it \
     is written. May stay empty.";
pub const USUAL_TAPE: &str = "You measure with";
pub const USUAL_TAPE_HINT: &str = "Until you say otherwise on a reading; then the last one stays.";
pub const CLOSENESS: &str = "How close it reads, plus or minus";

/// What to expect of an instrument whose user says nothing of it.
pub fn closeness_hint(how: &How, units: UnitSystem) -> String {
    let (far, bare) = match units {
        UnitSystem::Metres => (Length::from_metres(15.0), "millimetres"),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => (Length::from_feet(50.0), "inches"),
    };
    let usual = How { sd: None, ..how.clone() }.sd_of(far);
    say!(
        "In {bare}. Leave it empty to go by what is usual: about {} in {}.",
        length(usual, units),
        length(far, units)
    )
}

pub const BROWSER: &str = "This browser";
pub const IS_KEPT: &str =
    "It has agreed not to clear by itself what you record here, even when the device is short of room.";
pub const MAY_CLEAR: &str = "It may clear by itself what you record here: when the device is short of room, or after weeks without a \
     visit. So send each site, or save its package, before you leave the yard.";
pub const ASK_TO_KEEP: &str = "Ask it to keep everything";
pub const NOT_AGREED: &str =
    "It did not agree. Some browsers agree once the page is on the home screen, or used often.";
pub const CLEARED_BY_HAND: &str =
    "Clearing the browser's data for this page, or removing the app, deletes all sites on this device.";
pub const HOME_SCREEN: &str = "On the home screen Swingtie opens like any app, also without a signal.";
pub const INSTALL: &str = "Put it on the home screen";
pub const INSTALL_BY_HAND: &str = "In the browser's menu, or under Share, look for Add to Home Screen or Install. Not every browser has it.";
pub const INSTALLED: &str = "It is open that way now.";
pub const MAY_BE_CLEARED: &str = "This browser may clear sites by itself.";
pub const WHAT_TO_DO: &str = "What to do";

/// How much room there is, in bytes used and bytes altogether.
#[must_use]
pub fn room(used: u64, whole: u64) -> String {
    let photos = whole.saturating_sub(used) / USUAL_PHOTO;
    let photos = match photos {
        0..10 => say!("hardly a photo"),
        10..1000 => say!("about {} photos", photos / 10 * 10),
        _ => say!("more than 1,000 photos"),
    };
    say!("Swingtie uses {} here; there is room for {photos} more.", super::package::size(used))
}

/// Bytes of a photo of 2048 pixels in JPEG with its small one: a rich picture of a garden; common practice, no source.
const USUAL_PHOTO: u64 = 1_000_000;

/// What was typed is no such figure.
pub const CLOSENESS_WRONG: &str = "Not understood, so the usual figure counts. Type a number such as 1/4.";
/// As [`CLOSENESS_WRONG`], in metric.
pub const CLOSENESS_WRONG_METRIC: &str =
    "Not understood, so the usual figure counts. Type a number of millimetres such as 5.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn room_is_told_in_photos() {
        assert!(room(5_000_000, 6_000_000).ends_with("room for hardly a photo more."));
        assert!(room(0, 57_000_000).ends_with("room for about 50 photos more."));
        assert!(room(9, 3).contains("hardly a photo"));
    }

    // Of a steel tape: 5 mm and 0.4 mm a metre, as `How::sd_of` says.
    #[test]
    fn the_usual_closeness_is_told_in_the_units_of_new_sites() {
        let told = closeness_hint(&How::default(), UnitSystem::Metres);
        assert!(told.contains("0.011 m in 15.000 m"), "{told}");
        let told = closeness_hint(&How::default(), UnitSystem::FeetInches);
        assert!(told.contains("7/16\" in 50' 0\""), "{told}");
    }
}
