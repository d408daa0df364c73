//! The little languages inside cells: words, label lists, `key=value` lists, and the guard against
//! a spreadsheet taking words for a formula.

use serde::{Serialize, de::DeserializeOwned};

/// Where a spreadsheet would compute instead of show: the beginnings that OWASP names (CSV Injection; Application
/// Security Verification Standard 5.0, 1.2.10), with the full-width forms that some locales read as the plain ones.
const fn starts_formula(c: char) -> bool {
    matches!(c, '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '\0' | '＝' | '＋' | '－' | '＠')
}

/// Whether a text with a sign is a number or a length such as `-3' 11 1/2"`: without a letter there is nothing in it that a
/// spreadsheet could call (OWASP's attacks name a function or a program).
fn plain_number(text: &str) -> bool {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '.' | ' ' | '/' | '\'' | '"');
    digits.starts_with(|c: char| c.is_ascii_digit()) && digits.chars().all(plain)
}

/// Puts `'` before what a spreadsheet would take for a formula.
pub(in crate::exchange) fn guard(text: &str) -> String {
    let mut chars = text.chars();
    let first = chars.next();
    // What begins with ' and would lose it on reading gets one to lose.
    let risky = match first {
        Some('\'') => chars.next().is_some_and(|c| starts_formula(c) || c == '\''),
        Some(c) => starts_formula(c) && !plain_number(text),
        None => false,
    };
    if risky { format!("'{text}") } else { text.to_owned() }
}

/// Takes the guard away again.
pub(super) fn unguard(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if rest.starts_with(|c| starts_formula(c) || c == '\'') => rest,
        _ => text,
    }
}

/// A word as it is compared: small letters, underscores.
pub(super) fn normal(text: &str) -> String {
    text.trim().to_ascii_lowercase().replace([' ', '-'], "_")
}

/// The book's own word for a value, such as `steel_tape`.
pub(super) fn word<T: Serialize>(value: &T) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// The value of one of the book's own words.
pub(super) fn value<T: DeserializeOwned>(word: &str) -> Option<T> {
    serde_json::from_value(serde_json::Value::String(normal(word))).ok()
}

/// Quotes a piece that would not come back whole.
fn quoted(piece: &str, stops: &[char]) -> String {
    let plain = !piece.is_empty()
        && !piece.starts_with('"')
        && piece.trim() == piece
        && !piece.contains(|c: char| stops.contains(&c) || (c.is_whitespace() && stops.contains(&' ')));
    if plain { piece.to_owned() } else { format!("\"{}\"", piece.replace('"', "\"\"")) }
}

const LIST: &[char] = &[' ', ';', ','];
const KEY: &[char] = &['=', ';'];
const VALUE: &[char] = &[';'];

/// Several labels in one cell.
pub(super) fn write_list<'a>(labels: impl IntoIterator<Item = &'a str>) -> String {
    labels.into_iter().map(|label| quoted(label, LIST)).collect::<Vec<_>>().join(" ")
}

/// The labels of a cell.
pub(super) fn read_list(cell: &str) -> Vec<String> {
    let mut scan = Scan { rest: cell };
    let mut labels = Vec::new();
    while scan.skip(|c| c.is_whitespace() || LIST.contains(&c)) {
        labels.push(scan.piece(LIST));
    }
    labels
}

/// `key=value; key=value`.
pub(super) fn write_more(pairs: &[(String, String)]) -> String {
    let pair = |(key, value): &(String, String)| format!("{}={}", quoted(key, KEY), quoted(value, VALUE));
    pairs.iter().map(pair).collect::<Vec<_>>().join("; ")
}

/// The pairs of a cell; a key without a value has an empty one.
pub(super) fn read_more(cell: &str) -> Vec<(String, String)> {
    let mut scan = Scan { rest: cell };
    let mut pairs = Vec::new();
    while scan.skip(|c| c.is_whitespace() || c == ';') {
        let key = scan.piece(KEY);
        scan.skip(char::is_whitespace);
        let value = match scan.rest.strip_prefix('=') {
            Some(rest) => {
                scan.rest = rest.trim_start();
                scan.piece(VALUE)
            }
            None => String::new(),
        };
        pairs.push((key, value));
    }
    pairs
}

/// Walks through a cell. A double quote counts only where a piece begins: elsewhere it is an inch mark.
struct Scan<'a> {
    rest: &'a str,
}

impl Scan<'_> {
    /// Skips; whether anything is left.
    fn skip(&mut self, over: impl Fn(char) -> bool) -> bool {
        self.rest = self.rest.trim_start_matches(over);
        !self.rest.is_empty()
    }

    fn piece(&mut self, stops: &[char]) -> String {
        match self.rest.strip_prefix('"') {
            Some(inside) => self.quoted_piece(inside.to_owned()),
            None => {
                let stop = |c: char| stops.contains(&c) || (c.is_whitespace() && stops.contains(&' '));
                let end = self.rest.find(stop).unwrap_or(self.rest.len());
                let (piece, rest) = self.rest.split_at(end);
                self.rest = rest;
                piece.trim().to_owned()
            }
        }
    }

    fn quoted_piece(&mut self, inside: String) -> String {
        let mut piece = String::new();
        let mut chars = inside.char_indices().peekable();
        let mut used = inside.len();
        while let Some((at, c)) = chars.next() {
            match c {
                '"' if chars.peek().is_some_and(|(_, next)| *next == '"') => {
                    chars.next();
                    piece.push('"');
                }
                '"' => {
                    used = at + 1;
                    break;
                }
                c => piece.push(c),
            }
        }
        // One more for the opening quote.
        self.rest = self.rest.get(used + 1..).unwrap_or_default();
        piece
    }
}
