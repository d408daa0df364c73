//! A fraction written on a desk's keyboard, as it stands before it is a key of the pad.

use super::typed::{Key, Typed};
use crate::screens::later::at_once;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// What is written of it so far: `3/1`. Nothing where none is begun.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Half(Option<String>);

/// Why it is no fraction.
pub const NONE: &str = "Fractions of an inch are halves, quarters, eighths or sixteenths.";

/// What a press comes to: nothing where the key is none of the pad's, a sentence for the user where it is refused.
type Pressed = Option<Result<(), &'static str>>;

/// As [`Half::take`], once the later part is here: who measures before it writes no fractions on a keyboard.
pub fn written(half: &mut Half, sign: &str, typed: &mut Typed) -> Pressed {
    at_once(take(half, sign, typed)).flatten()
}

/// The same, once that part is here.
///
/// # Errors
/// When it is not.
#[wasm_split(screens, fallible, preload(fetch_fractions))]
pub fn take(half: &mut Half, sign: &str, typed: &mut Typed) -> Result<Pressed, SplitLoaderError> {
    Ok(half.take(sign, typed))
}

impl Half {
    /// Whether something is written of it.
    #[must_use]
    pub fn is_begun(&self) -> bool {
        self.0.as_ref().is_some_and(|written| !written.is_empty())
    }

    /// As it is shown behind the number.
    #[must_use]
    pub fn text(&self) -> String {
        self.0.as_ref().map_or_else(String::new, |written| format!(" {written}"))
    }

    /// Takes what a keyboard says, where it belongs to a fraction: a blank behind whole inches begins one, or a stroke,
    /// for which the figures before it go into the fraction. When it is complete it is pressed.
    ///
    /// # Errors
    /// A sentence for the user when that is no fraction; what was written of it is gone then.
    fn take(&mut self, sign: &str, typed: &mut Typed) -> Pressed {
        // A key that writes nothing, as the one that is held for a stroke on some keyboards.
        if sign.chars().count() > 1 && !["Backspace", "Enter"].contains(&sign) {
            return None;
        }
        let written = match (self.0.take(), sign) {
            (None, " ") if typed.ends_in_figure() => String::new(),
            // As it is written behind the feet, or twice.
            (written, " ") if written.as_ref().is_none_or(String::is_empty) => {
                self.0 = written;
                return Some(Ok(()));
            }
            (None, "/") => typed.take_figures() + "/",
            (Some(written), "Backspace") if !written.is_empty() => {
                let mut rest = written.chars();
                self.0 = rest.next_back().map(|_| rest.as_str().to_owned()).filter(|rest| !rest.is_empty());
                return Some(Ok(()));
            }
            (Some(written), "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9" | "/") => {
                written + sign
            }
            (Some(written), _) if !written.is_empty() => return Some(Err(NONE)),
            _ => return None,
        };
        let whole = |text: &str| text.parse::<u8>().ok().filter(|number| *number > 0);
        match written.split_once('/') {
            None if written.len() < 3 => self.0 = Some(written),
            Some((above, "" | "1")) if whole(above).is_some_and(|above| above < 16) => self.0 = Some(written),
            Some((above, below @ ("2" | "4" | "8" | "16"))) => {
                let sixteenths =
                    whole(above).zip(whole(below)).map(|(above, below)| above.saturating_mul(16 / below));
                let Some(sixteenths) = sixteenths.filter(|n| *n < 16) else { return Some(Err(NONE)) };
                return Some(typed.press(Key::Sixteenths(sixteenths)));
            }
            _ => return Some(Err(NONE)),
        }
        Some(Ok(()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::UnitSystem::FeetInches;

    fn written(text: &str) -> Result<String, &'static str> {
        let (mut half, mut typed) = (Half::default(), Typed::new(FeetInches));
        for sign in text.chars() {
            let said = half.take(&sign.to_string(), &mut typed).unwrap_or_else(|| match sign {
                '\'' => typed.press(Key::Feet),
                '"' => typed.press(Key::Inches),
                figure => typed.press(Key::Digit(
                    u8::try_from(figure.to_digit(10).unwrap_or_default()).unwrap_or_default(),
                )),
            });
            said?;
        }
        Ok(typed.text() + &half.text())
    }

    #[test]
    fn a_reading_is_written_as_on_paper() {
        for text in ["62' 3 5/8\"", "62' 11/16\"", "3 1/2\"", "62' 3 1/16\"", "7' 1/4\""] {
            assert_eq!(written(text.trim_end_matches('"')), Ok(text.to_owned()), "{text}");
            assert_eq!(written(&text.replace("' ", "'")), Ok(text.to_owned()), "{text}");
        }
        let (mut half, mut typed) = (Half(Some("5".to_owned())), Typed::new(FeetInches));
        assert_eq!(half.take("Shift", &mut typed), None);
        assert_eq!(half.text(), " 5");
        assert_eq!(written("62'3 5/"), Ok("62' 3\" 5/".to_owned()));
        assert_eq!(written("62'3 5/7"), Err(NONE));
        assert_eq!(written("62'3 9/8"), Err(NONE));
        assert_eq!(written("62'3 0/8"), Err(NONE));
    }
}
