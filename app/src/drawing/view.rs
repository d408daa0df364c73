//! Where the plan lies on the glass: one scale and one shift, and nothing else moves.

use super::pick::Spot;
use swingtie_core::plan::Bounds;
use swingtie_core::units::PlanPoint;

/// The transform from plan (metres, y up) to glass (CSS pixels, y down).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// CSS pixels for one metre.
    pub scale: f64,
    /// Where the plan's origin lies, CSS pixels from the drawing's left edge.
    pub left: f64,
    /// Where the plan's origin lies, CSS pixels from the drawing's top edge.
    pub top: f64,
}

/// Closest: a hand's breadth fills the screen.
const CLOSEST: f64 = 2000.0;
/// Farthest: a kilometre.
const FARTHEST: f64 = 0.3;
/// Left of everything drawn when fitted, CSS pixels: labels need room.
const MARGIN: f64 = 44.0;
/// Above it.
const MARGIN_ABOVE: f64 = 30.0;
/// Where the buttons are: below, or to the right when the drawing is low (as in the style sheet).
const BUTTONS: f64 = 80.0;
/// A drawing lower than this is low.
const LOW: f64 = 300.0;
/// Below everything in a low drawing: the scale lies there.
const SCALE: f64 = 44.0;
/// What is drawn may be stretched so much before letters look wrong.
const STRETCH: f64 = 3.0;
/// It may be moved so far (CSS pixels): browsers draw ahead of what is in sight, but not for ever.
const AHEAD: f64 = 1500.0;
/// Fitting never shows less than this, in metres: one point alone is no reason to zoom in.
const LEAST: f64 = 6.0;

impl View {
    /// An empty sheet: some 80 ft across a phone.
    #[must_use]
    pub fn blank(width: f64, height: f64) -> Self {
        Self { scale: 16.0, left: width * 0.15, top: height * 0.8 }
    }

    /// Everything drawn, in a drawing of this many CSS pixels.
    #[must_use]
    pub fn fit(bounds: Bounds, width: f64, height: f64) -> Self {
        let ((x0, y0), (x1, y1)) = (bounds.min.metres(), bounds.max.metres());
        let (right, below) = if height < LOW { (BUTTONS + 24.0, SCALE) } else { (MARGIN, BUTTONS) };
        let across = (width - MARGIN - right).max(40.0) / (x1 - x0).max(LEAST);
        let up = (height - MARGIN_ABOVE - below).max(40.0) / (y1 - y0).max(LEAST);
        let scale = across.min(up).clamp(FARTHEST, CLOSEST);
        Self {
            scale,
            left: f64::midpoint(MARGIN, width - right) - scale * f64::midpoint(x0, x1),
            top: f64::midpoint(MARGIN_ABOVE, height - below) + scale * f64::midpoint(y0, y1),
        }
    }

    /// From plan to glass.
    #[must_use]
    pub fn glass_from_plan(self, at: PlanPoint) -> Spot {
        let (x, y) = at.metres();
        Spot { x: self.left + self.scale * x, y: self.top - self.scale * y }
    }

    /// From glass to plan.
    #[must_use]
    pub fn plan_from_glass(self, at: Spot) -> PlanPoint {
        PlanPoint::from_metres((at.x - self.left) / self.scale, (self.top - at.y) / self.scale)
    }

    /// Shifted with the finger.
    #[must_use]
    pub fn panned(self, dx: f64, dy: f64) -> Self {
        Self { left: self.left + dx, top: self.top + dy, ..self }
    }

    /// How what was drawn in another view lies in this one: stretched so many times, its corner moved right and down.
    #[must_use]
    pub fn over(self, drawn: Self) -> (f64, f64, f64) {
        let stretch = self.scale / drawn.scale;
        (stretch, self.left - stretch * drawn.left, self.top - stretch * drawn.top)
    }

    /// Whether what was drawn in the other view can stand for this one while fingers move it.
    #[must_use]
    pub fn is_near(self, drawn: Self) -> bool {
        let (stretch, left, top) = self.over(drawn);
        (1.0 / STRETCH..STRETCH).contains(&stretch) && left.abs().max(top.abs()) < AHEAD
    }

