//! Writes SVG 1.1: plain shapes and text with presentation attributes, no scripts, no styles but the
//! paper's size for printing, nothing fetched from outside, so that it opens the same in browsers and drawing programs.

use super::geometry::{Frame, Spot};
use std::fmt::Write;

/// Black that prints as black and rests the eye on a screen.
pub(super) const INK: &str = "#1a1a1a";
/// For hatches and grids.
pub(super) const PALE: &str = "#8c8c8c";
/// Text's family: the names every system maps to something, then the generic one.
pub(super) const FAMILY: &str = "Helvetica, Arial, 'Liberation Sans', sans-serif";

/// How a line runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dash {
    /// Exists at the ground.
    Solid,
    /// Overhead, buried, or not certain.
    Short,
    /// A canopy's edge: long dashes, told from every other ring.
    Canopy,
    /// Where a point may be.
    Doubt,
    /// A contour far from readings: more gap than line.
    Far,
    /// As told.
    Dots,
    /// Lot line: a long dash and two dots (ISO 128 type 05).
    LongTwoDots,
}

/// A stroke and a fill.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    /// Line width, mm; 0 draws no line.
    pub width: f64,
    pub colour: &'static str,
    pub dash: Dash,
    pub fill: Option<&'static str>,
}

impl Pen {
    pub const fn line(width: f64) -> Self {
        Self { width, colour: INK, dash: Dash::Solid, fill: None }
    }
    pub const fn fill(colour: &'static str) -> Self {
        Self { width: 0.0, colour: INK, dash: Dash::Solid, fill: Some(colour) }
    }
    pub const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
    pub const fn coloured(self, colour: &'static str) -> Self {
        Self { colour, ..self }
    }
    pub const fn filled(self, colour: &'static str) -> Self {
        Self { fill: Some(colour), ..self }
    }
}

/// Where text hangs from its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hang {
    Start,
    Middle,
}

/// How text is set.
#[derive(Clone, Copy, Debug)]
pub(super) struct Face {
    /// Font size, mm.
    pub size: f64,
    pub bold: bool,
    pub italic: bool,
    pub underlined: bool,
    pub hang: Hang,
    pub colour: &'static str,
    /// Turned clockwise on the sheet, degrees.
    pub turn: f64,
}

impl Face {
    pub const fn of(size: f64) -> Self {
        Self {
            size,
            bold: false,
            italic: false,
            underlined: false,
            hang: Hang::Start,
            colour: INK,
            turn: 0.0,
        }
    }
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }
    pub const fn italic(self) -> Self {
        Self { italic: true, ..self }
    }
    pub const fn underlined(self) -> Self {
        Self { underlined: true, ..self }
    }
    pub const fn hang(self, hang: Hang) -> Self {
        Self { hang, ..self }
    }
    pub const fn coloured(self, colour: &'static str) -> Self {
        Self { colour, ..self }
    }
    pub const fn turned(self, turn: f64) -> Self {
        Self { turn, ..self }
    }
}

/// A growing piece of SVG.
#[derive(Clone, Debug, Default)]
pub(super) struct Svg(String);

