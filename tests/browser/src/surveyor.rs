//! Somebody with a tape, using the app's screens by what they say.

use crate::{Device, Outcome, Phone};
use std::path::Path;
use swingtie_core::record::Side;

/// Somebody at work on a phone. Names of controls are those of the screens (`app/src/words`).
#[derive(Debug)]
pub struct Surveyor<'a, D = Phone> {
    phone: &'a D,
}

// By hand: a device is not copied with who holds it.
impl<D> Clone for Surveyor<'_, D> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<D> Copy for Surveyor<'_, D> {}

impl<'a, D: Device> Surveyor<'a, D> {
    /// Takes the phone up.
    #[must_use]
    pub const fn with(phone: &'a D) -> Self {
        Self { phone }
    }

    /// Starts a site and is then on its plan.
    ///
    /// # Errors
    /// When a control is missing or the plan does not open.
    pub async fn new_site(self, name: &str) -> Outcome {
        self.phone.tap("link", "New site").await?;
        self.phone.fill("Site name", name).await?;
        self.phone.tap("button", "Start measuring").await?;
        self.phone.find("button", "Measure").await?;
        Ok(())
    }

    /// A house of 40 by 30 feet in a new site of this name, walked round: four points with a place.
    ///
    /// # Errors
    /// When something on the way is not there.
    pub async fn new_house(self, site: &str) -> Outcome {
        self.new_site(site).await?;
        self.start("Walk the walls").await?;
        self.point("H1").await?;
        for (corner, length) in [("H2", "40'"), ("H3", "30'"), ("H4", "40'")] {
            if corner != "H2" {
                self.press("left, square").await?;
            }
            self.point(corner).await?;
            self.number(length).await?;
            self.save(&format!("to {corner} · {length}")).await?;
        }
        self.press("Back").await
    }

    /// Takes a file in, from the list of sites, and is then on its plan.
    ///
    /// # Errors
    /// When it is not taken in.
    pub async fn bring_in(self, file: &Path) -> Outcome {
        self.phone.hand_over("Open a file", file).await?;
        self.press("Take it in").await?;
        self.phone.find("button", "Measure").await?;
        Ok(())
    }

    /// Sends everything of the open site and gives the package's name and bytes; the list of sites is open then.
    ///
    /// # Errors
    /// When there is no package.
    pub async fn send_everything(self) -> Outcome<(String, Vec<u8>)> {
        self.go("Sheet").await?;
        self.phone.tap("link", "Send everything to the designer").await?;
        self.press("Save the package").await?;
        let package = self.phone.download_ending(".zip").await?;
        self.phone.tap("link", "All sites").await?;
        Ok(package)
    }

    /// Goes to one of a site's four destinations.
    ///
    /// # Errors
    /// When there is no such link.
    pub async fn go(self, destination: &str) -> Outcome {
        self.phone.tap("link", destination).await
    }

    /// Starts a measurement of this kind from the plan.
    ///
    /// # Errors
    /// When the plan's panel offers none.
    pub async fn start(self, kind: &str) -> Outcome {
        let open = self.phone.look().await?;
        let lies_over = |look: &crate::Look| look.find("group", "how it is taken").is_some();
        if lies_over(&open) {
            self.phone.tap("button", "Back").await?;
            self.phone.wait("the measurement under it", |look| !lies_over(look)).await?;
        }
        if open.find("button", "Back").is_some() {
            self.phone.tap("button", "Back").await?;
        }
        self.phone.tap("button", "Measure").await?;
        let look = self.phone.wait("the kinds", |look| look.find("button", "More kinds").is_some()).await?;
        if look.find("button", kind).is_none() {
            self.phone.tap("button", "More kinds").await?;
        }
        self.phone.tap("button", kind).await?;
        self.phone.find("heading", kind).await?;
        Ok(())
    }

    /// Tapes between two points, on the right where a side is asked for, and is then on the plan again.
    ///
    /// # Errors
    /// When something on the way is not there, or it is not saved as read.
    pub async fn tie(self, from: &str, to: &str, length: &str) -> Outcome {
        self.start("Tape between two points").await?;
        self.point(from).await?;
        self.point(to).await?;
        self.number(length).await?;
        if self.asked_for_a_side().await?.is_some() {
            self.side(Side::Right).await?;
        }
        self.save(&format!("{to} from {from} · {length}")).await?;
        self.press("Back").await
    }

