//! Fingers on the glass: what pans, what zooms, what is a tap and what a raindrop.

use super::pick::Spot;

/// What the fingers did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Did {
    /// Nothing that matters.
    Nothing,
    /// One finger dragged from `start` by this step, CSS pixels.
    Drag {
        /// Where the finger came down.
        start: Spot,
        /// Step to the right.
        dx: f64,
        /// Step down.
        dy: f64,
        /// Where the finger is.
        now: Spot,
    },
    /// Two fingers: zoom about their middle by `factor`, and shift.
    Pinch {
        /// The middle between the fingers.
        about: Spot,
        /// Larger than one zooms in.
        factor: f64,
        /// Step to the right.
        dx: f64,
        /// Step down.
        dy: f64,
    },
    /// A drag ended here.
    Dropped {
        /// Where the finger came down.
        start: Spot,
        /// Where it left the glass.
        now: Spot,
    },
    /// A tap.
    Tap(Spot),
}

/// A finger may tremble so far and still tap, CSS pixels.
const TREMBLE: f64 = 10.0;
/// A second tap on the same spot sooner than this is water or a bounce, milliseconds.
const BOUNCE_MS: f64 = 250.0;
/// What counts as the same spot, CSS pixels.
const SAME_SPOT: f64 = 6.0;

#[derive(Clone, Copy, Debug)]
struct Finger {
    id: i32,
    start: Spot,
    now: Spot,
}

/// The fingers now on the glass.
#[derive(Clone, Debug, Default)]
pub struct Gesture {
    fingers: Vec<Finger>,
    moved: bool,
    pinched: bool,
    last_tap: Option<(Spot, f64)>,
}

impl Gesture {
    /// A finger came down.
    pub fn down(&mut self, id: i32, at: Spot) {
        self.fingers.retain(|finger| finger.id != id);
        if self.fingers.is_empty() {
            (self.moved, self.pinched) = (false, false);
        }
        self.fingers.push(Finger { id, start: at, now: at });
        self.pinched |= self.fingers.len() > 1;
    }

    /// A finger moved.
    pub fn moved(&mut self, id: i32, to: Spot) -> Did {
        let before = self.middle_and_spread();
        let Some(finger) = self.fingers.iter_mut().find(|finger| finger.id == id) else {
            return Did::Nothing;
        };
        let (was, start) = (finger.now, finger.start);
        finger.now = to;
        if self.fingers.len() > 1 {
            let (Some((old, old_spread)), Some((new, spread))) = (before, self.middle_and_spread()) else {
                return Did::Nothing;
            };
            let factor = if old_spread > 1.0 { spread / old_spread } else { 1.0 };
            return Did::Pinch { about: new, factor, dx: new.x - old.x, dy: new.y - old.y };
        }
        if !self.moved && start.distance(to) < TREMBLE {
            return Did::Nothing;
        }
        // The first step makes up for the trembling allowed, so that the drawing does not lag behind.
        let from = if self.moved { was } else { start };
        self.moved = true;
        Did::Drag { start, dx: to.x - from.x, dy: to.y - from.y, now: to }
    }

    /// A finger left the glass at this time (milliseconds, any origin).
    pub fn up(&mut self, id: i32, at: Spot, ms: f64) -> Did {
        let Some(found) = self.fingers.iter().position(|finger| finger.id == id) else { return Did::Nothing };
        let finger = self.fingers.remove(found);
        if self.pinched {
            return Did::Nothing;
        }
        if self.moved || finger.start.distance(at) >= TREMBLE {
            return Did::Dropped { start: finger.start, now: at };
        }
        if self.last_tap.is_some_and(|(spot, then)| spot.distance(at) < SAME_SPOT && ms - then < BOUNCE_MS) {
            return Did::Nothing;
        }
        self.last_tap = Some((at, ms));
        Did::Tap(finger.start)
    }

    /// The browser took the finger away.
    pub fn cancel(&mut self, id: i32) {
        self.fingers.retain(|finger| finger.id != id);
    }

    /// Whether no finger is on the glass.
    pub fn is_over(&self) -> bool {
        self.fingers.is_empty()
    }

    fn middle_and_spread(&self) -> Option<(Spot, f64)> {
        let [a, b, ..] = self.fingers.as_slice() else { return None };
        let middle = Spot { x: f64::midpoint(a.now.x, b.now.x), y: f64::midpoint(a.now.y, b.now.y) };
        Some((middle, a.now.distance(b.now)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn spot(x: f64, y: f64) -> Spot {
        Spot { x, y }
    }

    #[test]
    fn a_trembling_finger_taps() {
        let mut hand = Gesture::default();
        hand.down(1, spot(50.0, 50.0));
        assert_eq!(hand.moved(1, spot(54.0, 53.0)), Did::Nothing);
        assert_eq!(hand.up(1, spot(54.0, 53.0), 100.0), Did::Tap(spot(50.0, 50.0)));
    }

    #[test]
    fn a_bounce_on_the_same_spot_is_no_second_tap() {
        let mut hand = Gesture::default();
        for (ms, did) in [(0.0, true), (120.0, false), (600.0, true)] {
            hand.down(1, spot(50.0, 50.0));
            assert_eq!(hand.up(1, spot(50.0, 50.0), ms) != Did::Nothing, did, "{ms}");
        }
        hand.down(1, spot(90.0, 50.0));
        assert!(matches!(hand.up(1, spot(90.0, 50.0), 650.0), Did::Tap(_)), "another spot is another tap");
    }

    #[test]
    fn dragging_carries_the_whole_way() {
        let mut hand = Gesture::default();
        hand.down(1, spot(0.0, 0.0));
        let mut gone = 0.0;
        for x in [4.0, 8.0, 14.0, 30.0] {
            if let Did::Drag { dx, .. } = hand.moved(1, spot(x, 0.0)) {
                gone += dx;
            }
        }
        assert!((gone - 30.0).abs() < 1e-12);
        assert_eq!(
            hand.up(1, spot(30.0, 0.0), 0.0),
            Did::Dropped { start: spot(0.0, 0.0), now: spot(30.0, 0.0) }
        );
    }

    #[test]
    fn two_fingers_zoom_about_their_middle_and_never_tap() {
        let mut hand = Gesture::default();
        hand.down(1, spot(0.0, 0.0));
        hand.down(2, spot(100.0, 0.0));
        let Did::Pinch { about, factor, .. } = hand.moved(2, spot(200.0, 0.0)) else { panic!("no pinch") };
        assert_eq!(about, spot(100.0, 0.0));
        assert!((factor - 2.0).abs() < 1e-12);
        assert_eq!(hand.up(2, spot(200.0, 0.0), 0.0), Did::Nothing);
        assert_eq!(hand.up(1, spot(0.0, 0.0), 0.0), Did::Nothing);
    }
}
