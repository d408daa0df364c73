//! How much room text takes, without a font at hand.
//!
//! Advance widths are those of the common sans-serif metrics (Helvetica's published AFM widths, from
//! memory), widened by [`SPARE`] because the fonts that stand in on other systems run wider.

/// The widest usual substitute runs about an eighth wider.
const SPARE: f64 = 1.14;

/// Height of capitals as a share of the font size.
pub(super) const CAPITAL: f64 = 0.72;

/// Advance of a character in thousandths of the font size.
fn advance(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '\'' => 222.0,
        ' ' | '!' | ',' | '.' | '/' | ':' | ';' | 'I' | '[' | ']' | '\\' | 'f' | 't' | '|' => 278.0,
        '(' | ')' | '-' | '`' | 'r' | '{' | '}' | '°' | '"' => 340.0,
        '*' => 389.0,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' | 'J' => 500.0,
        'a'
        | 'b'
        | 'd'
        | 'e'
        | 'g'
        | 'h'
        | 'n'
        | 'o'
        | 'p'
        | 'q'
        | 'u'
        | 'L'
        | '0'..='9'
        | '#'
        | '$'
        | '_'
        | '–' => 556.0,
        '+' | '<' | '=' | '>' | '~' | '±' | '×' => 584.0,
        'F' | 'T' | 'Z' => 611.0,
        'A' | 'B' | 'E' | 'K' | 'P' | 'S' | 'V' | 'X' | 'Y' | '&' => 667.0,
        'C' | 'D' | 'H' | 'N' | 'R' | 'U' | 'w' => 722.0,
        'G' | 'O' | 'Q' => 778.0,
        'M' | 'm' => 833.0,
        '%' | 'W' | '@' | '—' | '…' => 1000.0,
        c if (c as u32) < 0x0530 => 640.0,
        // Ideographs, emoji and everything else: a full square.
        _ => 1000.0,
    }
}

/// The room `words` take at a font size, mm. Bold runs a twentieth wider.
pub(super) fn width(words: &str, size: f64, bold: bool) -> f64 {
    let sum: f64 = words.chars().map(advance).sum();
    sum / 1000.0 * size * SPARE * if bold { 1.05 } else { 1.0 }
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
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        for piece in pieces(word, size, room) {
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