    /// Puts the focus on one part of the measurement under way.
    ///
    /// # Errors
    /// When it has no such part.
    pub async fn part(self, name: &str) -> Outcome {
        let start = format!("{name}: ");
        let wish = format!("the part {name:?} of the measurement");
        let look = self
            .phone
            .wait(&wish, |look| look.all("button", |n| n.starts_with(&start)).next().is_some())
            .await?;
        let node = look.all("button", |n| n.starts_with(&start)).next().ok_or("the part went away")?.clone();
        if node.on { Ok(()) } else { self.phone.tap_node(&node).await }
    }

    /// Names a point, new or known, in the part in focus.
    ///
    /// # Errors
    /// When no point is asked for.
    pub async fn point(self, label: &str) -> Outcome {
        self.phone.fill("Label", label).await?;
        let names = [format!("Use {label}"), format!("New point {label}")];
        let fits = |name: &str| names.iter().any(|one| one.eq_ignore_ascii_case(name));
        let wish = format!("a button for the point {label}");
        let look = self.phone.wait(&wish, |look| look.all("button", fits).next().is_some()).await?;
        let node = look.all("button", fits).next().ok_or("the button went away")?.clone();
        self.phone.tap_node(&node).await
    }

    /// Types a length on the keypad, key by key: `4' 5 3/4"`.
    ///
    /// # Errors
    /// When a key is missing or the pad shows something else than was typed.
    pub async fn number(self, text: &str) -> Outcome {
        self.phone.find("button", "clear").await?;
        self.phone.tap("button", "clear").await?;
        for key in keys(text) {
            self.phone.tap("button", key).await?;
        }
        self.phone.wait(&format!("the pad to show {text}"), |look| look.says(text)).await?;
        Ok(())
    }

    /// Types an angle on the keypad, key by key: `84° 30'` (minutes need no key of their own).
    ///
    /// # Errors
    /// As [`Self::number`].
    pub async fn angle(self, text: &str) -> Outcome {
        self.phone.tap("button", "clear").await?;
        for sign in text.chars().filter(|sign| !matches!(sign, ' ' | '\'')) {
            let key = if sign == '°' { Some("degrees") } else { key(sign) };
            self.phone.tap("button", key.ok_or("no such key")?).await?;
        }
        self.phone.wait(&format!("the pad to show {text}"), |look| look.says(text)).await?;
        Ok(())
    }

    /// Says on which side, walking from one point to another.
    ///
    /// # Errors
    /// When no side is asked for.
    pub async fn side(self, side: Side) -> Outcome {
        let start = if side == Side::Left { "left, walking" } else { "right, walking" };
        let wish = format!("a button {start:?}");
        let look = self
            .phone
            .wait(&wish, |look| look.all("button", |n| n.starts_with(start)).next().is_some())
            .await?;
        let node = look.all("button", |n| n.starts_with(start)).next().ok_or("the button went away")?.clone();
        self.phone.tap_node(&node).await
    }

    /// Presses the button of this name.
    ///
    /// # Errors
    /// When there is none.
    pub async fn press(self, name: &str) -> Outcome {
        self.phone.tap("button", name).await
    }

    /// After the number of a tie: goes on to the side where two mirror places are open, and hands
    /// back the line it is asked about.
    ///
    /// # Errors
    /// When the pad offers neither Save nor Next.
    pub async fn asked_for_a_side(self) -> Outcome<Option<(String, String)>> {
        let on = |look: &crate::Look| {
            ["Save", "Next"].into_iter().find(|name| look.find("button", name).is_some())
        };
        let look = self.phone.wait("Save or Next", |look| on(look).is_some()).await?;
        if on(&look) == Some("Save") {
            return Ok(None);
        }
        self.press("Next").await?;
        let start = "left, walking from ";
        let look = self
            .phone
            .wait("the question for the side", |look| {
                look.all("button", |n| n.starts_with(start)).next().is_some()
            })
            .await?;
        let line = look
            .all("button", |n| n.starts_with(start))
            .next()
            .map(|node| node.name.clone())
            .unwrap_or_default();
        let (from, to) = line.trim_start_matches(start).split_once(" to ").ok_or("no line is named")?;
        Ok(Some((from.to_owned(), to.to_owned())))
    }

    /// Presses Save, keeps the value if the plan expected another, and waits until the panel says
    /// that this was the last thing saved and has gone on: it is of another height then.
    ///
    /// # Errors
    /// When it is not saved in time.
    pub async fn save(self, read_back: &str) -> Outcome {
        self.press("Save").await?;
        let keep = |look: &crate::Look| look.all("button", |name| name.starts_with("Keep ")).next().cloned();
        let wish = format!("the last thing saved to be {read_back:?}");
        let look = self.phone.wait(&wish, |look| saved(look, read_back) || keep(look).is_some()).await?;
        if let Some(keep) = keep(&look) {
            self.phone.tap_node(&keep).await?;
        }
        let gone_on = |look: &crate::Look| look.find("button", "Save").is_none_or(|save| save.disabled);
        self.phone.wait(&wish, |look| saved(look, read_back) && gone_on(look)).await?;
        Ok(())
    }

