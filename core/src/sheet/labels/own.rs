//! Whose a label is: it must stand nearest to its own sign, and on the same side of every wall, or be tied to it
//! by a leader.

use super::slab::{Grid, Slab};
use crate::sheet::geometry::{Frame, Spot, sides};
use crate::units::float;

/// The sign a label belongs to.
#[derive(Clone, Copy, Debug)]
pub(in crate::sheet) struct Owner {
    /// Its place.
    pub at: Spot,
    /// The room of its mark and of everything that stands on its place.
    pub sign: Frame,
    /// The rooms of its pieces, which leave some of that bare: the mark first, then what stands beside it. Some may be
    /// the same.
    pub pieces: [Frame; PIECES],
    /// Whether it is a circle and nothing else, so that its corners are bare.
    pub round: bool,
}

/// A sign has so many pieces at most; more are taken together.
pub(in crate::sheet) const PIECES: usize = 3;

impl Owner {
    /// A place without a sign.
    pub fn bare(at: Spot) -> Self {
        Self::of(at, &[Frame::around(at, 0.0, 0.0)], false)
    }
    /// A place with a sign of these pieces.
    pub fn of(at: Spot, rooms: &[Frame], round: bool) -> Self {
        let mut sign = rooms.first().copied().unwrap_or_else(|| Frame::around(at, 0.0, 0.0));
        let mut pieces = [sign; PIECES];
        for (n, room) in rooms.iter().enumerate() {
            room.corners().into_iter().for_each(|corner| sign.extend(corner));
            match pieces.get_mut(n) {
                Some(piece) => *piece = *room,
                None => room.corners().into_iter().for_each(|corner| pieces[PIECES - 1].extend(corner)),
            }
        }
        Self { at, sign, pieces, round }
    }
    /// How far words in a box are from it, mm.
    fn off(&self, words: &Frame) -> f64 {
        if !self.round {
            return self.pieces.iter().map(|piece| apart(piece, words)).fold(f64::INFINITY, f64::min);
        }
        let (x, y) = self.sign.apart(words);
        // From the corner of a square to the circle in it, as long as the words are not much farther.
        let corner = if x > 0.0 && y > 0.0 { self.sign.width() * 0.2 } else { 0.0 };
        float::hypot(x, y) + corner
    }
}

/// All signs that have a label, and the walls between them.
pub(super) struct Signs {
    signs: Grid<Spot>,
    walls: Grid<(Spot, Spot)>,
}

/// Another sign must be farther from a label than its own by a share of that distance, and so much more, mm: small
/// differences of large distances nobody sees.
const CLEARLY: f64 = 0.1;
const SHARE: f64 = 1.1;
/// From here on nobody asks which of two signs is meant: so many times the distance of its own, and so much more, mm.
const TIMES: f64 = 1.5;
const MORE: f64 = 1.3;
/// What standing between two signs costs, at most.
const BETWEEN: f64 = 2.5;
/// What a leader through a wall costs.
const THROUGH_WALL: f64 = 12.0;
/// A wall that passes a place no farther than this goes through it, mm.
const THROUGH: f64 = 0.6;
/// Longest piece of a wall in the grid, mm.
const PIECE: f64 = 6.0;

impl Signs {
    pub fn new(window: Frame) -> Self {
        Self { signs: Grid::new(window), walls: Grid::new(window) }
    }
    pub fn add(&mut self, owner: Owner) {
        self.signs.add(Slab::of(&owner.sign), owner.at);
    }
    pub fn add_wall(&mut self, places: &[Spot], closed: bool) {
        for (a, b) in sides(places, closed) {
            let Some((a, b)) = self.walls.clipped(a, b) else { continue };
            let count = (a.distance(b) / PIECE).ceil().clamp(1.0, 200.0);
            let mut n = 0.0;
            while n < count {
                let (from, to) = (a.toward(b, n / count), a.toward(b, (n + 1.0) / count));
                if let Some(strip) = Slab::strip(from, to, 0.0) {
                    self.walls.add(strip, (from, to));
                }
                n += 1.0;
            }
        }
    }

    /// What it costs that lines of words without a leader could be taken to mean another sign than their own; none
    /// where they would be. The lines are given around their middle.
    pub fn doubt(&self, (rows, middle): (&[Frame], Spot), own: &Owner) -> Option<f64> {
        let rows = || rows.iter().map(|row| row.moved(middle));
        let off = rows().map(|row| own.off(&row)).fold(f64::INFINITY, f64::min);
        let clear = off * TIMES + MORE;
        let mut nearest = clear;
        for row in rows() {
            for (sign, at) in self.signs.near(&row.grown(clear)).filter(|(_, at)| *at != own.at) {
                let other = apart(&sign.bounds(), &row);
                // What stands on the very same place cannot be told apart by distance.
                if other < off * SHARE + CLEARLY && at.distance(own.at) > 0.5 {
                    return None;
                }
                nearest = nearest.min(other);
            }
        }
        (!self.walled_off(rows(), own)).then(|| BETWEEN * (clear - nearest) / (clear - off))
    }

