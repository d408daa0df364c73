//! How what is typed is written and said.

use super::typed::Key;
use swingtie_core::language::tr;

/// What the keys pressed so far amount to.
#[derive(Default)]
pub struct Parts {
    /// The feet, as typed.
    pub feet: Option<String>,
    /// The inches, as typed.
    pub inches: Option<String>,
    /// The fraction of an inch.
    pub sixteenths: Option<u8>,
    /// The metric unit.
    pub unit: Option<Key>,
    /// Figures that have no unit yet.
    pub pending: String,
    /// Nothing but a unit or fraction can follow.
    pub closed: bool,
}

/// A number and its unit; nothing when there is no number.
pub fn with_unit(number: &str, unit: &str) -> String {
    if number.is_empty() { String::new() } else { format!("{number} {unit}") }
}

/// Feet, inches and fraction as they are written.
pub fn feet_inches(parts: &Parts) -> String {
    let mut text = String::new();
    if let Some(feet) = &parts.feet {
        // `12.54'` is written with its unit spelled out: a mark after decimals is easily misread.
        if feet.contains('.') && parts.inches.is_none() && parts.sixteenths.is_none() {
            return format!("{feet} ft");
        }
        text = format!("{feet}'");
    }
    let inches = parts.inches.clone().unwrap_or_default();
    let fraction = parts.sixteenths.map(fraction_text).unwrap_or_default();
    let spaced: Vec<&str> =
        [inches.as_str(), fraction.as_str()].into_iter().filter(|t| !t.is_empty()).collect();
    if !spaced.is_empty() {
        let gap = if text.is_empty() { "" } else { " " };
        text = format!("{text}{gap}{}\"", spaced.join(" "));
    }
    text.push_str(&parts.pending);
    text
}

/// Sixteenths as a fraction in lowest terms: 8 is `1/2`.
#[must_use]
pub fn fraction_text(sixteenths: u8) -> String {
    let (mut above, mut below) = (sixteenths, 16);
    while above % 2 == 0 && above > 0 {
        (above, below) = (above / 2, below / 2);
    }
    format!("{above}/{below}")
}

/// Sixteenths as spoken: 8 is "one half", 3 is "three sixteenths".
#[must_use]
pub fn fraction_name(sixteenths: u8) -> &'static str {
    match sixteenths {
        1 => "one sixteenth",
        2 => "one eighth",
        3 => "three sixteenths",
        4 => "one quarter",
        5 => "five sixteenths",
        6 => "three eighths",
        7 => "seven sixteenths",
        8 => "one half",
        9 => "nine sixteenths",
        10 => "five eighths",
        11 => "eleven sixteenths",
        12 => "three quarters",
        13 => "thirteen sixteenths",
        14 => "seven eighths",
        15 => "fifteen sixteenths",
        _ => "",
    }
}

/// Feet, inches and fraction as people say them.
pub fn spoken_feet(parts: &Parts) -> String {
    let mut words = Vec::new();
    if let Some(feet) = &parts.feet {
        words.push(say!("{feet} {}", if feet == "1" { "foot" } else { "feet" }));
    }
    let fraction = parts.sixteenths.map(|n| match n {
        4 => say!("a quarter"),
        8 => say!("a half"),
        n => tr(fraction_name(n)).to_owned(),
    });
    match (&parts.inches, fraction) {
        (Some(inches), Some(fraction)) => words.push(say!("{inches} and {fraction}")),
        (Some(inches), None) => words.push(inches.clone()),
        (None, Some(fraction)) => {
            words.push(if words.is_empty() { fraction } else { say!("and {fraction}") });
        }
        (None, None) => {}
    }
    // After feet the inches need no name, as people say it; alone, or as a bare fraction, they do.
    let bare = parts.inches.is_none() && parts.sixteenths.is_some();
    if (parts.feet.is_none() && parts.inches.is_some()) || bare {
        let unit = if bare || parts.inches.as_deref() == Some("1") { "inch" } else { "inches" };
        words.push(tr(unit).to_owned());
    }
    if !parts.pending.is_empty() {
        words.push(parts.pending.clone());
    }
    words.join(" ")
}

/// A fraction of sixteenths at the start of a text, and how long it is: `1/2` is (8, 3).
pub fn fraction_at(text: &str) -> Option<(u8, usize)> {
    (1..16)
        .map(|n| (n, fraction_text(n)))
        .find(|(_, f)| {
            text.strip_prefix(f.as_str()).is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()))
        })
        .map(|(n, f)| (n, f.len()))
}
