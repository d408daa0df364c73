//! Which labels are written, and on which side of their points, so that none covers another.

use super::pick::Spot;

/// Where a label stands beside its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Corner {
    /// Above, to the right.
    UpRight,
    /// Below, to the right.
    DownRight,
    /// Above, to the left.
    UpLeft,
    /// Below, to the left.
    DownLeft,
    /// Right above, clear of neighbours to both sides.
    Above,
    /// Right below.
    Below,
}

impl Corner {
    const ALL: [Self; 6] =
        [Self::UpRight, Self::DownRight, Self::UpLeft, Self::DownLeft, Self::Above, Self::Below];
    /// At the drawing's right edge.
    const INWARD: [Self; 6] =
        [Self::UpLeft, Self::DownLeft, Self::UpRight, Self::DownRight, Self::Above, Self::Below];

    /// Where the text starts, CSS pixels from the point, and its anchor.
    #[must_use]
    pub const fn place(self) -> (f64, f64, &'static str) {
        match self {
            Self::UpRight => (9.0, -7.0, "start"),
            Self::DownRight => (9.0, 17.0, "start"),
            Self::UpLeft => (-9.0, -7.0, "end"),
            Self::DownLeft => (-9.0, 17.0, "end"),
            Self::Above => (0.0, -14.0, "middle"),
            Self::Below => (0.0, 24.0, "middle"),
        }
    }
}

/// Height of a label and width of one letter, CSS pixels (the style sheet's 15 px, bold).
const HEIGHT: f64 = 15.0;
const LETTER: f64 = 9.5;
/// Half of a point's symbol.
const SYMBOL: f64 = 7.0;
/// Beside the outermost points there is so much room (CSS pixels) when the whole plan is in sight.
const MARGIN: f64 = 42.0;

#[derive(Clone, Copy)]
struct Box {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Box {
    fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

fn label_box(at: Spot, letters: usize, corner: Corner) -> Box {
    #[allow(clippy::cast_precision_loss, reason = "a label has a few letters")]
    let width = LETTER * letters as f64;
    let (dx, dy, anchor) = corner.place();
    let left = match anchor {
        "start" => at.x + dx,
        "middle" => at.x + dx - width / 2.0,
        _ => at.x + dx - width,
    };
    let bottom = at.y + dy + 3.0;
    Box { left, top: bottom - HEIGHT, right: left + width, bottom }
}

/// For each point with its label's length, in order of importance: the corner its label takes, or
/// none when there is no room at this zoom (its symbol is drawn all the same).
#[must_use]
pub fn arrange(points: &[(Spot, usize)], standing: &[(Spot, usize)]) -> Vec<Option<Corner>> {
    let symbols = points.iter().map(|(at, _)| around(*at, SYMBOL, SYMBOL));
    let mut taken: Vec<Box> =
        symbols.chain(standing.iter().map(|(at, letters)| text_box(*at, *letters))).collect();
    let edge = points.iter().map(|(at, _)| at.x).fold(f64::NEG_INFINITY, f64::max) + MARGIN;
    points
        .iter()
        .map(|(at, letters)| {
            let fits = label_box(*at, *letters, Corner::UpRight).right <= edge;
            let corners = if fits { Corner::ALL } else { Corner::INWARD };
            let free = corners.into_iter().find_map(|corner| {
                let place = label_box(*at, *letters, corner);
                (!taken.iter().any(|other| other.meets(&place))).then_some((corner, place))
            });
            free.map(|(corner, place)| {
                taken.push(place);
                corner
            })
        })
        .collect()
}

/// What of the drawing is taken by symbols and texts.
#[derive(Default)]
pub struct Room(Vec<Box>);

impl Room {
    /// Taken by points and their labels.
    #[must_use]
    pub fn beside(points: &[(Spot, usize)], corners: &[Option<Corner>], standing: &[(Spot, usize)]) -> Self {
        let symbol = |at: &Spot| around(*at, SYMBOL, SYMBOL);
        let labels = points.iter().zip(corners).filter_map(|((at, n), c)| Some(label_box(*at, *n, (*c)?)));
        let standing = standing.iter().map(|(at, letters)| text_box(*at, *letters));
        Self(points.iter().map(|(at, _)| symbol(at)).chain(labels).chain(standing).collect())
    }

    /// Takes the room of a text about this place, if it is free.
    pub fn take(&mut self, middle: Spot, letters: usize) -> bool {
        self.take_box(text_box(middle, letters))
    }

    /// Takes so much to each side of this place, if it is free.
    pub fn take_around(&mut self, middle: Spot, across: f64, up: f64) -> bool {
        self.take_box(around(middle, across, up))
    }

