//! How lines, areas and words look.

use crate::units::float;
use std::fmt;

/// A colour: red, green and blue of sRGB (IEC 61966-2-1), a byte each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Colour(pub u32);

impl Colour {
    /// Red, green and blue.
    pub const fn parts(self) -> [u8; 3] {
        let [_, red, green, blue] = self.0.to_be_bytes();
        [red, green, blue]
    }

    /// The grey that is as bright: of the same luminance (IEC 61966-2-1, with the weights of ITU-R BT.709).
    pub fn grey(self) -> Self {
        let linear = |part: u8| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 { part / 12.92 } else { float::powf((part + 0.055) / 1.055, 2.4) }
        };
        let [red, green, blue] = self.parts().map(linear);
        let bright = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
        let part = if bright <= 0.003_130_8 {
            bright * 12.92
        } else {
            1.055 * float::powf(bright, 1.0 / 2.4) - 0.055
        };
        // Between 0 and 255, so that the cast only drops the decimals.
        let part = (part * 255.0).round().clamp(0.0, 255.0) as u8;
        Self(u32::from_be_bytes([0, part, part, part]))
    }
}

impl fmt::Display for Colour {
    /// As SVG and CSS write it, `#1a1a1a`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:06x}", self.0)
    }
}

/// Black that prints as black and rests the eye on a screen.
pub(super) const INK: Colour = Colour(0x1a_1a_1a);
/// For hatches and grids.
pub(super) const PALE: Colour = Colour(0x8c_8c_8c);
/// Of the paper.
pub(super) const PAPER: Colour = Colour(0xff_ff_ff);

/// How a line runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dash {
    /// Exists at the ground.
    Solid,
    /// Overhead or buried.
    Short,
    /// Where sheets join: long dashes.
    Match,
    /// A canopy's edge: a long dash and a short one.
    Crown,
    /// Where a point may be, and what hangs on it.
    Doubt,
    /// A line of the law, not of the ground: a long dash and a dot (ISO 128 type 04).
    LongDot,
    /// Where water runs: a dash and two dots (ISO 128 type 12).
    TwoDots,
    /// How far a problem reaches: a dash and three dots (ISO 128 type 14).
    ThreeDots,
    /// A contour far from readings: more gap than line.
    Far,
    /// As told.
    Dots,
    /// The sign of a thing whose place is not fixed: dots as close as a small sign needs them.
    Fine,
    /// Lot line: a long dash and two dots (ISO 128 type 05).
    LongTwoDots,
}

/// A stroke and a fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pen {
    /// Line width, mm; 0 draws no line.
    pub width: f64,
    pub colour: Colour,
    pub dash: Dash,
    pub fill: Option<Colour>,
    /// Whether strokes end in a half circle.
    pub round: bool,
}

impl Pen {
    pub const fn line(width: f64) -> Self {
        Self { width, colour: INK, dash: Dash::Solid, fill: None, round: false }
    }
    pub const fn fill(colour: Colour) -> Self {
        Self { width: 0.0, colour: INK, dash: Dash::Solid, fill: Some(colour), round: false }
    }
    pub const fn round(self) -> Self {
        Self { round: true, ..self }
    }
    pub const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
    pub const fn coloured(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }
    pub const fn filled(self, colour: Colour) -> Self {
        Self { fill: Some(colour), ..self }
    }
    /// The same in dots, nothing filled but with paper.
    pub fn doubtful(self) -> Self {
        Self { width: self.width.max(0.25), dash: Dash::Fine, fill: self.fill.map(|_| PAPER), ..self }
    }
    /// The same in greys.
    pub fn grey(self) -> Self {
        Self { colour: self.colour.grey(), fill: self.fill.map(Colour::grey), ..self }
    }
    /// The lengths of strokes and gaps in turn, mm, none for a line without gaps, and whether strokes end in
    /// a half circle.
    pub fn strokes(&self) -> (Vec<f64>, bool) {
        match self.dash {
            Dash::Solid => (Vec::new(), self.round),
            Dash::Short => (vec![2.0, 1.0], self.round),
            Dash::Match => (vec![6.0, 1.2], self.round),
            Dash::Crown => (vec![5.0, 1.0, 1.6, 1.0], self.round),
            Dash::Fine => (vec![0.01, 0.6], true),
            Dash::LongDot => (vec![7.0, 1.6, 0.01, 1.6], true),
            Dash::TwoDots => (vec![3.0, 1.0, 0.01, 1.0, 0.01, 1.0], true),
            Dash::ThreeDots => (vec![3.0, 1.0, 0.01, 1.0, 0.01, 1.0, 0.01, 1.0], true),
            Dash::Far => (vec![1.2, 2.0], self.round),
            Dash::Doubt => (vec![0.7, 1.4], self.round),
            Dash::Dots => (vec![0.01, (3.0 * self.width).max(0.9)], true),
            Dash::LongTwoDots => (vec![7.0, 1.6, 0.01, 1.6, 0.01, 1.6], true),
        }
    }
}

/// Where text hangs from its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hang {
    Start,
    Middle,
}

/// How text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Face {
    /// Font size, mm.
    pub size: f64,
    pub bold: bool,
    pub italic: bool,
    pub underlined: bool,
    pub hang: Hang,
    pub colour: Colour,
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
    pub const fn coloured(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }
    /// The same in grey.
    pub fn grey(self) -> Self {
        Self { colour: self.colour.grey(), ..self }
    }
    pub const fn turned(self, turn: f64) -> Self {
        Self { turn, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the relative luminance of the Web Content Accessibility Guidelines 2.2 (a grey has its own
    /// brightness; the ratio of contrast to white stays), worked out here from their formula.
    #[test]
    fn grey_is_as_bright_as_its_colour() {
        let luminance = |colour: Colour| {
            let linear = colour.parts().map(|part| {
                let c = f64::from(part) / 255.0;
                if c <= 0.04045 { c / 12.92 } else { float::powf((c + 0.055) / 1.055, 2.4) }
            });
            linear.iter().zip([0.2126, 0.7152, 0.0722]).map(|(part, weight)| part * weight).sum::<f64>()
        };
        for colour in [0xb3_00_1b, 0x6b_4f_00, 0x0b_4f_9e, 0x00_66_2b, 0x5c_3d_1e, 0xff_00_00, 0x00_00_ff] {
            let (colour, grey) = (Colour(colour), Colour(colour).grey());
            let [r, g, b] = grey.parts();
            assert!(r == g && g == b, "{grey}");
            let off = (luminance(colour) + 0.05) / (luminance(grey) + 0.05);
            assert!((off - 1.0).abs() < 0.02, "{colour} {grey}: {off}");
        }
        for part in 0..=0xff {
            let grey = Colour(part << 16 | part << 8 | part);
            assert_eq!(grey.grey(), grey);
        }
        // Red, green and blue alone, from the tables of many editors: #7f7f7f, #dcdcdc, #4c4c4c.
        assert_eq!(
            [0xff_00_00, 0x00_ff_00, 0x00_00_ff].map(|c| Colour(c).grey().0 & 0xff),
            [0x7f, 0xdc, 0x4c]
        );
    }
}