    /// What it costs that words with a leader stand close to another's sign, or behind a wall.
    pub fn doubt_on_leader(&self, words: &Frame, own: &Owner) -> f64 {
        let through = if self.walled_off(std::iter::once(*words), own) { THROUGH_WALL } else { 0.0 };
        let around = words.grown(MORE);
        let others = self.signs.near(&around).filter(|(_, at)| *at != own.at);
        let nearest = others.map(|(sign, _)| apart(&sign.bounds(), words)).fold(MORE, f64::min);
        through + BETWEEN * (1.0 - nearest / MORE)
    }

    /// Whether any sign is nearer than this, mm.
    pub fn crowds(&self, words: &Slab, by: f64) -> bool {
        let wide = words.grown(by);
        self.signs.near(&wide.bounds()).any(|(sign, _)| sign.meets(&wide))
    }

    /// Whether a wall that does not go through the sign's own place lies between it and the words.
    fn walled_off(&self, rows: impl Iterator<Item = Frame>, own: &Owner) -> bool {
        // The middle of a line: words that straddle a wall are half on its other side.
        let Some(to) =
            rows.map(|row| row.centre()).min_by(|a, b| a.distance(own.at).total_cmp(&b.distance(own.at)))
        else {
            return false;
        };
        let mut between = Frame::around(own.at, 0.0, 0.0);
        between.extend(to);
        self.walls.near(&between).any(|(wall, (a, b))| {
            wall.nearest(own.at).distance(own.at) > THROUGH && crosses((own.at, to), (*a, *b))
        })
    }
}

/// The distance between two boxes, mm.
fn apart(a: &Frame, b: &Frame) -> f64 {
    let (x, y) = a.apart(b);
    float::hypot(x, y)
}

/// Whether two segments cross.
fn crosses((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    let side = |p: Spot, q: Spot, r: Spot| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) <= 0.0 && side(c, d, a) * side(c, d, b) <= 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::geometry::spot;

    fn owner(x: f64, y: f64) -> Owner {
        Owner::of(spot(x, y), &[Frame::around(spot(x, y), 1.0, 1.0)], true)
    }

    /// By hand: a mark of 2 mm at 20 with a flag from 22 to 27 above it. Below the flag, right of the mark, is nothing
    /// of it: words at 26 are 4 mm from the mark and 2.5 from the flag, and 2 from the other sign, at 30.
    #[test]
    fn what_a_sign_leaves_bare_is_not_its_own() {
        let mut signs = Signs::new(Frame::new(0.0, 0.0, 60.0, 60.0));
        let mark = Frame::around(spot(20.0, 20.0), 1.0, 1.0);
        let own = Owner::of(spot(20.0, 20.0), &[mark, Frame::new(22.0, 12.5, 27.0, 16.5)], false);
        signs.add(own);
        signs.add(owner(30.0, 20.0));
        let words = |x: f64| signs.doubt((&[Frame::around(Spot::default(), 1.0, 1.0)], spot(x, 20.0)), &own);
        assert_eq!(words(26.0), None);
        assert!(words(23.0).is_some(), "1 mm from the mark");
        assert!(
            own.sign.holds(&Frame::around(spot(26.0, 20.0), 1.0, 1.0)),
            "though the whole sign's box holds it"
        );
    }

    /// By hand: signs of 2 mm at 20 and 30, so their edges are at 21 and 29.
    #[test]
    fn words_belong_to_the_nearer_sign() {
        let mut signs = Signs::new(Frame::new(0.0, 0.0, 60.0, 60.0));
        let (own, other) = (owner(20.0, 20.0), owner(30.0, 20.0));
        signs.add(own);
        signs.add(other);
        let doubt = |x: f64| signs.doubt((&[Frame::around(Spot::default(), 2.0, 1.0)], spot(x, 20.0)), &own);
        assert_eq!(doubt(25.0), None, "2 mm from both");
        assert!(doubt(24.8).is_some_and(|cost| cost > 0.0), "1.8 from its own, 2.2 from the other");
        assert_eq!(doubt(17.0 - 0.5), Some(0.0), "on the far side");
    }

    #[test]
    fn a_wall_parts_words_from_what_stands_before_it_and_not_from_what_stands_in_it() {
        let mut signs = Signs::new(Frame::new(0.0, 0.0, 60.0, 60.0));
        signs.add_wall(&[spot(22.0, -50.0), spot(22.0, 500.0)], false);
        let words = (&[Frame::around(spot(25.0, 20.0), 2.0, 1.0)][..], Spot::default());
        assert_eq!(signs.doubt(words, &owner(20.0, 20.0)), None);
        assert!(signs.doubt(words, &owner(21.8, 20.0)).is_some());
        assert!(signs.doubt(words, &owner(30.0, 20.0)).is_some());
    }
}
