//! How lines, areas and words look.

use std::fmt;

/// A colour: red, green and blue of sRGB (IEC 61966-2-1), a byte each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Colour(pub u32);

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
    pub const fn turned(self, turn: f64) -> Self {
        Self { turn, ..self }
    }
}
