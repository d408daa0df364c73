//! Reading a length from all the ways a person writes it.
//!
//! Feet and inches (`12' 6 1/2"`, `12'6.5`, `12-6-1/2`, `12 6 1/2`, `12 ft 6 in`), inches alone
//! (`150 1/2"`), decimal feet (`12.54 ft`) and metric (`3.81 m`, `381 cm`, `3 m 81 cm`, `3810 mm`),
//! with typographic marks and fraction characters, and a leading minus for stations. Everything is
//! kept as an exact fraction until the last step, so a sixteenth of an inch gives the double
//! nearest to its true metres.
//!
//! What could mean two things is not guessed: the error says what it could mean.

mod angle;
mod error;
mod ratio;
mod token;

pub use angle::{ReadAngleError, read_angle, read_bearing};
pub use error::ReadLengthError;

use super::format::{LengthStyle, format_length};
use super::{Length, UnitSystem};
use ratio::Ratio;
use token::{Number, Token, tokens};

/// The longest length read, ten kilometres: what is longer is a slip of the pen. It is 32,808.5 ft, which stands without
/// rounding in tenths of a millimetre, in 64ths of an inch and in ten-thousandths of a foot, so that no way of writing a
/// length rounds it beyond; and a thousandth of a millimetre on top, which is no more than the numbers of a machine.
pub const LONGEST: Length = Length::from_metres(10_000.030_801);

/// What a number without a unit means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BareUnit {
    /// Feet; a second bare number is inches (`12 6 1/2`).
    #[default]
    Feet,
    /// Inches, as for a trunk's diameter; two bare numbers are feet and inches all the same.
    Inches,
    /// Metres.
    Metres,
    /// Millimetres.
    Millimetres,
}