    fn take_box(&mut self, place: Box) -> bool {
        let free = !self.0.iter().any(|other| other.meets(&place));
        if free {
            self.0.push(place);
        }
        free
    }
}

const fn around(at: Spot, across: f64, up: f64) -> Box {
    Box { left: at.x - across, top: at.y - up, right: at.x + across, bottom: at.y + up }
}

/// The room of a text about its middle.
fn text_box(middle: Spot, letters: usize) -> Box {
    #[allow(clippy::cast_precision_loss, reason = "a text has a few signs")]
    let half = LETTER * letters as f64 / 2.0;
    around(middle, half, HEIGHT / 2.0)
}

/// For each line with its text's length, from the point all lines meet in: how far along it the text stands,
/// as a share of the line, so that none covers another or what stands there; none where there is no room at this zoom.
#[must_use]
pub fn along(lines: &[(Spot, Spot, usize)], room: &mut Room) -> Vec<Option<f64>> {
    // Out where lines that meet lie apart.
    const SHARES: [f64; 6] = [0.5, 0.65, 0.8, 0.95, 0.57, 0.42];
    let place = |(near, far, letters): &(Spot, Spot, usize)| {
        SHARES.into_iter().find(|share| {
            let at = Spot { x: near.x + (far.x - near.x) * share, y: near.y + (far.y - near.y) * share };
            room.take(at, *letters)
        })
    };
    lines.iter().map(place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_of_lines_that_meet_stand_apart_or_not_at_all() {
        let near = Spot { x: 0.0, y: 0.0 };
        let to = |x: f64, y: f64| (near, Spot { x, y }, 6);
        // Two lines side by side: the second text moves out.
        let along = |lines: &[_]| along(lines, &mut Room::default());
        assert_eq!(along(&[to(300.0, 0.0), to(300.0, 10.0)]), [Some(0.5), Some(0.8)]);
        // Apart already: both in the middle.
        assert_eq!(along(&[to(300.0, 0.0), to(0.0, 300.0)]), [Some(0.5), Some(0.5)]);
        // Twenty short ones all round: not all find room.
        let star: Vec<_> = (0..20).map(|i| to(40.0, f64::from(i))).collect();
        assert!(along(&star).contains(&None));
        // A point with its label in the middle: beyond it.
        let mut room = Room::beside(&[(Spot { x: 150.0, y: 0.0 }, 3)], &[Some(Corner::UpRight)], &[]);
        assert_eq!(super::along(&[to(300.0, 0.0)], &mut room), [Some(0.8)]);
    }

    #[test]
    fn room_is_given_once() {
        let at = |x: f64, y: f64| Spot { x, y };
        let mut room = Room::beside(&[(at(0.0, 0.0), 5)], &[Some(Corner::UpRight)], &[]);
        // On the point, on its label, beside both, and there again.
        let taken =
            [at(3.0, 3.0), at(30.0, -10.0), at(-40.0, 0.0), at(-45.0, 5.0)].map(|place| room.take(place, 4));
        assert_eq!(taken, [false, false, true, false]);
    }

    #[test]
    fn labels_of_the_rightmost_points_turn_inward() {
        let at = |x: f64| (Spot { x, y: 0.0 }, 5);
        assert_eq!(arrange(&[at(0.0), at(300.0)], &[]), [Some(Corner::UpRight), Some(Corner::UpLeft)]);
        // What stands there already is kept clear of.
        let standing = [(Spot { x: 30.0, y: -12.0 }, 4)];
        assert_eq!(
            arrange(&[at(0.0), at(300.0)], &standing),
            [Some(Corner::DownRight), Some(Corner::UpLeft)]
        );
    }

    #[test]
    fn no_label_covers_another() {
        // Twenty-five points 16 px apart: too crowded for all labels.
        let points: Vec<(Spot, usize)> =
            (0..25).map(|i| (Spot { x: f64::from(i % 5) * 16.0, y: f64::from(i / 5) * 16.0 }, 3)).collect();
        let corners = arrange(&points, &[]);
        let boxes: Vec<Box> = points
            .iter()
            .zip(&corners)
            .filter_map(|((at, n), corner)| corner.map(|corner| label_box(*at, *n, corner)))
            .collect();
        for (i, a) in boxes.iter().enumerate() {
            assert!(boxes.iter().skip(i + 1).all(|b| !a.meets(b)));
        }
        assert!(boxes.len() < 25 && !boxes.is_empty());
        // Zoomed in ten times, every label is there.
        let wide: Vec<_> =
            points.iter().map(|(at, n)| (Spot { x: at.x * 10.0, y: at.y * 10.0 }, *n)).collect();
        assert!(arrange(&wide, &[]).iter().all(Option::is_some));
    }
}
