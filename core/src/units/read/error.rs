//! Why a text is not a length, as a sentence with a suggestion.

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadLengthError {
    /// Nothing, or nothing but signs and marks.
    #[error("{}", say!("there is no number here: write a length such as 12' 6 1/2\" or 3.81 m"))]
    NoNumber,
    /// A word that is no unit.
    #[error("{}", say!("\"{word}\" is no unit read here: write ', \", ft, in, m, cm or mm"))]
    UnknownWord {
        /// The word or sign.
        word: String,
    },
    /// More than one decimal point.
    #[error("{}", say!("\"{number}\" has more than one decimal point: did you mean {}?", two_numbers(number)))]
    TwoDecimalPoints {
        /// As written.
        number: String,
    },
    /// A comma before exactly three digits: thousands or decimals?
    #[error("{}", say!("\"{number}\" could be {point} or {plain}: write it without the comma"))]
    CommaUnclear {
        /// As written.
        number: String,
        /// Read with a decimal point.
        point: String,
        /// Read as a separator of thousands.
        plain: String,
    },
    /// A fraction that is one or more.
    #[error("{}", say!("{over}/{under} is a whole or more: did you mean {suggestion}?"))]
    FractionTooBig {
        /// Above the line.
        over: u32,
        /// Below the line.
        under: u32,
        /// A likely meaning.
        suggestion: String,
    },
    /// A fraction over nothing.
    #[error("{}", say!("{over}/0 is no number: look at the tape again, perhaps {over}/16 or {over}/8"))]
    FractionOverNothing {
        /// Above the line.
        over: u32,
    },
    /// A fraction no tape shows.
    #[error("{}", say!("{over}/{under}: no tape is divided so; did you mean {over}/16 or {over}/8?"))]
    NoSuchFraction {
        /// Above the line.
        over: u32,
        /// Below the line.
        under: u32,
    },
    /// A decimal number followed by a fraction.
    #[error("{}", say!("\"{text}\" has decimals and a fraction: write one of them, such as 6.5 or 6 1/2"))]
    DecimalsAndFraction {
        /// As written.
        text: String,
    },
    /// A fraction of a metre.
    #[error("{}", say!("\"{text}\" is a fraction, but metric lengths are written with decimals: such as 3.81 m"))]
    MetricFraction {
        /// As written.
        text: String,
    },
    /// Twelve inches or more beside feet.
    #[error("{}", say!("{inches} inches is more than a foot or just one: did you mean {suggestion}?"))]
    TooManyInches {
        /// As written.
        inches: String,
        /// The same length, written properly.
        suggestion: String,
    },
    /// Feet with decimals or a fraction, and inches besides.
    #[error("{}", say!("\"{feet}\" feet is no whole number, yet inches follow: write {feet} ft, or whole feet and inches"))]
    BrokenFeetWithInches {
        /// As written.
        feet: String,
    },
    /// A number with a fraction and no unit where either is possible.
    #[error("{}", say!("\"{text}\" could be feet or inches: write {text}\" for inches, or {suggestion} for feet"))]
    FeetOrInches {
        /// As written.
        text: String,
        /// Read as feet, in feet and inches.
        suggestion: String,
    },
    /// Numbers without a unit, more than can be meant.
    #[error("{}", say!("\"{text}\" has too many numbers: write it with marks, such as 12' 6 1/2\" or 3.81 m"))]
    TooManyNumbers {
        /// As written.
        text: String,
    },
    /// Two numbers where one was expected, in metric.
    #[error("{}", say!("\"{text}\" has two numbers: did you mean {first}.{second} m, or {first}' {second}\"?"))]
    TwoNumbers {
        /// As written.
        text: String,
        /// The first number.
        first: String,
        /// The second number.
        second: String,
    },
    /// Units that do not go together or stand in the wrong order.
    #[error("{}", say!("\"{text}\" mixes units: write feet before inches, or metres before centimetres, such as 12' 6\" or 3.81 m"))]
    MixedUnits {
        /// As written.
        text: String,
    },
    /// A stray dash, slash or mark.
    #[error("{}", say!("\"{text}\" cannot be read near \"{near}\": write it like 12' 6 1/2\""))]
    Stray {
        /// As written.
        text: String,
        /// The sign.
        near: String,
    },
    /// More than [`super::LONGEST`].
    #[error("{}", say!("\"{text}\" is longer than ten kilometres: is a decimal point missing?"))]
    TooLong {
        /// As written.
        text: String,
    },
    /// More digits than mean anything.
    #[error("{}", say!("\"{number}\" has more digits than any tape: write it shorter"))]
    TooManyDigits {
        /// As written.
        number: String,
    },
}

/// `6.5.4` -> `6.54`, keeping the first point.
fn two_numbers(number: &str) -> String {
    match number.split_once('.') {
        Some((whole, rest)) => format!("{whole}.{}", rest.replace('.', "")),
        None => number.to_owned(),
    }
}
