//! The font in the SVG, read by decoders that are not ours.

use super::yards::{draw, sampler, yard};
use super::{hostile, parse};
use base64::prelude::{BASE64_STANDARD, Engine};
use std::collections::BTreeSet;
use std::path::Path;
use swingtie_core::sheet::{Drawing, Options};

/// The font of a `@font-face` rule, base64; none where it is no such rule or says anything else.
pub fn font_of(rule: &str) -> Option<&str> {
    let weight =
        |rule: &'_ str| rule.strip_prefix("normal").or_else(|| rule.strip_prefix("bold")).map(str::len);
    let rule = rule.strip_prefix("@font-face { font-family: 'DejaVu Sans'; font-weight: ")?;
    let left = &rule[rule.len() - weight(rule)?..];
    left.strip_prefix("; src: url(data:font/woff;base64,")?.strip_suffix(") format('woff') }")
}

/// A sheet's text without the bytes of its fonts.
pub fn without_fonts(svg: &str) -> String {
    let line = |line: &str| match font_of(line.strip_suffix("</style>").unwrap_or(line)) {
        Some(font) => line.replace(font, "…") + "\n",
        None => line.to_owned() + "\n",
    };
    svg.lines().map(line).collect()
}

/// The fonts of a sheet, regular and bold, as OpenType.
fn fonts(drawing: &Drawing) -> Vec<(bool, Vec<u8>)> {
    let document = parse(&drawing.svg);
    let style = document.descendants().find(|node| node.has_tag_name("style")).expect("a style");
    let rules = style.text().expect("rules").lines().filter(|rule| rule.starts_with("@font-face"));
    rules
        .map(|rule| {
            let packed = BASE64_STANDARD.decode(font_of(rule).expect("a font")).expect("base64");
            let font = wuff::decompress_woff1(&packed).expect("WOFF 1.0");
            (rule.contains("font-weight: bold"), font)
        })
        .collect()
}

/// What the sheet writes in regular or bold.
fn characters(drawing: &Drawing, bold: bool) -> BTreeSet<char> {
    let document = parse(&drawing.svg);
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    let mine = texts.filter(|node| (node.attribute("font-weight") == Some("bold")) == bold);
    mine.flat_map(|node| node.text().unwrap_or_default().chars().collect::<Vec<_>>()).collect()
}

/// Each font has every character of its texts that the whole font has, at the same width, and hardly more than
/// that: it grows the file by little.
#[test]
fn the_svg_brings_its_letters() {
    let mut seen = 0;
    for yard in [yard(1), yard(2), sampler(), hostile::hostile()] {
        let drawing = draw(&yard, &Options::default());
        let own = fonts(&drawing);
        assert_eq!(own.iter().map(|(bold, _)| *bold).collect::<Vec<_>>(), [false, true]);
        for (bold, file) in &own {
            let name = if *bold { "DejaVuSans-Bold.ttf" } else { "DejaVuSans.ttf" };
            let whole = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/sheet/fonts").join(name);
            let whole = std::fs::read(whole).expect("the font");
            let whole = ttf_parser::Face::parse(&whole, 0).expect("a font");
            let face = ttf_parser::Face::parse(file, 0).expect("a font");
            assert_eq!(face.units_per_em(), whole.units_per_em());
            let mut known = 0;
            for c in characters(&drawing, *bold) {
                let Some(glyph) = whole.glyph_index(c) else {
                    assert_eq!(face.glyph_index(c), None, "{c:?}");
                    continue;
                };
                let own = face.glyph_index(c).unwrap_or_else(|| panic!("{c:?} of bold {bold} is missing"));
                assert_eq!(face.glyph_hor_advance(own), whole.glyph_hor_advance(glyph), "{c:?}");
                assert_eq!(face.glyph_bounding_box(own), whole.glyph_bounding_box(glyph), "{c:?}");
                known += 1;
            }
            seen += known;
            // Parts of accented letters are glyphs besides, and the box.
            assert!(usize::from(face.number_of_glyphs()) < known + 30, "{} glyphs", face.number_of_glyphs());
        }
        let grown = drawing.svg.len() - without_fonts(&drawing.svg).len();
        assert!((5_000..40_000).contains(&grown), "the fonts are {grown} bytes");
    }
    assert!(seen > 300, "only {seen} characters compared");
}
