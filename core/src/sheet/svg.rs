//! Writes SVG 1.1: plain shapes and text with presentation attributes, no scripts, no styles but the
//! paper's size for printing and the font, nothing fetched from outside, so that it opens the same in browsers and
//! drawing programs.

use super::geometry::Spot;
use super::pen::{Face, Hang, INK, Pen};
use super::picture::{Item, Page, Picture, Role, Step};
use super::text::shown;
use super::{font, woff};
use base64::prelude::{BASE64_STANDARD, Engine};
use std::fmt::Write;

/// Text's family: the sheet's own font, then the names every system maps to something, then the generic one.
const FAMILY: &str = "'DejaVu Sans', Helvetica, Arial, 'Liberation Sans', sans-serif";

/// The page as an SVG document.
pub(super) fn write(page: &Page) -> String {
    let (w, h) = (num(page.sheet.width()), num(page.sheet.height()));
    let window = &page.window;
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\" font-family=\"{FAMILY}\" fill=\"{INK}\" role=\"img\" \
         aria-labelledby=\"sheet-title sheet-description\">\n"
    );
    // A browser prints the file on paper of this size, true to scale.
    let _ = writeln!(out, "<style>@page {{ size: {w}mm {h}mm; margin: 0 }}{}</style>", faces(&page.body));
    let _ = writeln!(out, "<title id=\"sheet-title\">{}</title>", escape(&page.title));
    let _ = writeln!(out, "<desc id=\"sheet-description\">{}</desc>", escape(&page.description));
    let _ = writeln!(
        out,
        "<defs><clipPath id=\"window\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath></defs>",
        num(window.x0),
        num(window.y0),
        num(window.width()),
        num(window.height())
    );
    picture(&mut out, &page.body);
    out.push_str("</svg>\n");
    out
}

/// The font, as much of it as the sheet's words need, for browsers: it looks alike on all. Programs that read no
/// embedded fonts take the next of the family's names that they know.
fn faces(body: &Picture) -> String {
    let mut faces = String::new();
    for (bold, characters) in font::used([body]) {
        // The font is ours: it could only fail to be cut down if it were damaged, and words stay readable.
        let Ok(face) = font::cut(bold, &characters) else { continue };
        let weight = if bold { "bold" } else { "normal" };
        let file = BASE64_STANDARD.encode(woff::write(&face.file));
        let _ = write!(
            faces,
            "\n@font-face {{ font-family: 'DejaVu Sans'; font-weight: {weight}; \
             src: url(data:font/woff;base64,{file}) format('woff') }}"
        );
    }
    faces
}

fn picture(out: &mut String, picture: &Picture) {
    for each in picture.items() {
        item(out, each);
    }
}

fn item(out: &mut String, item: &Item) {
    let _ = match item {
        Item::Group(role, inner) => {
            let _ = writeln!(out, "<g {}>", attributes(role));
            picture(out, inner);
            writeln!(out, "</g>")
        }
        Item::Line(a, b, pen) => writeln!(
            out,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>",
            num(a.x),
            num(a.y),
            num(b.x),
            num(b.y),
            paint(*pen)
        ),
        Item::Path(steps, pen) => writeln!(out, "<path d=\"{}\"{}/>", data(steps), paint(*pen)),
        Item::Circle(centre, radius, pen) => writeln!(
            out,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            num(centre.x),
            num(centre.y),
            num(*radius),
            paint(*pen)
        ),
        Item::Rect(frame, pen) => writeln!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
            num(frame.x0),
            num(frame.y0),
            num(frame.width()),
            num(frame.height()),
            paint(*pen)
        ),
        Item::Text(at, face, words) => writeln!(out, "<text{}>{}</text>", set(*at, *face), escape(words)),
    };
}

fn attributes(role: &Role) -> String {
    match role {
        Role::Named(name) => format!("id=\"{}\"", escape(name)),
        Role::Class(class) => format!("class=\"{class}\""),
        Role::Told(class, key, value) => format!("class=\"{class}\" data-{key}=\"{}\"", escape(value)),
        Role::Moved(by) => format!("transform=\"translate({} {})\"", num(by.x), num(by.y)),
        Role::Window => "clip-path=\"url(#window)\"".to_owned(),
    }
}

/// How text is set.
fn set(at: Spot, face: Face) -> String {
    let mut set = format!(" x=\"{}\" y=\"{}\" font-size=\"{}\"", num(at.x), num(at.y), num(face.size));
    if face.bold {
        set.push_str(" font-weight=\"bold\"");
    }
    if face.italic {
        set.push_str(" font-style=\"italic\"");
    }
    if face.underlined {
        set.push_str(" text-decoration=\"underline\"");
    }
    match face.hang {
        Hang::Start => {}
        Hang::Middle => set.push_str(" text-anchor=\"middle\""),
    }
    if face.colour != INK {
        let _ = write!(set, " fill=\"{}\"", face.colour);
    }
    if face.turn.abs() > 1e-6 {
        let _ = write!(set, " transform=\"rotate({} {} {})\"", num(face.turn), num(at.x), num(at.y));
    }
    set
}

/// Path data.
fn data(steps: &[Step]) -> String {
    let mut d = String::new();
    for step in steps {
        let _ = match step {
            Step::Move(at) => write!(d, "M{} {}", num(at.x), num(at.y)),
            Step::Line(at) => write!(d, "L{} {}", num(at.x), num(at.y)),
            Step::Arc { radius, clockwise, to } => write!(
                d,
                "A{} {} 0 0 {} {} {}",
                num(*radius),
                num(*radius),
                u8::from(*clockwise),
                num(to.x),
                num(to.y)
            ),
            Step::Close => write!(d, "Z"),
        };
    }
    d
}

fn paint(pen: Pen) -> String {
    let mut attributes =
        pen.fill.map_or_else(|| " fill=\"none\"".to_owned(), |fill| format!(" fill=\"{fill}\""));
    if pen.width > 0.0 {
        let _ = write!(attributes, " stroke=\"{}\" stroke-width=\"{}\"", pen.colour, num(pen.width));
        let (strokes, round) = pen.strokes();
        if !strokes.is_empty() {
            let strokes: Vec<String> = strokes.into_iter().map(num).collect();
            let _ = write!(attributes, " stroke-dasharray=\"{}\"", strokes.join(" "));
        }
        if round {
            attributes.push_str(" stroke-linecap=\"round\"");
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

/// User text as XML character data: escaped, and only what may be shown.
pub(crate) fn escape(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in shown(words) {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
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
