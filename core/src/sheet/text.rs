//! How much room text takes, without a font at hand.
//!
//! Advance widths are those of the widest of the usual sans-serif fonts (measured from the free DejaVu
//! Sans 2.37, which stands in on many desks; Helvetica and Arial run an eighth narrower), so that what is
//! laid out here has room in all of them.

use crate::language::tr;

/// How much wider bold runs, at most, in that font's capitals and figures.
const BOLD: f64 = 1.13;

/// Height of capitals as a share of the font size.
pub(super) const CAPITAL: f64 = 0.72;

/// Advances of the characters from the space on, in thousandths of the font size.
const ASCII: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// Advance of a character in thousandths of the font size.
fn advance(c: char) -> f64 {
    let plain = (c as usize).checked_sub(usize::from(b' ')).and_then(|place| ASCII.get(place));
    match (plain, c) {
        (Some(advance), _) => f64::from(*advance),
        (None, '°' | '–') => 500.0,
        (None, '±' | '×') => 838.0,
        (None, c) if (c as u32) < 0x0530 => 720.0,
        // Ideographs, emoji and everything else: a full square.
        (None, _) => 1000.0,
    }
}

/// What of a user's text may be shown: without the invisible characters that would turn the reading order of
/// what stands beside it, with a mark in place of those XML 1.0 and HTML forbid: controls, and non-characters of
/// every plane.
pub(super) fn shown(words: &str) -> impl Iterator<Item = char> {
    words.chars().filter_map(|c| match c {
        '\t' | '\n' | '\r' => Some(' '),
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}' => None,
        c if c.is_control() || is_noncharacter(c) => Some('\u{fffd}'),
        c => Some(c),
    })
}

/// The 66 code points that are for no interchange (The Unicode Standard, section 23.7).
fn is_noncharacter(c: char) -> bool {
    let code = u32::from(c);
    code & 0xfffe == 0xfffe || matches!(code, 0xfdd0..=0xfdef)
}

/// The room `words` take at a font size, mm.
pub(super) fn width(words: &str, size: f64, bold: bool) -> f64 {
    let sum: f64 = words.chars().map(advance).sum();
    sum / 1000.0 * size * if bold { BOLD } else { 1.0 }
}

/// `words`, shortened with an ellipsis where they would be wider than `room`.
pub(super) fn fit(words: &str, size: f64, bold: bool, room: f64) -> String {
    let words = words.trim();
    if width(words, size, bold) <= room {
        return words.to_owned();
    }
    let mut short = String::new();
    for c in words.chars() {
        short.push(c);
        if width(&short, size, bold) + width("…", size, bold) > room {
            short.pop();
            break;
        }
    }
    format!("{}…", short.trim_end())
}

/// `words` broken into lines no wider than `room`; a word wider than a line is cut.
pub(super) fn wrap(words: &str, size: f64, room: f64) -> Vec<String> {
    let words = tr(words);
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in together(words) {
        let whole =
            if width(&word, size, false) > room { word.split(' ').collect() } else { vec![word.as_str()] };
        for piece in whole.into_iter().flat_map(|word| pieces(word, size, room)) {
            let longer = if line.is_empty() { piece.clone() } else { format!("{line} {piece}") };
            if width(&longer, size, false) <= room || line.is_empty() {
                line = longer;
            } else {
                lines.push(std::mem::replace(&mut line, piece));
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Words, where a number and what counts with it are one: `1 1/2 in`.
fn together(words: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let counts = matches!(bare, "in" | "ft" | "m" | "mm" | "cm" | "%") || bare.contains('/');
        match all
            .last_mut()
            .filter(|last| counts && last.ends_with(|c: char| c.is_ascii_digit() || c == '\''))
        {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => all.push(word.to_owned()),
        }
    }
    all
}

/// One word, cut into pieces that each fit a line.
fn pieces(word: &str, size: f64, room: f64) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for c in word.chars() {
        if let Some(last) = pieces.last_mut() {
            last.push(c);
            if width(last, size, false) > room && last.chars().count() > 1 {
                last.pop();
                pieces.push(c.to_string());
            }
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapped_lines_fit_and_lose_nothing() {
        let words =
            "Buried utilities are approximate: Donaudampfschifffahrtsgesellschaft, before any digging";
        for room in [3.0, 12.0, 25.0, 60.0] {
            let lines = wrap(words, 2.5, room);
            assert!(lines.iter().all(|line| width(line, 2.5, false) <= room || line.chars().count() == 1));
            let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            assert_eq!(bare(&lines.concat()), bare(words));
        }
        assert!(wrap("  ", 2.5, 10.0).is_empty());
    }

    #[test]
    fn a_long_name_is_shortened_to_its_room() {
        let short = fit("a name that goes on and on and on", 2.5, true, 20.0);
        assert!(short.ends_with('…') && width(&short, 2.5, true) <= 20.0, "{short}");
        assert_eq!(fit("T1", 2.5, true, 20.0), "T1");
    }
}
