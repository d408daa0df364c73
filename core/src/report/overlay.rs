//! What was drawn over a photo, over its small picture.

use super::html::Html;
use crate::record::{PhotoMark, PictureSpot};
use crate::units::float;
use crate::units::format::fixed;

/// The size of a picture in pixels as its bytes say it: PNG, JPEG (ITU-T T.81, B.2.2), WebP (RFC 9649); none where they
/// cannot be read.
fn size(bytes: &[u8]) -> Option<(f64, f64)> {
    let be = |at: usize| Some(u32::from(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?)));
    let le = |at: usize| Some(u32::from(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?)));
    let found = match bytes {
        // The high halves are nought in any picture that a phone keeps.
        [0x89, b'P', b'N', b'G', ..] => (be(18)?, be(22)?),
        [0xff, 0xd8, ..] => {
            let mut at = 2;
            loop {
                let marker = *bytes.get(at + 1)?;
                // Start of frame, whatever the coding; C4, C8 and CC are other things.
                if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
                    break (be(at + 7)?, be(at + 5)?);
                }
                // A fill byte, a marker without content, or a segment with its length.
                at += match marker {
                    0xff => 1,
                    0x01 | 0xd0..=0xd8 => 2,
                    _ => 2 + usize::try_from(be(at + 2)?).ok()?,
                };
            }
        }
        _ => match bytes.get(12..16)? {
            b"VP8X" => (le(24)? + 1, le(27)? + 1),
            b"VP8L" => {
                let (low, high) = (le(21)?, le(23)?);
                ((low & 0x3fff) + 1, ((low >> 14) | ((high & 0xfff) << 2)) + 1)
            }
            b"VP8 " => (le(26)? & 0x3fff, le(28)? & 0x3fff),
            _ => return None,
        },
    };
    (found.0 > 0 && found.1 > 0).then(|| (f64::from(found.0), f64::from(found.1)))
}

/// The marks as a drawing over a picture with these bytes; nothing where nothing was drawn. Their words stand in the page
/// as well, so that the drawing is for the eye alone.
pub(super) fn write(marks: &[PhotoMark], picture: &[u8], html: &mut Html) {
    if marks.is_empty() {
        return;
    }
    // Places are right in any box that lies over the picture; only circles want its true shape.
    let (wide, high) = size(picture).unwrap_or((400.0, 300.0));
    let place = |spot: &PictureSpot| (spot.across.clamp(0.0, 1.0) * wide, spot.down.clamp(0.0, 1.0) * high);
    let long = wide.max(high);
    html.raw("<svg aria-hidden=\"true\" preserveAspectRatio=\"none\" viewBox=\"0 0 ");
    html.plain(&format!("{} {}", fixed(wide, 0), fixed(high, 0))).raw("\">");
    // White below, so that the line shows on dark and on light.
    for (class, width) in [("below", long / 60.0), ("over", long / 130.0)] {
        html.raw("<g class=\"").raw(class).raw("\" stroke-width=\"").plain(&fixed(width, 1)).raw("\">");
        for mark in marks {
            match mark {
                PhotoMark::Arrow { from, to } => {
                    html.raw("<path d=\"").plain(&arrow(place(from), place(to), long / 16.0)).raw("\"/>");
                }
                PhotoMark::Circle { centre, rim } => {
                    let ((cx, cy), (rx, ry)) = (place(centre), place(rim));
                    let radius = float::hypot(rx - cx, ry - cy);
                    for (name, value) in [("<circle cx=\"", cx), ("\" cy=\"", cy), ("\" r=\"", radius)] {
                        html.raw(name).plain(&fixed(value, 1));
                    }
                    html.raw("\"/>");
                }
                PhotoMark::Text { at, text } => {
                    let (x, y) = place(at);
                    html.raw("<text x=\"").plain(&fixed(x, 1)).raw("\" y=\"").plain(&fixed(y, 1));
                    html.raw("\" font-size=\"")
                        .plain(&fixed(long / 16.0, 1))
                        .raw("\">")
                        .plain(text)
                        .raw("</text>");
                }
            }
        }
        html.raw("</g>");
    }
    html.raw("</svg>");
}

/// Shaft and open head.
fn arrow((x0, y0): (f64, f64), (x1, y1): (f64, f64), head: f64) -> String {
    let direction = float::atan2(y1 - y0, x1 - x0);
    let side = |turn: f64| {
        let angle = direction + turn;
        format!("{} {}", fixed(x1 - head * float::cos(angle), 1), fixed(y1 - head * float::sin(angle), 1))
    };
    let ends = [x0, y0, x1, y1].map(|v| fixed(v, 1));
    let [x0, y0, x1, y1] = &ends;
    format!("M{x0} {y0}L{x1} {y1}M{}L{x1} {y1}L{}", side(0.5), side(-0.5))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Heads as the formats' specifications lay them out, written by hand; pictures of 640 by 480 pixels.
    #[test]
    fn the_size_stands_in_the_head_of_each_format() {
        let png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0";
        assert_eq!(size(png), Some((640.0, 480.0)));
        let jpeg =
            b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01\x01\0\0\x01\0\x01\0\0\xff\xc0\0\x11\x08\x01\xe0\x02\x80\x03";
        assert_eq!(size(jpeg), Some((640.0, 480.0)));
        let extended = b"RIFF\0\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0\x7f\x02\0\xdf\x01\0";
        assert_eq!(size(extended), Some((640.0, 480.0)));
        let lossy = b"RIFF\0\0\0\0WEBPVP8 \0\0\0\0\0\0\0\x9d\x01\x2a\x80\x02\xe0\x01";
        assert_eq!(size(lossy), Some((640.0, 480.0)));
        // 639 and 479 in fourteen bits each, after the signature 2f.
        let lossless = b"RIFF\0\0\0\0WEBPVP8L\0\0\0\0\x2f\x7f\xc2\x77\0";
        assert_eq!(size(lossless), Some((640.0, 480.0)));
        for cut in 0..png.len().min(23) {
            assert_eq!(size(&png[..cut]), None);
        }
        for broken in [&b"\xff\xd8\xff\xe0\0\0"[..], b"\xff\xd8\xff\xe0", b"RIFF", b""] {
            assert_eq!(size(broken), None);
        }
    }

    #[test]
    fn marks_stand_where_they_were_drawn_and_words_are_only_words() {
        let at = |across, down| PictureSpot { across, down };
        let marks = [
            PhotoMark::Circle { centre: at(0.5, 0.5), rim: at(0.75, 0.5) },
            PhotoMark::Text { at: at(0.0, 2.0), text: "<script>\"".to_owned() },
        ];
        let png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0";
        let mut html = Html::default();
        write(&marks, png, &mut html);
        let text = html.into_text();
        assert!(text.contains("viewBox=\"0 0 640 480\""), "{text}");
        assert!(text.contains("<circle cx=\"320.0\" cy=\"240.0\" r=\"160.0\"/>"), "{text}");
        assert!(
            text.contains("x=\"0.0\" y=\"480.0\"") && text.contains(">&lt;script&gt;&quot;</text>"),
            "{text}"
        );
    }
}
