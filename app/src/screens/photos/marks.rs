//! Marks on a picture while they are drawn.

use swingtie_core::record::{PhotoMark, PictureSpot};

/// What is drawn with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tool {
    /// An arrow, from tail to point.
    Arrow,
    /// A circle, from its middle to its rim.
    Circle,
    /// Words, where the finger comes down.
    Words,
}

/// Less than this, in fractions of the picture, is a tap and no stroke.
const TAP: f64 = 0.02;
/// What an arrow or a circle spans that was put down without drawing.
const SPAN: f64 = 0.12;
/// How far one press of an arrow key moves a mark.
const STEP: f64 = 0.02;

/// A stroke of the tool; a mere tap gives a mark of a usual size there. None for words without words.
pub fn drawn(tool: Tool, from: PictureSpot, to: PictureSpot, words: &str) -> Option<PhotoMark> {
    let tapped = (to.across - from.across).abs().max((to.down - from.down).abs()) < TAP;
    Some(match tool {
        // What is tapped is what is meant: the point of the arrow.
        Tool::Arrow if tapped => PhotoMark::Arrow { from: moved(from, -SPAN, SPAN), to: from },
        Tool::Arrow => PhotoMark::Arrow { from, to },
        Tool::Circle if tapped => PhotoMark::Circle { centre: from, rim: moved(from, SPAN, 0.0) },
        Tool::Circle => PhotoMark::Circle { centre: from, rim: to },
        Tool::Words => {
            let text = words.trim();
            (!text.is_empty()).then_some(())?;
            PhotoMark::Text { at: to, text: text.to_owned() }
        }
    })
}

fn moved(spot: PictureSpot, across: f64, down: f64) -> PictureSpot {
    let within = |x: f64| x.clamp(0.0, 1.0);
    PictureSpot { across: within(spot.across + across), down: within(spot.down + down) }
}

/// What a key does to the last mark: an arrow key moves it; with shift, an arrow's point or a circle's
/// rim. False when the key means nothing.
pub fn pushed(mark: &mut PhotoMark, key: &str, shift: bool) -> bool {
    let (across, down) = match key {
        "ArrowLeft" => (-STEP, 0.0),
        "ArrowRight" => (STEP, 0.0),
        "ArrowUp" => (0.0, -STEP),
        "ArrowDown" => (0.0, STEP),
        _ => return false,
    };
    let push = |spot: &mut PictureSpot| *spot = moved(*spot, across, down);
    match mark {
        PhotoMark::Arrow { to: end, .. } | PhotoMark::Circle { rim: end, .. } if shift => push(end),
        PhotoMark::Arrow { from: one, to: other } | PhotoMark::Circle { centre: one, rim: other } => {
            push(one);
            push(other);
        }
        PhotoMark::Text { at, .. } => push(at),
    }
    true
}

/// A place on a picture shown in this box, both in CSS pixels; held within the picture.
pub fn spot(x: f64, y: f64, left: f64, top: f64, width: f64, height: f64) -> PictureSpot {
    moved(PictureSpot::default(), (x - left) / width.max(1.0), (y - top) / height.max(1.0))
}

/// The lines of an arrow in a picture of this size: shaft and head.
pub fn arrow(from: PictureSpot, to: PictureSpot, width: f64, height: f64) -> String {
    use swingtie_core::units::float;
    let ((x0, y0), (x1, y1)) =
        ((from.across * width, from.down * height), (to.across * width, to.down * height));
    let head = width.max(height) * 0.05;
    let direction = float::atan2(y1 - y0, x1 - x0);
    // Half the head's opening: 30°.
    let side = |turn: f64| {
        let angle = direction + turn;
        format!("{:.1} {:.1}", x1 - head * float::cos(angle), y1 - head * float::sin(angle))
    };
    let (left, right) = (side(0.52), side(-0.52));
    format!("M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}M{left}L{x1:.1} {y1:.1}L{right}")
}

/// The radius of a circle in a picture of this size, in its pixels.
pub fn radius(centre: PictureSpot, rim: PictureSpot, width: f64, height: f64) -> f64 {
    let (x, y) = ((rim.across - centre.across) * width, (rim.down - centre.down) * height);
    swingtie_core::units::float::hypot(x, y)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(across: f64, down: f64) -> PictureSpot {
        PictureSpot { across, down }
    }

    #[test]
    fn a_tap_is_a_mark_too_but_no_words_are_none() {
        let tapped = drawn(Tool::Arrow, at(0.5, 0.5), at(0.51, 0.5), "");
        assert!(matches!(tapped, Some(PhotoMark::Arrow { to, .. }) if to == at(0.5, 0.5)));
        let stroke = drawn(Tool::Circle, at(0.5, 0.5), at(0.7, 0.5), "");
        assert_eq!(stroke, Some(PhotoMark::Circle { centre: at(0.5, 0.5), rim: at(0.7, 0.5) }));
        assert_eq!(drawn(Tool::Words, at(0.5, 0.5), at(0.5, 0.5), "  "), None);
        let near_the_edge = drawn(Tool::Arrow, at(0.0, 1.0), at(0.0, 1.0), "");
        assert!(matches!(near_the_edge, Some(PhotoMark::Arrow { from, .. }) if from == at(0.0, 1.0)));
    }

    #[test]
    fn keys_move_a_mark_or_its_end_and_never_off_the_picture() {
        let mut mark = PhotoMark::Circle { centre: at(0.5, 0.5), rim: at(0.99, 0.5) };
        assert!(pushed(&mut mark, "ArrowDown", false));
        assert_eq!(mark, PhotoMark::Circle { centre: at(0.5, 0.52), rim: at(0.99, 0.52) });
        assert!(pushed(&mut mark, "ArrowRight", true));
        assert_eq!(mark, PhotoMark::Circle { centre: at(0.5, 0.52), rim: at(1.0, 0.52) });
        assert!(!pushed(&mut mark, "Tab", false));
    }

    #[test]
    fn a_finger_is_found_on_the_picture() {
        assert_eq!(spot(110.0, 70.0, 10.0, 20.0, 200.0, 100.0), at(0.5, 0.5));
        assert_eq!(spot(0.0, 500.0, 10.0, 20.0, 200.0, 100.0), at(0.0, 1.0));
    }

    #[test]
    fn a_circle_is_round_in_pixels() {
        // 0.3 of 400 across and 0.3 of 300 down: 120 and 90, a 3-4-5 triangle's sides.
        assert!((radius(at(0.1, 0.1), at(0.4, 0.4), 400.0, 300.0) - 150.0).abs() < 1e-9);
    }
}
