//! From characters to numbers, fractions, units and dashes.

use super::ratio::Ratio;
use super::{ReadLengthError, Unit};
use crate::language::decimal;

/// A number as written and as meant.
#[derive(Clone, Debug)]
pub(super) struct Number {
    pub(super) text: String,
    pub(super) value: Ratio,
    /// Whether it has no decimals.
    pub(super) whole: bool,
}

#[derive(Clone, Debug)]
pub(super) enum Token {
    Number(Number),
    /// A vulgar fraction character, or a typed one.
    Fraction {
        over: u32,
        under: u32,
    },
    Unit(Unit),
    Slash,
    Dash,
    Plus,
}

/// Most digits before the decimal point: ten thousand kilometres in millimetres.
const MOST_WHOLE: usize = 10;
/// Most digits after it: a double in metres, written out by a program, has about twenty.
const MOST_DECIMALS: usize = 24;

pub(super) fn tokens(text: &str) -> Result<Vec<Token>, ReadLengthError> {
    let plain: Vec<char> = text.chars().map(plain).collect();
    let mut found = Vec::new();
    let mut rest = plain.as_slice();
    while let Some((&first, after)) = rest.split_first() {
        let (token, used) = match first {
            c if c.is_whitespace() => (None, 1),
            '0'..='9' | '.' | ',' => {
                number(rest).map(|(number, used)| (Some(Token::Number(number)), used))?
            }
            '\'' if after.first() == Some(&'\'') => (Some(Token::Unit(Unit::Inch)), 2),
            '\'' => (Some(Token::Unit(Unit::Foot)), 1),
            '"' => (Some(Token::Unit(Unit::Inch)), 1),
            '/' => (Some(Token::Slash), 1),
            '-' => (Some(Token::Dash), 1),
            '+' => (Some(Token::Plus), 1),
            c => match vulgar(c) {
                Some((over, under)) => (Some(Token::Fraction { over, under }), 1),
                None => word(rest).map(|(unit, used)| (Some(Token::Unit(unit)), used))?,
            },
        };
        found.extend(token);
        rest = rest.get(used..).unwrap_or_default();
    }
    join_fractions(text, found)
}

/// Typographic marks as the plain ones.
const fn plain(c: char) -> char {
    match c {
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{ad}' | '\u{fe63}' | '\u{ff0d}' => '-',
        '\u{2018}' | '\u{2019}' | '\u{201b}' | '\u{2032}' | '\u{2035}' | '\u{b4}' | '`' | '\u{ff07}' => '\'',
        '\u{201c}' | '\u{201d}' | '\u{201f}' | '\u{2033}' | '\u{2036}' | '\u{ff02}' => '"',
        '\u{2044}' | '\u{2215}' => '/',
        '\u{200b}' | '\u{feff}' | '\u{200e}' | '\u{200f}' => ' ',
        c => c,
    }
}

const fn vulgar(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅒' => (1, 10),
        _ => return None,
    })
}

fn number(rest: &[char]) -> Result<(Number, usize), ReadLengthError> {
    let text: String = rest.iter().take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
    let used = text.len();
    let marks = text.chars().filter(|c| !c.is_ascii_digit()).count();
    if marks == text.len() {
        return Err(ReadLengthError::UnknownWord { word: text });
    }
    if marks > 1 {
        return Err(ReadLengthError::TwoDecimalPoints { number: text.replace(',', ".") });
    }
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((&text, ""));
    if text.contains(',') && decimals.len() == 3 && !whole.is_empty() && decimal() != ',' {
        let (point, plain) = (format!("{whole}.{decimals}"), format!("{whole}{decimals}"));
        return Err(ReadLengthError::CommaUnclear { number: text, point, plain });
    }
    let too_many = || ReadLengthError::TooManyDigits { number: text.clone() };
    if whole.trim_start_matches('0').len() > MOST_WHOLE || decimals.len() > MOST_DECIMALS {
        return Err(too_many());
    }
    let scale = u32::try_from(decimals.len()).ok().and_then(|n| 10_i128.checked_pow(n));
    let digits = format!("{whole}{decimals}").parse().ok();
    let value = digits.zip(scale).and_then(|(over, under)| Ratio::new(over, under)).ok_or_else(too_many)?;
    let whole = decimals.is_empty();
    Ok((Number { text, value, whole }, used))
}

fn word(rest: &[char]) -> Result<(Unit, usize), ReadLengthError> {
    let letters: String = rest.iter().take_while(|c| c.is_alphabetic()).collect();
    let length = letters.chars().count();
    let unit = match letters.to_ascii_lowercase().as_str() {
        "ft" | "feet" | "foot" => Unit::Foot,
        "in" | "ins" | "inch" | "inches" => Unit::Inch,
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Centimetre,
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
        _ => {
            let shown: String = rest.iter().take(length.clamp(1, 24)).collect();
            return Err(ReadLengthError::UnknownWord { word: shown });
        }
    };
    // "ft." and "in." are abbreviations with their full stop.
    let stop = usize::from(
        rest.get(length) == Some(&'.') && !rest.get(length + 1).is_some_and(char::is_ascii_digit),
    );
    Ok((unit, length + stop))
}

/// Number, slash, number become one fraction.
fn join_fractions(text: &str, tokens: Vec<Token>) -> Result<Vec<Token>, ReadLengthError> {
    let stray = || ReadLengthError::Stray { text: text.trim().to_owned(), near: "/".to_owned() };
    let mut joined: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut rest = tokens.into_iter();
    while let Some(token) = rest.next() {
        if !matches!(token, Token::Slash) {
            joined.push(token);
            continue;
        }
        let (Some(Token::Number(over)), Some(Token::Number(under))) = (joined.pop(), rest.next()) else {
            return Err(stray());
        };
        let (Ok(over), Ok(under)) = (over.text.parse(), under.text.parse()) else { return Err(stray()) };
        joined.push(Token::Fraction { over, under });
    }
    Ok(joined)
}
