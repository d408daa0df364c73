//! Arcs of circles: edges that bow, drawn through as many places as the eye needs.

use crate::units::float::{asin, atan2, cos, hypot, sin, sqrt};
use crate::units::{Length, PlanPoint};
use std::f64::consts::{PI, TAU};

/// A drawn arc keeps to the true one within this (metres): finer than any tape, on any sheet.
const FLAT: f64 = 0.002;
/// The most places an arc is drawn through.
const MOST: u32 = 180;

/// The radius of a circle by a chord and its rise (middle ordinate): r = c²/(8h) + h/2. It follows
/// from (c/2)² = h·(2r − h), Euclid's Elements III.35. None without a rise.
#[must_use]
pub fn radius_of(chord: Length, rise: Length) -> Option<Length> {
    let (c, h) = (chord.metres(), rise.metres().abs());
    let radius = c * c / (8.0 * h) + 0.5 * h;
    (h > 0.0 && radius.is_finite()).then_some(Length::from_metres(radius))
}

/// An arc of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// The circle's centre.
    pub centre: PlanPoint,
    /// Its radius.
    pub radius: Length,
    /// Direction of the beginning from the centre, and how far the arc turns, counter-clockwise.
    start: f64,
    sweep: f64,
}

impl Arc {
    /// By its ends and its rise, to the left of the way from the first end to the second, or to
    /// the right of it when negative. A rise of more than half the chord makes more than half a
    /// circle. None without chord or rise.
    #[must_use]
    pub fn by_rise(from: PlanPoint, to: PlanPoint, rise: Length) -> Option<Self> {
        let ((x0, y0), (x1, y1)) = (from.metres(), to.metres());
        let chord = hypot(x1 - x0, y1 - y0);
        let h = rise.metres();
        let radius = radius_of(Length::from_metres(chord), rise)?.metres();
        if chord < 1e-6 {
            return None;
        }
        let (ux, uy) = ((x1 - x0) / chord, (y1 - y0) / chord);
        // From the middle of the chord to its left; the centre lies a radius behind the arc's middle.
        let back = h - radius * h.signum();
        let (cx, cy) = (0.5 * (x0 + x1) - uy * back, 0.5 * (y0 + y1) + ux * back);
        // The centre's angle over the chord; the larger one when the rise is beyond the centre.
        let half = asin((0.5 * chord / radius).min(1.0));
        let angle = 2.0 * if h.abs() > radius { PI - half } else { half };
        // Bowing left is going clockwise round the centre.
        let sweep = -angle * h.signum();
        let start = atan2(y0 - cy, x0 - cx);
        let (centre, radius) = (PlanPoint::from_metres(cx, cy), Length::from_metres(radius));
        let arc = Self { centre, radius, start, sweep };
        (centre.is_finite() && sweep.is_finite()).then_some(arc)
    }

    /// Through three places, in this order. None when they lie on a line or two of them together.
    #[must_use]
    pub fn through(from: PlanPoint, middle: PlanPoint, to: PlanPoint) -> Option<Self> {
        let ((ax, ay), (bx, by), (cx, cy)) = (from.metres(), middle.metres(), to.metres());
        let ((bx, by), (cx, cy)) = ((bx - ax, by - ay), (cx - ax, cy - ay));
        // The centre of the circle through the origin, b and c: where the bisectors meet.
        let cross = 2.0 * (bx * cy - by * cx);
        let (b2, c2) = (bx * bx + by * by, cx * cx + cy * cy);
        let (x, y) = ((cy * b2 - by * c2) / cross, (bx * c2 - cx * b2) / cross);
        // Flatter than this in relation to its length no eye and no tape tells it from a line.
        let straight = cross.abs() < 1e-6 * (b2 + c2) || b2 < 1e-12 || c2 < 1e-12;
        if straight || !(x.is_finite() && y.is_finite()) {
            return None;
        }
        let start = atan2(-y, -x);
        let (mid, end) = (atan2(by - y, bx - x), atan2(cy - y, cx - x));
        let after = |angle: f64| (angle - start).rem_euclid(TAU);
        // Counter-clockwise when the middle comes before the end that way.
        let sweep = if after(mid) < after(end) { after(end) } else { after(end) - TAU };
        let (centre, radius) = (PlanPoint::from_metres(ax + x, ay + y), Length::from_metres(hypot(x, y)));
        Some(Self { centre, radius, start, sweep })
    }

    /// How long it is.
    #[must_use]
    pub fn length(&self) -> Length {
        self.radius * self.sweep.abs()
    }

    /// A place on it, at this share of its way.
    #[must_use]
    pub fn along(&self, share: f64) -> PlanPoint {
        let angle = self.start + share * self.sweep;
        let ((x, y), r) = (self.centre.metres(), self.radius.metres());
        PlanPoint::from_metres(x + r * cos(angle), y + r * sin(angle))
    }

    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> PlanPoint {
        self.along(0.5)
    }

