//! What stands on a page: the picture in PDF's operators (ISO 32000-1, annex A).

use super::POINTS;
use super::face::PdfFace;
use crate::sheet::geometry::{Frame, Spot, spot};
use crate::sheet::pen::{Colour, Face, Hang, Pen};
use crate::sheet::picture::{Item, Page, Picture, Role, Step};
use crate::sheet::text::shown;
use crate::units::float;
use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Str};

/// How far italics lean: 11°, as the font's own oblique.
const SLANT: f64 = 0.1944;

/// Writes one page.
pub(super) struct Writer<'a> {
    faces: &'a [PdfFace<'a>],
    window: &'a Frame,
    out: Content,
}

impl<'a> Writer<'a> {
    pub fn new(faces: &'a [PdfFace<'a>], window: &'a Frame) -> Self {
        Self { faces, window, out: Content::new() }
    }

    /// The page's content: everything after this first turn is in millimetres from the upper left corner.
    pub fn page(mut self, page: &Page) -> Vec<u8> {
        let k = POINTS as f32;
        self.out.transform([k, 0.0, 0.0, -k, 0.0, (page.sheet.height() * POINTS) as f32]);
        // As SVG's.
        self.out.set_miter_limit(4.0);
        self.picture(&page.body);
        self.out.finish().into_vec()
    }

    fn picture(&mut self, picture: &Picture) {
        for item in picture.items() {
            self.item(item);
        }
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Group(role, inner) => self.group(role, inner),
            Item::Line(a, b, pen) => self.path(&[Step::Move(*a), Step::Line(*b)], *pen),
            Item::Path(steps, pen) => self.path(steps, *pen),
            Item::Circle(centre, radius, pen) => {
                // Dashes begin where SVG's do: at the right, clockwise (SVG 1.1, 9.3 leaves it open; 2, 10.4 says so).
                let (left, right) = (centre.plus(-radius, 0.0), centre.plus(*radius, 0.0));
                let half = |to| Step::Arc { radius: *radius, clockwise: true, to };
                self.path(&[Step::Move(right), half(left), half(right), Step::Close], *pen);
            }
            Item::Rect(frame, pen) => self.painted(*pen, |out| {
                out.rect(n(frame.x0), n(frame.y0), n(frame.width()), n(frame.height()));
            }),
            Item::Text(at, face, words) => self.text(*at, *face, words),
        }
    }

    fn group(&mut self, role: &Role, inner: &Picture) {
        match role {
            Role::Named(_) | Role::Class(_) | Role::Told(..) => self.picture(inner),
            Role::Moved(by) => {
                self.out.save_state().transform([1.0, 0.0, 0.0, 1.0, n(by.x), n(by.y)]);
                self.picture(inner);
                self.out.restore_state();
            }
            Role::Window => {
                let at = self.window;
                self.out.save_state().rect(n(at.x0), n(at.y0), n(at.width()), n(at.height()));
                self.out.clip_nonzero().end_path();
                self.picture(inner);
                self.out.restore_state();
            }
        }
    }

    fn path(&mut self, steps: &[Step], pen: Pen) {
        self.painted(pen, |out| {
            let mut here = Spot::default();
            for step in steps {
                match *step {
                    Step::Move(at) => {
                        out.move_to(n(at.x), n(at.y));
                        here = at;
                    }
                    Step::Line(at) => {
                        out.line_to(n(at.x), n(at.y));
                        here = at;
                    }
                    Step::Arc { radius, clockwise, to } => {
                        for [a, b, c] in bows(here, radius, clockwise, to) {
                            out.cubic_to(n(a.x), n(a.y), n(b.x), n(b.y), n(c.x), n(c.y));
                        }
                        here = to;
                    }
                    Step::Close => {
                        out.close_path();
                    }
                }
            }
        });
    }

    /// Draws what `outline` describes.
    fn painted(&mut self, pen: Pen, outline: impl FnOnce(&mut Content)) {
        let stroked = pen.width > 0.0;
        if !stroked && pen.fill.is_none() {
            return;
        }
        if let Some(fill) = pen.fill {
            self.fill(fill);
        }
        if stroked {
            self.stroke(pen);
        }
        outline(&mut self.out);
        match (pen.fill.is_some(), stroked) {
            (true, true) => self.out.fill_nonzero_and_stroke(),
            (true, false) => self.out.fill_nonzero(),
            _ => self.out.stroke(),
        };
    }

    fn fill(&mut self, colour: Colour) {
        match parts(colour) {
            [r, g, b] if r.total_cmp(&g).is_eq() && g.total_cmp(&b).is_eq() => self.out.set_fill_gray(r),
            [r, g, b] => self.out.set_fill_rgb(r, g, b),
        };
    }

    fn stroke(&mut self, pen: Pen) {
        match parts(pen.colour) {
            [r, g, b] if r.total_cmp(&g).is_eq() && g.total_cmp(&b).is_eq() => self.out.set_stroke_gray(r),
            [r, g, b] => self.out.set_stroke_rgb(r, g, b),
        };
        let (strokes, round) = pen.strokes();
        self.out.set_line_width(n(pen.width));
        self.out.set_dash_pattern(strokes.into_iter().map(n), 0.0);
        self.out.set_line_cap(if round { LineCapStyle::RoundCap } else { LineCapStyle::ButtCap });
    }

    fn text(&mut self, at: Spot, face: Face, words: &str) {
        let Some(own) = self.faces.iter().find(|own| own.bold == face.bold) else { return };
        let (text, length) = own.set(collapsed(words).into_iter());
        if text.is_empty() {
            return;
        }
        let turn = face.turn.to_radians();
        let (ux, uy) = (float::cos(turn), float::sin(turn));
        let from = match face.hang {
            Hang::Start => 0.0,
            Hang::Middle => -length * face.size / 2.0,
        };
        let place =
            |along: f64, down: f64| spot(at.x + ux * along - uy * down, at.y + uy * along + ux * down);
        let start = place(from, 0.0);
        self.fill(face.colour);
        // Letters stand upwards, millimetres count downwards: the second axis of the text is turned over.
        let lean = if face.italic { SLANT } else { 0.0 };
        let up = (uy + ux * lean, -ux + uy * lean);
        let turned = [ux, uy, up.0, up.1].map(|share| (share * 1e6).round() / 1e6).map(|share| share as f32);
        let [a, b, c, d] = turned;
        self.out.begin_text().set_font(own.name, n(face.size));
        self.out.set_text_matrix([a, b, c, d, n(start.x), n(start.y)]).show(Str(&text)).end_text();
        if face.underlined {
            let line = own.underline;
            let down = line.below * face.size;
            let ends = [place(from, down), place(from + length * face.size, down)];
            let [from, to] = ends;
            self.path(
                &[Step::Move(from), Step::Line(to)],
                Pen::line(line.width * face.size).coloured(face.colour),
            );
        }
    }
}

