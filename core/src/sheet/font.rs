//! The sheet's own font, DejaVu Sans (`fonts/README.md`), cut down to the characters that are written.

use super::picture::Picture;
use super::text::shown;
use font_subset::FontReader;
use std::collections::BTreeSet;
use ttf_parser::{Face, GlyphId};

static REGULAR: &[u8] = include_bytes!("fonts/DejaVuSans.ttf");
static BOLD: &[u8] = include_bytes!("fonts/DejaVuSans-Bold.ttf");

/// The font could not be read or cut down. It is part of the program, so this is a damaged program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("the font that belongs to the program is damaged"))]
pub struct FontDamaged;

/// A font with the glyphs it needs and no others.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// OpenType with TrueType outlines.
    pub file: Vec<u8>,
}

/// The characters that pictures write, for the regular and the bold font as far as either is used.
pub(super) fn used<'a>(pictures: impl IntoIterator<Item = &'a Picture>) -> Vec<(bool, BTreeSet<char>)> {
    let (mut regular, mut bold) = (BTreeSet::new(), BTreeSet::new());
    for picture in pictures {
        picture
            .words(&mut |words, face| if face.bold { &mut bold } else { &mut regular }.extend(shown(words)));
    }
    [(false, regular), (true, bold)].into_iter().filter(|(_, characters)| !characters.is_empty()).collect()
}

/// The font with the space and those of the characters that it has.
///
/// # Errors
/// [`FontDamaged`].
pub(super) fn cut(bold: bool, characters: &BTreeSet<char>) -> Result<Cut, FontDamaged> {
    let reader = FontReader::new(if bold { BOLD } else { REGULAR }).map_err(|_| FontDamaged)?;
    let font = reader.read().map_err(|_| FontDamaged)?;
    let known = characters.iter().copied().filter(|c| font.contains_char(*c)).chain([' ']).collect();
    let cut = font.subset(&known).map_err(|_| FontDamaged)?;
    Ok(Cut { file: cut.to_opentype() })
}

/// What a writer of glyphs asks a font.
pub(super) struct Metrics<'a>(Face<'a>);

/// Line under words: its middle below the baseline and its width, shares of the font size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Underline {
    pub below: f64,
    pub width: f64,
}

impl Cut {
    pub fn metrics(&self) -> Result<Metrics<'_>, FontDamaged> {
        Face::parse(&self.file, 0).map(Metrics).map_err(|_| FontDamaged)
    }
}

impl Metrics<'_> {
    /// The glyph of a character and whether it is its own: what the font lacks has the glyph 0, a box.
    pub fn glyph(&self, c: char) -> (u16, bool) {
        self.0.glyph_index(c).map_or((0, false), |glyph| (glyph.0, true))
    }
    /// How far a glyph moves on, as a share of the font size.
    pub fn advance(&self, glyph: u16) -> f64 {
        self.0.glyph_hor_advance(GlyphId(glyph)).map_or(0.0, |units| self.share(units))
    }
    /// A length of the font's own units as a share of the font size.
    fn share(&self, units: impl Into<f64>) -> f64 {
        units.into() / f64::from(self.0.units_per_em())
    }
    pub fn underline(&self) -> Underline {
        let line = self.0.underline_metrics();
        line.map_or(Underline { below: 0.1, width: 0.05 }, |line| Underline {
            below: -self.share(line.position),
            width: self.share(line.thickness),
        })
    }
    /// Left, lowest, right and highest of all glyphs; ascent and descent; height of capitals: shares of the font
    /// size.
    pub fn extent(&self) -> ([f64; 4], [f64; 2], f64) {
        let bounds = self.0.global_bounding_box();
        let bounds = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(|at| self.share(at));
        let rise = [self.0.ascender(), self.0.descender()].map(|at| self.share(at));
        (bounds, rise, self.0.capital_height().map_or(0.7, |high| self.share(high)))
    }
}