    /// Larger or smaller about a spot that stays where it is.
    #[must_use]
    pub fn zoomed(self, about: Spot, factor: f64) -> Self {
        let scale = (self.scale * factor).clamp(FARTHEST, CLOSEST);
        let real = scale / self.scale;
        Self {
            scale,
            left: about.x + (self.left - about.x) * real,
            top: about.y + (self.top - about.y) * real,
        }
    }
}

/// The box around a box and further places.
#[must_use]
pub fn around(bounds: Bounds, places: &[PlanPoint]) -> Bounds {
    let mut box_ = (bounds.min.metres(), bounds.max.metres());
    for (x, y) in places.iter().map(|place| place.metres()) {
        let ((x0, y0), (x1, y1)) = box_;
        box_ = ((x0.min(x), y0.min(y)), (x1.max(x), y1.max(y)));
    }
    let ((x0, y0), (x1, y1)) = box_;
    Bounds { min: PlanPoint::from_metres(x0, y0), max: PlanPoint::from_metres(x1, y1) }
}

/// A round length for the scale bar, in metres, and its name; under a fifth of `width` CSS pixels.
#[must_use]
pub fn scale_bar(view: View, width: f64, feet: bool) -> (f64, String) {
    const STEPS: [f64; 12] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let unit = if feet { swingtie_core::units::METRES_PER_FOOT } else { 1.0 };
    let room = width * 0.18 / view.scale / unit;
    let step = STEPS.into_iter().rev().find(|step| *step <= room).unwrap_or(0.1);
    (step * unit, format!("{step} {}", if feet { "ft" } else { "m" }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn there_and_back() {
        let view = View { scale: 12.5, left: 30.0, top: 410.0 };
        let (x, y) = view.plan_from_glass(view.glass_from_plan(PlanPoint::from_metres(3.25, -7.5))).metres();
        assert!(close(x, 3.25) && close(y, -7.5));
    }

    #[test]
    fn what_lies_under_the_finger_stays_there() {
        let view = View { scale: 12.5, left: 30.0, top: 410.0 };
        let finger = Spot { x: 200.0, y: 120.0 };
        let under = view.plan_from_glass(finger);
        for factor in [0.001, 0.5, 1.3, 900.0] {
            let spot = view.zoomed(finger, factor).glass_from_plan(under);
            assert!((spot.x - finger.x).abs() < 1e-6 && (spot.y - finger.y).abs() < 1e-6);
        }
    }

    #[test]
    fn what_was_drawn_lies_where_the_fingers_put_it() {
        let drawn = View { scale: 12.5, left: 30.0, top: 410.0 };
        let view = drawn.panned(40.0, -25.0).zoomed(Spot { x: 200.0, y: 120.0 }, 1.6);
        let (stretch, left, top) = view.over(drawn);
        for place in [(0.0, 0.0), (3.25, -7.5), (-40.0, 12.0)] {
            let place = PlanPoint::from_metres(place.0, place.1);
            let (was, is) = (drawn.glass_from_plan(place), view.glass_from_plan(place));
            assert!(close(left + stretch * was.x, is.x) && close(top + stretch * was.y, is.y));
        }
        assert!(view.is_near(drawn) && !view.zoomed(Spot { x: 0.0, y: 0.0 }, 2.0).is_near(drawn));
        assert!(!drawn.panned(1600.0, 0.0).is_near(drawn));
    }

    #[test]
    fn fitting_shows_every_corner() {
        let bounds =
            Bounds { min: PlanPoint::from_metres(-4.0, -2.0), max: PlanPoint::from_metres(30.0, 55.0) };
        let view = View::fit(bounds, 390.0, 420.0);
        for corner in [bounds.min, bounds.max] {
            let spot = view.glass_from_plan(corner);
            assert!(spot.x >= 43.0 && spot.x <= 347.0 && spot.y >= 29.0 && spot.y <= 357.0, "{spot:?}");
        }
    }

    #[test]
    fn the_bar_is_round_and_fits() {
        let (metres, name) = scale_bar(View { scale: 10.0, left: 0.0, top: 0.0 }, 390.0, true);
        // 0.18 of 390 px at 10 px/m is 7.02 m or 23 ft: the largest step below is 20 ft = 6.096 m.
        assert!(close(metres, 6.096));
        assert_eq!(name, "20 ft");
    }
}