/// A length or place, mm, to a micrometre as in the SVG; what is no number was refused long before.
fn n(x: f64) -> f32 {
    if x.is_finite() { ((x * 1000.0).round() / 1000.0) as f32 } else { 0.0 }
}

/// Red, green and blue from 0 to 1.
fn parts(colour: Colour) -> [f32; 3] {
    colour.parts().map(|part| (f32::from(part) / 255.0 * 10_000.0).round() / 10_000.0)
}

/// Words as SVG shows them: spaces at either end are dropped, several count as one (SVG 1.1, 10.15).
fn collapsed(words: &str) -> Vec<char> {
    let mut all: Vec<char> = Vec::new();
    for c in shown(words) {
        if c != ' ' || all.last().is_some_and(|last| *last != ' ') {
            all.push(c);
        }
    }
    if all.last() == Some(&' ') {
        all.pop();
    }
    all
}

/// The shorter arc of a circle as cubic curves, each a quarter turn at most: their control places and ends. Where
/// the circle is too small to reach, it is as large as it must be (SVG 1.1, F.6.6).
fn bows(from: Spot, radius: f64, clockwise: bool, to: Spot) -> Vec<[Spot; 3]> {
    let Some((ux, uy, chord)) = from.direction(to) else { return Vec::new() };
    let radius = radius.abs().max(chord / 2.0);
    let off = float::sqrt((radius * radius - chord * chord / 4.0).max(0.0));
    // Seen walking, the middle of a clockwise arc lies to the right, which is downwards on the sheet.
    let side = if clockwise { off } else { -off };
    let middle = from.toward(to, 0.5).plus(-uy * side, ux * side);
    let angle = |at: Spot| float::atan2(at.y - middle.y, at.x - middle.x);
    let tau = std::f64::consts::TAU;
    let start = angle(from);
    let mut sweep = angle(to) - start;
    if clockwise && sweep < 0.0 {
        sweep += tau;
    } else if !clockwise && sweep > 0.0 {
        sweep -= tau;
    }
    let count = (sweep.abs() / std::f64::consts::FRAC_PI_2 - 1e-9).ceil().clamp(1.0, 4.0);
    let step = sweep / count;
    // The usual length of the handles, so that the curve's middle lies on the circle.
    let handle = 4.0 / 3.0 * float::tan(step / 4.0) * radius;
    let mut curves = Vec::new();
    let mut done = 0.0;
    while done < count {
        let (a, b) = (start + step * done, start + step * (done + 1.0));
        let on = |angle: f64| middle.plus(radius * float::cos(angle), radius * float::sin(angle));
        let handled = |angle: f64, by: f64| on(angle).plus(-by * float::sin(angle), by * float::cos(angle));
        let last = done + 1.0 >= count;
        curves.push([handled(a, handle), handled(b, -handle), if last { to } else { on(b) }]);
        done += 1.0;
    }
    curves
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points of a cubic curve (de Casteljau).
    fn along(from: Spot, [a, b, to]: [Spot; 3], share: f64) -> Spot {
        let (p, q, r) = (from.toward(a, share), a.toward(b, share), b.toward(to, share));
        p.toward(q, share).toward(q.toward(r, share), share)
    }

    /// Every place of the curves lies on the circle; which side is SVG's own example of flags (SVG 1.1, 8.3.8).
    #[test]
    fn bows_follow_the_circle() {
        for (from, to, radius, clockwise, middle) in [
            (spot(-3.0, 0.0), spot(3.0, 0.0), 3.0, true, spot(0.0, 0.0)),
            (spot(-3.0, 0.0), spot(0.0, -3.0), 3.0, true, spot(0.0, 0.0)),
            (spot(-3.0, 0.0), spot(0.0, -3.0), 3.0, false, spot(-3.0, -3.0)),
            (spot(5.0, 1.0), spot(5.0, 9.0), 5.0, true, spot(2.0, 5.0)),
        ] {
            let mut here = from;
            for curve in bows(from, radius, clockwise, to) {
                for n in 0..=10 {
                    let at = along(here, curve, f64::from(n) / 10.0);
                    assert!((at.distance(middle) - radius).abs() < 0.001 * radius, "{at:?} of {middle:?}");
                }
                here = curve[2];
            }
            assert_eq!(here, to);
        }
        // Over the top, not under: clockwise from left to right.
        let top = bows(spot(-3.0, 0.0), 3.0, true, spot(3.0, 0.0))[0][2];
        assert!((top.y + 3.0).abs() < 1e-9, "{top:?}");
        // Too small a circle becomes a half circle.
        assert_eq!(bows(spot(0.0, 0.0), 0.1, true, spot(8.0, 0.0)).len(), 2);
        assert!(bows(spot(1.0, 1.0), 2.0, true, spot(1.0, 1.0)).is_empty());
    }

    #[test]
    fn spaces_collapse_as_in_svg() {
        assert_eq!(collapsed("  a \n\t b\u{a0} c  ").into_iter().collect::<String>(), "a b\u{a0} c");
        assert!(collapsed(" \u{202e} ").is_empty());
    }
}
