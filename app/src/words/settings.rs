//! Settings: each with its name and one line of what it does.

use super::length;
use swingtie_core::record::{How, UnitSystem};
use swingtie_core::units::Length;

pub const SETTINGS: &str = "Settings";
pub const SETTINGS_KEPT: &str = "Kept on this device, for all sites. Each works at once.";

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
    format!(
        "In {bare}. Leave it empty to go by what is usual: about {} in {}.",
        length(usual, units),
        length(far, units)
    )
}

/// What was typed is no such figure.
pub const CLOSENESS_WRONG: &str = "Not understood, so the usual figure counts. Type a number such as 1/4.";
/// As [`CLOSENESS_WRONG`], in metric.
pub const CLOSENESS_WRONG_METRIC: &str =
    "Not understood, so the usual figure counts. Type a number of millimetres such as 5.";

#[cfg(test)]
mod tests {
    use super::*;

    // Of a steel tape: 5 mm and 0.4 mm a metre, as `How::sd_of` says.
    #[test]
    fn the_usual_closeness_is_told_in_the_units_of_new_sites() {
        let told = closeness_hint(&How::default(), UnitSystem::Metres);
        assert!(told.contains("0.011 m in 15.000 m"), "{told}");
        let told = closeness_hint(&How::default(), UnitSystem::FeetInches);
        assert!(told.contains("7/16\" in 50' 0\""), "{told}");
    }
}
