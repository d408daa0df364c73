//! A font of the PDF: which number stands for which character, and the objects that say so.

use super::{EFFORT, Error, Numbers};
use crate::sheet::font::{Cut, Metrics, Underline};
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use std::collections::{BTreeMap, BTreeSet};

/// One character in the file.
#[derive(Clone, Copy, Debug)]
struct Sign {
    /// Its number, from 1 on. Each has its own, so that those which share the box are still told apart when
    /// the text is searched.
    number: u16,
    glyph: u16,
    /// Share of the font size.
    advance: f64,
    /// Whether the font lacks it.
    lacking: bool,
}

/// One font of the file.
pub(super) struct PdfFace<'a> {
    pub bold: bool,
    /// How page contents call it.
    pub name: Name<'static>,
    pub underline: Underline,
    cut: &'a Cut,
    metrics: Metrics<'a>,
    signs: BTreeMap<char, Sign>,
}

/// Characters that are seen only in what they do to others: joiners, variation selectors, soft hyphens, marks of the
/// byte order (default ignorable code points of the Unicode Character Database, those a sheet may meet).
fn unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{34f}' | '\u{200b}'..='\u{200d}' | '\u{2060}'..='\u{2064}' | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}' | '\u{e0000}'..='\u{e0fff}')
}

impl<'a> PdfFace<'a> {
    /// The font for these characters.
    ///
    /// # Errors
    /// When there are more than can be numbered, or the font cannot be read.
    pub fn new(bold: bool, characters: &BTreeSet<char>, cut: &'a Cut) -> Result<Self, Error> {
        let metrics = cut.metrics()?;
        let mut signs = BTreeMap::new();
        for (c, number) in characters.iter().filter(|c| !unseen(**c)).zip(1_u32..) {
            let number = u16::try_from(number).map_err(|_| Error::TooManyCharacters)?;
            let (glyph, own) = metrics.glyph(*c);
            signs.insert(*c, Sign { number, glyph, advance: metrics.advance(glyph), lacking: !own });
        }
        let name = if bold { Name(b"F2") } else { Name(b"F1") };
        Ok(Self { bold, name, underline: metrics.underline(), cut, metrics, signs })
    }

    /// The characters that show as a box.
    pub fn lacking(&self) -> impl Iterator<Item = char> {
        self.signs.iter().filter(|(_, sign)| sign.lacking).map(|(c, _)| *c)
    }

    /// What a page's content shows for these characters, and how far they run as a share of the font size.
    pub fn set(&self, words: impl Iterator<Item = char>) -> (Vec<u8>, f64) {
        let (mut text, mut length) = (Vec::new(), 0.0);
        for sign in words.filter_map(|c| self.signs.get(&c)) {
            text.extend(sign.number.to_be_bytes());
            length += sign.advance;
        }
        (text, length)
    }

    /// Writes the font's objects and hands back which one pages name (ISO 32000-1, 9.7: a composite font whose
    /// characters are numbered by us).
    pub fn write(&self, pdf: &mut Pdf, numbers: &mut Numbers) -> Ref {
        let (font, own, about) = (numbers.next(), numbers.next(), numbers.next());
        let (file, map, meaning) = (numbers.next(), numbers.next(), numbers.next());
        let called = format!("{}+DejaVuSans{}", self.tag(), if self.bold { "-Bold" } else { "" });
        let called = Name(called.as_bytes());
        let system = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
        let thousandths = |share: f64| (share * 1000.0).round() as f32;

        let mut composite = pdf.type0_font(font);
        composite.base_font(called).encoding_predefined(Name(b"Identity-H"));
        composite.descendant_font(own).to_unicode(meaning);
        composite.finish();

        let mut cid = pdf.cid_font(own);
        cid.subtype(CidFontType::Type2).base_font(called).system_info(system).font_descriptor(about);
        cid.default_width(0.0).cid_to_gid_map_stream(map);
        cid.widths().consecutive(1, self.signs.values().map(|sign| thousandths(sign.advance)));
        cid.finish();

        let ([left, low, right, high], [ascent, descent], capitals) = self.metrics.extent();
        let mut descriptor = pdf.font_descriptor(about);
        descriptor.name(called).flags(FontFlags::SYMBOLIC).italic_angle(0.0);
        let [left, low, right, high] = [left, low, right, high].map(thousandths);
        descriptor.bbox(Rect::new(left, low, right, high));
        descriptor
            .ascent(thousandths(ascent))
            .descent(thousandths(descent))
            .cap_height(thousandths(capitals));
        // The usual width of stems, which viewers only ask where they have no font file.
        descriptor.stem_v(if self.bold { 140.0 } else { 80.0 }).font_file2(file);
        descriptor.finish();

        let deflated = compress_to_vec_zlib(&self.cut.file, EFFORT);
        let length = i32::try_from(self.cut.file.len()).unwrap_or(i32::MAX);
        pdf.stream(file, &deflated).filter(Filter::FlateDecode).pair(Name(b"Length1"), length);

        let mut glyphs = vec![0, 0];
        glyphs.extend(self.signs.values().flat_map(|sign| sign.glyph.to_be_bytes()));
        pdf.stream(map, &compress_to_vec_zlib(&glyphs, EFFORT)).filter(Filter::FlateDecode);

        let unicode = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
        let mut characters = UnicodeCmap::new(Name(b"Adobe-Identity-UCS"), unicode);
        for (c, sign) in &self.signs {
            characters.pair(sign.number, *c);
        }
        let deflated = compress_to_vec_zlib(characters.finish().as_slice(), EFFORT);
        pdf.stream(meaning, &deflated).filter(Filter::FlateDecode);
        font
    }

    /// Six capitals that tell this part of the font from others (ISO 32000-1, 9.6.4), from its characters by the
    /// FNV-1a hash.
    fn tag(&self) -> String {
        let hash = self.signs.keys().fold(0xcbf2_9ce4_8422_2325_u64, |hash, c| {
            (hash ^ u64::from(u32::from(*c))).wrapping_mul(0x0100_0000_01b3)
        });
        let letter = |n: u32| (b'A' + ((hash >> (8 * n)) % 26) as u8) as char;
        (0..6).map(letter).collect()
    }
}
