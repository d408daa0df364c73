//! Writes sheets as PDF 1.7 (ISO 32000-1), a page each, true to scale: pages of the paper's very size, everything
//! as lines and text, the font in the file. No clock and no randomness: the same sheets give the same bytes.

mod content;
mod face;

use super::Drawing;
use super::font::{self, Cut, FontDamaged};
use super::geometry::Frame;
use super::picture::Page;
use super::text::shown;
use content::Writer;
use face::PdfFace;
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, TextStr};
use std::collections::BTreeSet;

/// Points of PDF in a millimetre.
const POINTS: f64 = 72.0 / 25.4;
/// How hard to deflate, of 10.
const EFFORT: u8 = 6;

/// A PDF file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The file.
    pub bytes: Vec<u8>,
    /// What the user should know about it, one plain sentence each.
    pub notices: Vec<String>,
}

/// Why there is no PDF.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// There was nothing to make pages of.
    #[error("{}", say!("there is no sheet to write"))]
    NoSheets,
    /// More different characters than a font in a PDF can number, 65,535.
    #[error("{}", say!("the sheet's words have too many different characters"))]
    TooManyCharacters,
    /// More pages than can be counted.
    #[error("{}", say!("there are too many sheets for one file"))]
    TooManySheets,
    /// The program's font cannot be read.
    #[error(transparent)]
    Font(#[from] FontDamaged),
}

/// Hands out numbers of objects.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// Makes a PDF of these sheets, in their order.
///
/// # Errors
/// See [`Error`].
pub fn write(drawings: &[Drawing]) -> Result<Written, Error> {
    let pages: Vec<&Page> = drawings.iter().map(|drawing| &drawing.page).collect();
    let first = pages.first().ok_or(Error::NoSheets)?;
    let count =
        i32::try_from(pages.len()).ok().filter(|count| *count < 100_000).ok_or(Error::TooManySheets)?;
    let used = font::used(pages.iter().map(|page| &page.body));
    let cuts = used.iter().map(|(bold, characters)| font::cut(*bold, characters));
    let cuts: Vec<Cut> = cuts.collect::<Result<_, _>>()?;
    let faces = used.iter().zip(&cuts).map(|((bold, characters), cut)| PdfFace::new(*bold, characters, cut));
    let faces: Vec<PdfFace<'_>> = faces.collect::<Result<_, _>>()?;

    let mut pdf = Pdf::new();
    pdf.set_version(1, 7);
    let mut numbers = Numbers(0);
    let (catalogue, tree, info) = (numbers.next(), numbers.next(), numbers.next());
    let mut root = pdf.catalog(catalogue);
    root.pages(tree).lang(TextStr("en"));
    // Printed as large as it is: no viewer shrinks it to the printer's margins unasked (ISO 32000-1, 12.2).
    root.viewer_preferences().display_doc_title(true).pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    let said = |words: &str| shown(words).collect::<String>();
    let mut about = pdf.document_info(info);
    about.title(TextStr(&said(&first.title)));
    if !first.author.trim().is_empty() {
        about.author(TextStr(&said(&first.author)));
    }
    about.subject(TextStr(&said(&first.description)));
    about.creator(TextStr("Swingtie")).producer(TextStr("Swingtie"));
    about.finish();

    let fonts: Vec<(Name<'static>, Ref)> =
        faces.iter().map(|face| (face.name, face.write(&mut pdf, &mut numbers))).collect();
    let mut kids = Vec::new();
    for page in &pages {
        let content = Writer::new(&faces, &page.window).page(page);
        let (own, stream) = (numbers.next(), numbers.next());
        let deflated = compress_to_vec_zlib(&content, EFFORT);
        pdf.stream(stream, &deflated).filter(Filter::FlateDecode);
        let mut written = pdf.page(own);
        written.parent(tree).media_box(media_box(&page.sheet)).contents(stream);
        let mut resources = written.resources();
        let mut named = resources.fonts();
        for (name, font) in &fonts {
            named.pair(*name, *font);
        }
        kids.push(own);
    }
    pdf.pages(tree).kids(kids).count(count);
    let lacking: BTreeSet<char> = faces.iter().flat_map(|face| face.lacking()).collect();
    Ok(Written { bytes: pdf.finish(), notices: notice(&lacking).into_iter().collect() })
}

fn media_box(sheet: &Frame) -> Rect {
    Rect::new(0.0, 0.0, (sheet.width() * POINTS) as f32, (sheet.height() * POINTS) as f32)
}

/// Characters named in the notice.
const NAMED: usize = 12;

/// Says which characters are boxes.
fn notice(lacking: &BTreeSet<char>) -> Option<String> {
    let named: Vec<String> = lacking.iter().take(NAMED).map(char::to_string).collect();
    let more = lacking.len() - named.len();
    let rest = if more > 0 { say!(" and {more} more") } else { String::new() };
    let named = named.join(" ");
    (!lacking.is_empty()).then(|| {
        say!("The PDF's font lacks these characters and shows a box for each: {named}{rest}. The SVG shows them.")
    })
}
