//! The language in which people are told things.
//!
//! What is written for people in this crate and in the app is written in English, and read through here: a
//! table may hold the same text in another language. A text is found by its English words, with its gaps as
//! they stand in the source (`"{label} is loose"`); what is missing in the table stays English.
//!
//! The language is that of the whole program, set once before anything is said, as the reader's own is. It is
//! no part of any computation: entries, the keys by which they and the lines of the list are known, and the numbers
//! of all files are the same in every language; sentences in a file are in that of whoever made it. Only the reader
//! of a typed number asks, where the language has a comma before decimals.

use litemap::LiteMap;
use std::borrow::Cow;
use std::cell::Cell;
use std::fmt::Write;

thread_local! {
    static SPOKEN: Cell<Option<&'static Language>> = const { Cell::new(None) };
}

struct Language {
    texts: LiteMap<&'static str, &'static str>,
    tag: &'static str,
    decimal: char,
}

/// From now on this is the language: its tag (RFC 5646), its texts, each a line of the English, a tab, and the other
/// (`\n` stands for a new line within one), and the sign between a number's whole part and its decimals.
///
/// What is handed in is kept for as long as the program runs.
pub fn speak(tag: &str, table: String, decimal: char) {
    let table: &'static str = table.leak();
    let mut texts = LiteMap::new();
    // One after the other: to collect them would compile a sort of its own, and the lines come sorted.
    for (english, other) in table.lines().filter_map(|line| line.split_once('\t')) {
        texts.insert(unfolded(english), unfolded(other));
    }
    SPOKEN.set(Some(Box::leak(Box::new(Language { tag: tag.to_owned().leak(), texts, decimal }))));
}

/// A line's text with its own line ends.
fn unfolded(line: &'static str) -> &'static str {
    if line.contains("\\n") { line.replace("\\n", "\n").leak() } else { line }
}

/// The same in the reader's language.
#[must_use]
pub fn tr(text: &str) -> &str {
    SPOKEN.get().and_then(|language| language.texts.get(text).copied()).unwrap_or(text)
}

/// The language's tag (RFC 5646).
#[must_use]
pub fn tag() -> &'static str {
    SPOKEN.get().map_or("en", |language| language.tag)
}

/// The sign between a number's whole part and its decimals.
#[must_use]
pub fn decimal() -> char {
    SPOKEN.get().map_or('.', |language| language.decimal)
}

/// A number that was written with a point, as the reader writes it.
#[must_use]
pub fn number(written: String) -> String {
    match decimal() {
        '.' => written,
        sign => written.replacen('.', sign.encode_utf8(&mut [0; 4]), 1),
    }
}

/// What can stand in a gap of a text.
pub trait Told {
    /// Adds itself.
    fn tell(&self, to: &mut String);
}

/// A text that is the program's own is told in the reader's language. What the program never says is somebody's
/// own and stays.
impl Told for str {
    fn tell(&self, to: &mut String) {
        to.push_str(tr(self));
    }
}

/// What was put together has been told already.
impl Told for String {
    fn tell(&self, to: &mut String) {
        to.push_str(self);
    }
}

impl Told for Cow<'_, str> {
    fn tell(&self, to: &mut String) {
        match self {
            Cow::Borrowed(text) => text.tell(to),
            Cow::Owned(text) => text.tell(to),
        }
    }
}

impl<T: Told + ?Sized> Told for &T {
    fn tell(&self, to: &mut String) {
        (*self).tell(to);
    }
}

/// Anything else that is written: a number, a sign, a fault.
pub struct Written<T>(pub T);

impl<T: std::fmt::Display> Told for Written<T> {
    fn tell(&self, to: &mut String) {
        // A String takes everything.
        let _ = write!(to, "{}", self.0);
    }
}

macro_rules! written {
    ($($kind:ty),*) => {$(
        impl Told for $kind {
            fn tell(&self, to: &mut String) {
                Written(self).tell(to);
            }
        }
    )*};
}

written!(char, u8, u16, u32, u64, usize, i8, i16, i32, i64, isize, std::fmt::Arguments<'_>);

impl Told for f64 {
    fn tell(&self, to: &mut String) {
        to.push_str(&number(self.to_string()));
    }
}

/// A text with its gaps filled, in the reader's language. What stands in the gaps is given in the order in which the
/// English text names them first; `say!` writes calls of this.
#[must_use]
pub fn said(english: &'static str, filling: &[&dyn Told]) -> String {
    let names = gaps(english);
    let mut out = String::new();
    let mut unnamed = 0;
    pieces(tr(english), &mut |piece| match piece {
        Piece::Plain(plain) => out.push_str(plain),
        Piece::Gap(name) => {
            let place = if name.is_empty() {
                unnamed += 1;
                names
                    .iter()
                    .enumerate()
                    .filter(|(_, name)| name.is_empty())
                    .nth(unnamed - 1)
                    .map(|(place, _)| place)
            } else {
                // A number counts the gaps of the English; another language may turn nameless ones round so.
                name.parse().ok().or_else(|| names.iter().position(|other| *other == name))
            };
            if let Some(given) = place.and_then(|place: usize| filling.get(place)) {
                given.tell(&mut out);
            }
        }
    });
    out
}

/// The gaps of a text by their names, each name once; those without a name are all there.
fn gaps(text: &str) -> Vec<&str> {
    let mut names = Vec::new();
    pieces(text, &mut |piece| {
        if let Piece::Gap(name) = piece
            && (name.is_empty() || !names.contains(&name))
        {
            names.push(name);
        }
    });
    names
}

enum Piece<'a> {
    Plain(&'a str),
    /// By its name; how a number in it is written has been seen to already.
    Gap(&'a str),
}

/// Takes a text apart. A brace that stands for itself is written twice.
fn pieces<'a>(text: &'a str, each: &mut dyn FnMut(Piece<'a>)) {
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        let (plain, brace) = rest.split_at(at);
        each(Piece::Plain(plain));
        rest = if let Some(after) = brace.strip_prefix("{{") {
            each(Piece::Plain("{"));
            after
        } else if let Some(after) = brace.strip_prefix("}}") {
            each(Piece::Plain("}"));
            after
        } else {
            let (gap, after) = brace.split_once('}').unwrap_or((brace, ""));
            let gap = gap.trim_start_matches('{');
            each(Piece::Gap(gap.split_once(':').map_or(gap, |(name, _)| name)));
            after
        };
    }
    each(Piece::Plain(rest));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_are_filled_in_any_order_and_what_is_somebodys_own_stays() {
        let (who, much) = ("T1", 2.5);
        assert_eq!(say!("{who} of {}: {much} {{m}}", "Gate"), "T1 of Gate: 2.5 {m}");
        let table =
            "{who} of {}: {much} {{m}}\t{much} {{m}} en {0}, {}\nGate\tPortón\nno\tlínea\\nsiguiente\n";
        speak("es", table.to_owned(), ',');
        assert_eq!(say!("{who} of {}: {much} {{m}}", "Gate"), "2,5 {m} en T1, Portón");
        // Put together already, so nobody's word for a gate.
        assert_eq!(say!("{who} of {}: {much} {{m}}", "Gate".to_owned()), "2,5 {m} en T1, Gate");
        assert_eq!(say!("not in the table: {much:.2}"), "not in the table: 2,50");
        assert_eq!(tr("no"), "línea\nsiguiente");
    }
}