impl Svg {
    pub fn into_text(self) -> String {
        self.0
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// Takes in markup this module wrote.
    pub fn append(&mut self, other: &Self) {
        self.0.push_str(&other.0);
    }
    pub fn raw(&mut self, markup: &str) {
        self.0.push_str(markup);
        self.0.push('\n');
    }
    /// A group with attributes written by us, not by users.
    pub fn group(&mut self, attributes: &str, inner: &Self) {
        if !inner.is_empty() {
            let _ = write!(self.0, "<g {attributes}>\n{}</g>\n", inner.0);
        }
    }
    pub fn line(&mut self, a: Spot, b: Spot, pen: Pen) {
        let _ = writeln!(
            self.0,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>",
            num(a.x),
            num(a.y),
            num(b.x),
            num(b.y),
            paint(pen)
        );
    }
    pub fn path(&mut self, d: &str, pen: Pen) {
        let _ = writeln!(self.0, "<path d=\"{d}\"{}/>", paint(pen));
    }
    pub fn polyline(&mut self, places: &[Spot], closed: bool, pen: Pen) {
        if places.len() > 1 {
            self.path(&outline(places, closed), pen);
        }
    }
    /// Many unconnected lines in one element.
    pub fn lines(&mut self, lines: &[(Spot, Spot)], pen: Pen) {
        let d: Vec<String> = lines.iter().map(|(a, b)| outline(&[*a, *b], false)).collect();
        if !d.is_empty() {
            self.path(&d.join(""), pen);
        }
    }
    pub fn circle(&mut self, centre: Spot, radius: f64, pen: Pen) {
        let _ = writeln!(
            self.0,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            num(centre.x),
            num(centre.y),
            num(radius),
            paint(pen)
        );
    }
    pub fn rect(&mut self, frame: &Frame, pen: Pen) {
        let _ = writeln!(
            self.0,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
            num(frame.x0),
            num(frame.y0),
            num(frame.width()),
            num(frame.height()),
            paint(pen)
        );
    }
    /// Text with its baseline at `at`.
    pub fn text(&mut self, at: Spot, face: Face, words: &str) {
        let _ =
            write!(self.0, "<text x=\"{}\" y=\"{}\" font-size=\"{}\"", num(at.x), num(at.y), num(face.size));
        if face.bold {
            self.0.push_str(" font-weight=\"bold\"");
        }
        if face.italic {
            self.0.push_str(" font-style=\"italic\"");
        }
        if face.underlined {
            self.0.push_str(" text-decoration=\"underline\"");
        }
        match face.hang {
            Hang::Start => {}
            Hang::Middle => self.0.push_str(" text-anchor=\"middle\""),
        }
        if face.colour != INK {
            let _ = write!(self.0, " fill=\"{}\"", face.colour);
        }
        if face.turn.abs() > 1e-6 {
            let _ = write!(self.0, " transform=\"rotate({} {} {})\"", num(face.turn), num(at.x), num(at.y));
        }
        let _ = writeln!(self.0, ">{}</text>", escape(words));
    }
}

/// Path data of a line through places.
pub(super) fn outline(places: &[Spot], closed: bool) -> String {
    let mut d = String::new();
    for (index, at) in places.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if index == 0 { 'M' } else { 'L' }, num(at.x), num(at.y));
    }
    if closed {
        d.push('Z');
    }
    d
}

fn paint(pen: Pen) -> String {
    let mut attributes = format!(" fill=\"{}\"", pen.fill.unwrap_or("none"));
    if pen.width > 0.0 {
        let _ = write!(attributes, " stroke=\"{}\" stroke-width=\"{}\"", pen.colour, num(pen.width));
        let w = pen.width;
        match pen.dash {
            Dash::Solid => {}
            Dash::Short => attributes.push_str(" stroke-dasharray=\"2 1\""),
            Dash::Canopy => attributes.push_str(" stroke-dasharray=\"6 1.2\""),
            Dash::Far => attributes.push_str(" stroke-dasharray=\"1.2 2\""),
            Dash::Doubt => attributes.push_str(" stroke-dasharray=\"0.7 1.4\""),
            Dash::Dots => {
                let _ = write!(
                    attributes,
                    " stroke-dasharray=\"0.01 {}\" stroke-linecap=\"round\"",
                    num((3.0 * w).max(0.9))
                );
            }
            Dash::LongTwoDots => {
                attributes.push_str(" stroke-dasharray=\"7 1.6 0.01 1.6 0.01 1.6\" stroke-linecap=\"round\"")
            }
        }
    }
    attributes
}

/// A number with at most three decimals: a micrometre on paper, and the same text everywhere.
pub(super) fn num(x: f64) -> String {
    // A place that is no number was refused long before; 0 only keeps the file readable.
    let text = if x.is_finite() { format!("{x:.3}") } else { "0".to_owned() };
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// User text as XML character data: escaped, without the characters XML 1.0 forbids, and without
/// the invisible ones that would turn the reading order of what stands beside it. As good for HTML, whose list of
/// forbidden characters is longer: non-characters and controls of every plane.
pub(crate) fn escape(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}' => {}
            c if c.is_control() || is_noncharacter(c) => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// The 66 code points that are for no interchange (The Unicode Standard, section 23.7).
fn is_noncharacter(c: char) -> bool {
    let code = u32::from(c);
    code & 0xfffe == 0xfffe || matches!(code, 0xfdd0..=0xfdef)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_negative_zero() {
        let cases = [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.0001, "0"),
            (1.5, "1.5"),
            (100.0, "100"),
            (2.0004, "2"),
            (-3.25, "-3.25"),
            (0.1 + 0.2, "0.3"),
            (f64::NAN, "0"),
        ];
        for (number, text) in cases {
            assert_eq!(num(number), text);
        }
    }

    /// XML 1.0 (fifth edition), production 2 names the characters a document may hold.
    #[test]
    fn escaped_text_holds_only_what_xml_allows() {
        let every: String = (0..0x2_0000).filter_map(char::from_u32).collect();
        for c in escape(&every).chars() {
            let allowed = matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
            assert!(allowed && !matches!(c, '<' | '>' | '"' | '\''), "{c:?}");
        }
        assert_eq!(escape("a<b & \"c\"\u{0}"), "a&lt;b &amp; &quot;c&quot;\u{fffd}");
    }
}