    /// Reads the rod on this point, from the level under way, and waits until it is the last thing saved.
    ///
    /// # Errors
    /// When no level reading is under way, or it is not saved in time.
    pub async fn level(self, point: &str, text: &str) -> Outcome {
        let look = self.phone.wait("a level under way", |look| look.find("button", "Back").is_some()).await?;
        if look.find("button", &format!("on: {point}")).is_none() {
            self.point(point).await?;
        }
        self.number(text).await?;
        self.save(&format!("{point}: {text}")).await
    }

    /// Records a feature of this kind through these points.
    ///
    /// # Errors
    /// When the panel offers no such kind or it is not saved.
    pub async fn feature(self, kind: &str, points: &[&str]) -> Outcome {
        if self.phone.look().await?.find("button", "Back").is_some() {
            self.press("Back").await?;
        }
        self.press("Thing").await?;
        self.press(kind).await?;
        for point in points {
            self.point(point).await?;
        }
        self.press("Save thing").await?;
        // Said as soon as it is stored; a frame later its form has gone.
        let wish = format!("the last thing saved to be a {kind}, and its form gone");
        self.phone.wait(&wish, |look| saved(look, kind) && look.find("button", "Back").is_none()).await?;
        Ok(())
    }

    /// Says where on earth a point is and which way a line goes, on the site's details.
    ///
    /// # Errors
    /// When a field is missing or the app does not take it.
    pub async fn say_where(
        self,
        at: &str,
        latitude: &str,
        longitude: &str,
        from: &str,
        to: &str,
        bearing: &str,
    ) -> Outcome {
        self.go("Problems").await?;
        self.phone.tap_containing("link", "Site details").await?;
        self.phone.choose("At which point", at).await?;
        self.phone.fill("Latitude, degrees north", latitude).await?;
        self.phone.fill("Longitude, degrees east", longitude).await?;
        self.press("Save place").await?;
        self.phone.choose("Line from", from).await?;
        self.phone.choose("Line to", to).await?;
        self.phone.fill("Bearing, degrees", bearing).await?;
        self.press("True north").await?;
        self.press("Save north").await
    }

    /// Presses a download's button and reads the file.
    ///
    /// # Errors
    /// When no such file comes.
    pub async fn take(self, button: &str, file: &str) -> Outcome<String> {
        self.press(button).await?;
        self.phone.download(file).await
    }
}

/// Whether the panel's line about the last thing saved ends with these words, letter case aside.
fn saved(look: &crate::Look, words: &str) -> bool {
    let words = words.to_lowercase();
    look.nodes.iter().any(|node| {
        let line = node.name.to_lowercase();
        line.starts_with("last: ") && line.contains(&words)
    })
}

/// The keys that type a length, by their names on the pad.
fn keys(text: &str) -> Vec<&'static str> {
    let mut keys = Vec::new();
    for word in text.split_whitespace() {
        if let Some(fraction) = fraction(word.trim_end_matches('"')) {
            keys.push(fraction);
            continue;
        }
        keys.extend(word.chars().filter_map(key));
    }
    keys
}

/// The pad's key for a fraction as one writes it.
#[must_use]
pub fn fraction(word: &str) -> Option<&'static str> {
    Some(match word {
        "1/8" => "one eighth",
        "1/4" => "one quarter",
        "3/8" => "three eighths",
        "1/2" => "one half",
        "5/8" => "five eighths",
        "3/4" => "three quarters",
        "7/8" => "seven eighths",
        _ => return None,
    })
}

fn key(sign: char) -> Option<&'static str> {
    const DIGITS: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
    match sign {
        '-' => Some("minus"),
        '.' => Some("point"),
        '\'' => Some("feet"),
        // The pad takes what follows the feet for inches.
        _ => DIGITS.get(sign.to_digit(10)? as usize).copied(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_typed_key_by_key() {
        assert_eq!(keys("14' 5 3/4\""), ["1", "4", "feet", "5", "three quarters"]);
        assert_eq!(keys("-0' 1 1/2\""), ["minus", "0", "feet", "1", "one half"]);
        assert_eq!(keys("12' 0\""), ["1", "2", "feet", "0"]);
    }
}