    /// The share of its way at which a place on it lies.
    #[must_use]
    pub fn share_of(&self, at: PlanPoint) -> f64 {
        let (x, y) = (at - self.centre).metres();
        let turned = (atan2(y, x) - self.start) * self.sweep.signum();
        turned.rem_euclid(TAU) / self.sweep.abs()
    }

    /// Places between two shares of its way (the ends left out), such that straight lines between
    /// them keep within 2 mm of it.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Vec<PlanPoint> {
        // The rise of each piece is r(1 − cos(a/2)), about r·a²/8.
        let piece = sqrt(8.0 * FLAT / self.radius.metres());
        let count = ((to - from).abs() * self.sweep.abs() / piece).ceil();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count, clamped")]
        let count = if count.is_finite() { (count as u32).clamp(2, MOST) } else { 2 };
        (1..count).map(|i| self.along(from + (to - from) * f64::from(i) / f64::from(count))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PlanPoint {
        PlanPoint::from_metres(x, y)
    }

    fn close(got: f64, want: f64) {
        assert!((got - want).abs() < 1e-8, "{got}, not {want}");
    }

    /// Chord, rise, and radius, angle, length computed elsewhere (numpy) from R = c²/(8m) + m/2 and
    /// θ = 2 asin(c/2R), the larger angle when the rise is more than the radius.
    #[test]
    fn chord_and_rise_give_the_circle() {
        let cases = [
            (20.0, 3.0, 18.166_666_666_667, 66.796_976_934, 21.179_193_732),
            (12.5, 1.25, 16.25, 45.239_729_896, 12.830_711_390),
            (8.0, 6.0, 4.333_333_333_333, 225.239_729_896, 17.035_091_203),
        ];
        for (chord, rise, radius, degrees, length) in cases {
            for side in [1.0, -1.0] {
                let (from, to) = (at(3.0, -2.0), at(3.0 + chord * 0.6, -2.0 + chord * 0.8));
                let arc = Arc::by_rise(from, to, Length::from_metres(side * rise)).unwrap();
                close(arc.radius.metres(), radius);
                close(arc.length().metres(), length);
                close((arc.length() / arc.radius).to_degrees(), degrees);
                close(arc.along(0.0).distance(from).metres(), 0.0);
                close(arc.along(1.0).distance(to).metres(), 0.0);
                // The middle stands the rise off the chord's middle, on the side said: left of
                // (0.6, 0.8) is (−0.8, 0.6).
                let (x, y) = (3.0 + chord * 0.3 - 0.8 * side * rise, -2.0 + chord * 0.4 + 0.6 * side * rise);
                close(arc.middle().distance(at(x, y)).metres(), 0.0);
                let again = Arc::through(from, arc.along(0.3), to).unwrap();
                close(again.centre.distance(arc.centre).metres(), 0.0);
                close(again.length().metres(), length);
                close(again.share_of(arc.along(0.3)), 0.3);
            }
        }
    }

    /// The circle through (0, 0), (4, 0), (4, 3) has the hypotenuse as diameter (Thales).
    #[test]
    fn three_places_give_the_circle() {
        let arc = Arc::through(at(0.0, 0.0), at(4.0, 0.0), at(4.0, 3.0)).unwrap();
        close(arc.radius.metres(), 2.5);
        close(arc.centre.distance(at(2.0, 1.5)).metres(), 0.0);
        close(arc.length().metres(), 2.5 * PI);
        // Drawn places keep to it, and straight lines between them within 2 mm.
        let places = [vec![at(0.0, 0.0)], arc.part(0.0, 1.0), vec![at(4.0, 3.0)]].concat();
        for pair in places.windows(2) {
            let [(a, b), (c, d)] = [pair[0].metres(), pair[1].metres()];
            let gap = arc.centre.distance(at(0.5 * (a + c), 0.5 * (b + d))).metres() - 2.5;
            assert!((-0.002..=0.0).contains(&gap), "{gap}");
        }
    }

    #[test]
    fn what_is_no_arc_gives_none() {
        let (a, b) = (at(0.0, 0.0), at(2.0, 0.0));
        for rise in [0.0, f64::NAN, f64::INFINITY, 1e-320] {
            assert_eq!(Arc::by_rise(a, b, Length::from_metres(rise)), None, "{rise}");
        }
        assert_eq!(Arc::by_rise(a, a, Length::from_metres(1.0)), None);
        assert_eq!(Arc::through(a, at(1.0, 0.0), b), None);
        assert_eq!(Arc::through(a, a, b), None);
        assert_eq!(Arc::through(a, b, a), None);
    }
}