impl From<UnitSystem> for BareUnit {
    fn from(units: UnitSystem) -> Self {
        match units {
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => Self::Feet,
            UnitSystem::Metres => Self::Metres,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    Foot,
    Inch,
    Metre,
    Centimetre,
    Millimetre,
}

impl Unit {
    /// Metres in one, as a fraction.
    const fn metres(self) -> (i128, i128) {
        match self {
            Self::Foot => (3048, 10_000),
            Self::Inch => (254, 10_000),
            Self::Metre => (1, 1),
            Self::Centimetre => (1, 100),
            Self::Millimetre => (1, 1000),
        }
    }
    const fn metric(self) -> bool {
        matches!(self, Self::Metre | Self::Centimetre | Self::Millimetre)
    }
    /// How many of it make one of the next larger unit a person would write before it.
    const fn limit_after(self, larger: Self) -> Option<i128> {
        match (larger, self) {
            (Self::Foot, Self::Inch) => Some(12),
            (Self::Metre, Self::Centimetre) => Some(100),
            (Self::Metre, Self::Millimetre) => Some(1000),
            (Self::Centimetre, Self::Millimetre) => Some(10),
            _ => None,
        }
    }
}

/// A number with its fraction and unit: `6 1/2"`.
#[derive(Clone, Debug, Default)]
struct Part {
    number: Option<Number>,
    fraction: Option<(u32, u32)>,
    unit: Option<Unit>,
}

impl Part {
    fn text(&self) -> String {
        let number = self.number.as_ref().map(|number| number.text.clone());
        let fraction = self.fraction.map(|(over, under)| format!("{over}/{under}"));
        number.into_iter().chain(fraction).collect::<Vec<_>>().join(" ")
    }
    fn value(&self) -> Option<Ratio> {
        let fraction =
            self.fraction.map_or(Some(Ratio::ZERO), |(over, under)| Ratio::new(over.into(), under.into()));
        self.number.as_ref().map_or(Ratio::ZERO, |number| number.value).plus(fraction?)
    }
    fn whole(&self) -> bool {
        self.fraction.is_none() && self.number.as_ref().is_none_or(|number| number.whole)
    }
}

/// Reads a bare number a person typed, such as an angle in degrees: a comma is a point, spaces do not
/// matter. None when it is no number.
#[must_use]
pub fn read_number(text: &str) -> Option<f64> {
    let plain: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let plain = plain.replace(',', ".").replace('−', "-");
    let (sign, digits) = plain.strip_prefix('-').map_or((1.0, plain.as_str()), |digits| (-1.0, digits));
    match tokens(digits).ok()?.as_slice() {
        [Token::Number(number)] => Some(sign * number.value.to_f64()?),
        _ => None,
    }
}

/// Reads a length. `bare` says what a number without a unit means.
///
/// # Errors
/// [`ReadLengthError`], a sentence with a suggestion, when the text is no length or could be two.
///
/// # Examples
/// ```
/// use swingtie_core::units::{BareUnit, read_length};
/// let length = read_length("12' 6 1/2\"", BareUnit::Feet).unwrap();
/// assert_eq!(length.metres(), 3.8227); // 150.5 in x 0.0254 m
/// ```
pub fn read_length(text: &str, bare: BareUnit) -> Result<Length, ReadLengthError> {
    let text = text.trim();
    let mut tokens = tokens(text)?;
    let negative = matches!(tokens.first(), Some(Token::Dash));
    if matches!(tokens.first(), Some(Token::Dash | Token::Plus)) {
        tokens.remove(0);
    }
    let mut parts = parts(text, tokens)?;
    name_units(text, &mut parts, bare)?;
    check_order(text, &parts)?;
    let too_long = || ReadLengthError::TooLong { text: text.to_owned() };
    let metres = sum(&parts).and_then(Ratio::to_f64).ok_or_else(too_long)?;
    let length = Length::from_metres(metres);
    if length > LONGEST {
        return Err(too_long());
    }
    // Minus nothing is nothing.
    Ok(if negative && metres > 0.0 { -length } else { length })
}

fn sum(parts: &[Part]) -> Option<Ratio> {
    parts.iter().try_fold(Ratio::ZERO, |sum, part| {
        let (over, under) = part.unit.unwrap_or(Unit::Metre).metres();
        sum.plus(part.value()?.times(over, under)?)
    })
}

/// Groups tokens into numbers with their fraction and unit.
fn parts(text: &str, tokens: Vec<Token>) -> Result<Vec<Part>, ReadLengthError> {
    let stray = |near: &str| ReadLengthError::Stray { text: text.to_owned(), near: near.to_owned() };
    let mut parts: Vec<Part> = Vec::new();
    let mut dash = false;
    for token in tokens {
        let is_dash = matches!(token, Token::Dash);
        match (token, parts.last_mut()) {
            (Token::Dash, Some(_)) if !dash => {}
            (Token::Dash, _) => return Err(stray("-")),
            (Token::Plus, _) => return Err(stray("+")),
            (Token::Slash, _) => return Err(stray("/")),
            (Token::Number(number), _) => parts.push(Part { number: Some(number), ..Part::default() }),
            (Token::Fraction { over, under }, Some(last))
                if last.fraction.is_none() && last.unit.is_none() =>
            {
                if last.number.as_ref().is_some_and(|number| !number.whole) {
                    let text = format!("{} {over}/{under}", last.text());
                    return Err(ReadLengthError::DecimalsAndFraction { text });
                }
                last.fraction = Some(fraction(over, under, last)?);
            }
            (Token::Fraction { over, under }, _) => {
                let mut part = Part::default();
                part.fraction = Some(fraction(over, under, &part)?);
                parts.push(part);
            }
            (Token::Unit(unit), Some(last)) if last.unit.is_none() && !dash => last.unit = Some(unit),
            (Token::Unit(_), None) => return Err(ReadLengthError::NoNumber),
            (Token::Unit(_), _) => return Err(ReadLengthError::MixedUnits { text: text.to_owned() }),
        }
        dash = is_dash;
    }
    if dash {
        return Err(stray("-"));
    }
    if parts.is_empty() { Err(ReadLengthError::NoNumber) } else { Ok(parts) }
}

/// Checks a fraction against what tapes and rulers show.
fn fraction(over: u32, under: u32, part: &Part) -> Result<(u32, u32), ReadLengthError> {
    if under == 0 {
        return Err(ReadLengthError::FractionOverNothing { over });
    }
    if over >= under {
        let whole = part.number.as_ref().map_or(String::new(), |number| format!("{} ", number.text));
        let finer = [2, 4, 8, 16, 32, 64].into_iter().find(|finer| *finer > over.max(under) && over % 2 == 1);
        let suggestion = match finer {
            Some(finer) => format!("{whole}{over}/{finer}"),
            None => say!("a fraction below one, such as {whole}1/2"),
        };
        return Err(ReadLengthError::FractionTooBig { over, under, suggestion });
    }
    if matches!(under, 2..=6 | 8 | 10 | 12 | 16 | 32 | 64 | 100) {
        Ok((over, under))
    } else {
        Err(ReadLengthError::NoSuchFraction { over, under })
    }
}

/// Gives every part its unit.
fn name_units(text: &str, parts: &mut [Part], bare: BareUnit) -> Result<(), ReadLengthError> {
    let text = || text.to_owned();
    let feet_first = matches!(bare, BareUnit::Feet | BareUnit::Inches);
    match parts {
        [only] if only.unit.is_none() => {
            if only.fraction.is_some() && bare == BareUnit::Feet {
                let feet = only.value().and_then(Ratio::to_f64).map_or(Length::ZERO, Length::from_feet);
                let suggestion = format_length(feet, LengthStyle::SIXTEENTHS);
                return Err(ReadLengthError::FeetOrInches { text: only.text(), suggestion });
            }
            only.unit = Some(match bare {
                BareUnit::Feet => Unit::Foot,
                BareUnit::Inches => Unit::Inch,
                BareUnit::Metres => Unit::Metre,
                BareUnit::Millimetres => Unit::Millimetre,
            });
        }
        [feet, inches] if feet.unit.is_none() && inches.unit == Some(Unit::Inch) => {
            feet.unit = Some(Unit::Foot);
        }
        [first, second] if first.unit.is_none() && second.unit.is_none() => {
            if !feet_first {
                let (first, second) = (first.text(), second.text());
                return Err(ReadLengthError::TwoNumbers { text: text(), first, second });
            }
            first.unit = Some(Unit::Foot);
            second.unit = Some(Unit::Inch);
        }
        [feet, inches] if feet.unit == Some(Unit::Foot) && inches.unit.is_none() => {
            inches.unit = Some(Unit::Inch);
        }
        [_, _, _, ..] if parts.iter().any(|part| part.unit.is_none()) => {
            return Err(ReadLengthError::TooManyNumbers { text: text() });
        }
        _ => {}
    }
    if parts.iter().any(|part| part.unit.is_none()) {
        return Err(ReadLengthError::MixedUnits { text: text() });
    }
    Ok(())
}

/// Larger units first, each smaller one below what makes a larger one.
fn check_order(text: &str, parts: &[Part]) -> Result<(), ReadLengthError> {
    let mixed = || ReadLengthError::MixedUnits { text: text.to_owned() };
    for part in parts {
        if part.fraction.is_some() && part.unit.is_some_and(Unit::metric) {
            return Err(ReadLengthError::MetricFraction { text: part.text() });
        }
    }
    for (large, small) in parts.iter().zip(parts.iter().skip(1)) {
        let (Some(larger), Some(smaller)) = (large.unit, small.unit) else { return Err(mixed()) };
        let limit = smaller.limit_after(larger).ok_or_else(mixed)?;
        if !large.whole() {
            return Err(match larger {
                Unit::Foot => ReadLengthError::BrokenFeetWithInches { feet: large.text() },
                _ => mixed(),
            });
        }
        if small.value().is_none_or(|value| value.at_least(limit)) {
            if larger != Unit::Foot {
                return Err(mixed());
            }
            let both = sum(parts).and_then(Ratio::to_f64).map_or(Length::ZERO, Length::from_metres);
            let suggestion = format_length(both, LengthStyle::SIXTEENTHS);
            return Err(ReadLengthError::TooManyInches { inches: small.text(), suggestion });
        }
    }
    Ok(())
}
