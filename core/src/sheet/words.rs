//! Words that the sheet and the report share.

use super::utilities;
use crate::language::tr;
use crate::record::{Attribute, Attributes, Fate, Feature, Form, MarkColour, UnitSystem, kind};
use crate::units::{Length, LengthStyle, day, format_length};

/// Under what the checks found.
pub(crate) const WORKED_OUT: &str =
    "Worked out from what was recorded; nobody has judged it: the local code and licensed people decide.";

/// What every sheet and report says before somebody digs, builds or sets out.
pub(crate) fn cautions(units: UnitSystem) -> Vec<String> {
    let call = match units {
        UnitSystem::Metres => "",
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => " (in the United States call 811)",
    };
    vec![
        "Not a boundary survey. Fences, hedges and lot lines as told are not the legal line; a licensed \
         land surveyor settles that."
            .to_owned(),
        say!(
            "Buried utilities are approximate. Have them marked before any digging{call}; marks expire and \
             leave out private lines. No mark does not mean no line."
        ),
        say!("Structure, gas, electricity and fire are for licensed people and the local code."),
        "Not for setting out without measuring again on the ground. Written dimensions go before scaled ones."
            .to_owned(),
    ]
}

/// A key such as `wet_spot` in plain words.
pub(crate) fn plain(key: &str) -> String {
    let words = key.replace('_', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        std::iter::once(first.to_ascii_uppercase()).chain(letters).collect()
    })
}

pub(crate) fn name_of(key: &str) -> String {
    kind(key).map_or_else(|| plain(key), |kind| tr(kind.name).to_owned())
}

pub(crate) fn own_name(f: &Feature) -> Option<&str> {
    let name = f.name.trim();
    (!name.is_empty() && !name.eq_ignore_ascii_case(&name_of(&f.kind))).then_some(name)
}

/// The kind of things, and of problems, that are none of those with a name: people's own words say what it is.
pub(crate) const OTHER: &str = "other";

/// What a thing is called: its kind and its own name, which stands alone where it ends in the kind's word.
pub(crate) fn full_name(f: &Feature) -> String {
    let name = name_of(&f.kind);
    let note = f.note.trim();
    let Some(own) = own_name(f) else {
        return if f.kind == OTHER && !note.is_empty() { capital(note) } else { name };
    };
    if f.kind == OTHER {
        return capital(own);
    }
    let plain = |word: &str| word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
    let last = own.split_whitespace().next_back().map(plain);
    if name.split_whitespace().any(|word| Some(plain(word)) == last) {
        capital(own)
    } else {
        say!("{name}, {own}")
    }
}

/// A utility mark by its colour and the usual meaning of that.
pub(crate) const fn mark(colour: MarkColour) -> &'static str {
    utilities::line(colour).words
}

/// What shall become of a thing, in capitals; nothing where nobody said.
pub(crate) const fn fate(fate: Option<Fate>) -> &'static str {
    match fate {
        Some(Fate::Keep) => "KEEP",
        Some(Fate::Move) => "MOVE",
        Some(Fate::Remove) => "REMOVE",
        Some(Fate::Ask) => "ASK",
        None => "",
    }
}

/// Sentences one after the other, each with its full stop.
#[derive(Default)]
pub(crate) struct Sentences(pub(crate) String);

impl Sentences {
    pub(crate) fn add(&mut self, words: &str) {
        if words.is_empty() {
            return;
        }
        if !self.0.is_empty() {
            self.0.push(' ');
        }
        self.0.push_str(tr(words));
        if !words.ends_with(['.', '!', '?']) {
            self.0.push('.');
        }
    }
}

pub(crate) fn with(name: &str, known: &str) -> String {
    if known.is_empty() { name.to_owned() } else { say!("{name}: {known}") }
}

pub(crate) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What is known of a thing, in the order it is asked: `trunk 9", keep`. Keys nobody asks come last.
pub(crate) fn known(units: UnitSystem, attributes: &Attributes, form: Form) -> String {
    let style = LengthStyle::from(units);
    let said = |name: &str, value: &Attribute| match value {
        Attribute::Length(reading) => say!("{name} {}", format_length(reading.value, style)),
        Attribute::Text(text) => say!("{name} {}", day(text.trim())),
    };
    let asked = form.rows().filter_map(|row| Some(said(row.name, attributes.get(row.key)?)));
    let others = attributes.iter().filter(|(key, _)| form.row(key).is_none());
    let others = others.map(|(key, value)| {
        let name =
            crate::record::row(key).map_or_else(|| key.replace('_', " "), |row| tr(row.name).to_owned());
        said(&name, value)
    });
    asked.chain(others).collect::<Vec<_>>().join(", ")
}

/// A small length in round words: nobody needs the third figure of a doubt.
pub(crate) fn about(length: Length, units: UnitSystem) -> String {
    let style = match units {
        UnitSystem::Metres => LengthStyle::Metres { decimals: 2 },
        UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 2 },
        UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 2 },
    };
    let least = match units {
        UnitSystem::Metres => Length::from_metres(0.01),
        UnitSystem::DecimalFeet => Length::from_feet(0.01),
        UnitSystem::FeetInches => Length::from_inches(0.5),
    };
    format_length(if length < least { least } else { length }, style)
}
