//! What is read back aloud: figure by figure, because fifteen and fifty sound alike over a yard.

use swingtie_core::language::tr;

const FIGURES: [&str; 10] = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

/// The words with each figure said by itself: `T1 from H3: 15 feet 7` as "T one from H three: one five
/// feet seven". A point between figures is said as well.
#[must_use]
pub fn aloud(words: &str) -> String {
    let mut said = String::new();
    let mut rest = words.chars().peekable();
    let mut before = ' ';
    while let Some(sign) = rest.next() {
        let figure = sign.to_digit(10).and_then(|digit| FIGURES.get(digit as usize));
        let between = before.is_ascii_digit() && rest.peek().is_some_and(char::is_ascii_digit);
        let word = match (figure, sign) {
            (Some(figure), _) => Some(tr(figure)),
            (None, '.') if between => Some(tr("point")),
            (None, ',') if between => Some(tr("comma")),
            _ => None,
        };
        // Figures stand apart from what is before and behind them.
        let apart = word.is_some() || before.is_ascii_digit() && sign.is_alphabetic();
        if apart && !said.is_empty() && !said.ends_with(' ') {
            said.push(' ');
        }
        match word {
            Some(word) => said.push_str(word),
            None => said.push(sign),
        }
        before = sign;
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    // One five, not fifteen, so that it is not heard as fifty: common practice, no source.
    #[test]
    fn figures_are_said_one_by_one() {
        assert_eq!(
            aloud("T1 from H3: 15 feet 7 and a half"),
            "T one from H three: one five feet seven and a half"
        );
        assert_eq!(aloud("W1a at 50 feet"), "W one a at five zero feet");
        assert_eq!(aloud("E1: 12.54 metres"), "E one: one two point five four metres");
        assert_eq!(aloud("minus 1 foot."), "minus one foot.");
    }
}
