//! Invented yards in the field book's words, with their true places: what the benches are made of.
//!
//! Lots of ten points stand on a grid of about 26 × 34 m: one boundary post, an L-shaped house of six
//! corners, a jamb on its front wall and two garden points. The house is walked round (walls with square
//! turns) and two diagonals are taped; the jamb is read off a run; one garden point is an offset from the
//! front wall with a check tie, the other hangs on three ties; posts are tied to the two nearest corners of
//! the houses around them and to each other. About 1.6 equations for each unknown, as in the field. Sides
//! are said where a person would see them. The noise is what the product states: readings scatter by their
//! standard deviation, walls turn by half a degree from square, jambs stand off the wall's line.

mod equations;
mod slots;
mod take;

use crate::dice::Dice;
use std::collections::{BTreeMap, BTreeSet};
use swingtie_core::book::{Book, Entry};
use swingtie_core::network::kernel::Place;
use swingtie_core::record::{AuthorId, EntryId, Measurement, Point, PointId, Record, Recorded, Statement};
use swingtie_core::units::PlanPoint;
use swingtie_core::units::float::{cos, hypot, sin};

pub use slots::{Slot, Spot};

/// What the product states about readings without a standard deviation of their own (metres, radians, share).
const ACROSS_RUN: f64 = 0.006;
const SQUARE: f64 = std::f64::consts::PI / 360.0;
const BY_EYE: f64 = 0.02;

type Lot = (i32, i32);

/// A yard as measured, and as it is.
#[derive(Clone, Debug)]
pub struct Yard {
    /// True places in metres; point `i` is called `P(i+1)`.
    pub truth: Vec<Place>,
    /// What the book says.
    pub measurements: Vec<Measurement>,
    /// Points left on a single tie.
    pub loose: BTreeSet<PointId>,
    tied: BTreeSet<(usize, usize)>,
    dice: Dice,
    posts: BTreeMap<Lot, usize>,
    corners: BTreeMap<Lot, [usize; 6]>,
    jambs: BTreeMap<Lot, usize>,
    gardens: BTreeMap<Lot, [usize; 2]>,
}

impl Yard {
    /// A yard of at least 20 points.
    #[must_use]
    pub fn new(points: usize, seed: u64) -> Self {
        let mut yard = Self {
            truth: Vec::new(),
            measurements: Vec::new(),
            loose: BTreeSet::new(),
            tied: BTreeSet::new(),
            dice: Dice::new(points as u64, seed),
            posts: BTreeMap::new(),
            corners: BTreeMap::new(),
            jambs: BTreeMap::new(),
            gardens: BTreeMap::new(),
        };
        let lots = lots(points / 10);
        yard.place(&lots);
        for &lot in &lots {
            yard.house(lot);
            yard.garden(lot);
            yard.swings(lot);
        }
        for extra in 0..points.saturating_sub(yard.truth.len()) {
            yard.extra(lots[extra % lots.len()]);
        }
        yard
    }

    /// The same with garden points behind some houses left on a single tie each.
    #[must_use]
    pub fn with_loose(points: usize, seed: u64, count: usize) -> Self {
        let mut yard = Self::new(points, seed);
        let backs: Vec<PointId> = yard.gardens.values().map(|[_, back]| id(*back)).collect();
        yard.loose = yard.dice.some(&backs, count).into_iter().collect();
        let mut first = BTreeSet::new();
        let loose = &yard.loose;
        yard.measurements.retain(|m| match m {
            Measurement::Tie { to, .. } if loose.contains(to) => first.insert(to.clone()),
            _ => true,
        });
        yard
    }

    /// What the book says, as a record, with a sketch.
    #[must_use]
    pub fn record(&self, sketch: BTreeMap<PointId, PlanPoint>) -> Record {
        let said = |(number, what): (usize, &Measurement)| Recorded {
            entry: EntryId(format!("M{number}")),
            author: AuthorId::from("surveyor"),
            at_ms: 0,
            what: what.clone(),
        };
        let point = |p| Point { id: id(p), label: id(p).as_str().to_owned(), note: String::new() };
        Record {
            points: (0..self.truth.len()).map(point).collect(),
            measurements: self.measurements.iter().enumerate().map(said).collect(),
            sketch: sketch.into_iter().collect(),
            ..Record::default()
        }
    }

    /// What the book says, as a book.
    ///
    /// # Panics
    /// When a statement cannot be written, which would be a fault of the yard.
    #[must_use]
    #[expect(clippy::expect_used, reason = "test support: a damaged yard ends the test")]
    pub fn book(&self) -> Book {
        let point = |p| Point { id: id(p), label: id(p).as_str().to_owned(), note: String::new() };
        let points = (0..self.truth.len()).map(|p| Statement::Point(point(p)));
        let said = points.chain(self.measurements.iter().cloned().map(Statement::Measure));
        let mut book = Book::new();
        for (clock, statement) in (1..).zip(said) {
            let entry =
                Entry::new(EntryId(format!("M{clock}")), clock, 0, AuthorId::from("surveyor"), statement);
            book.add(entry.expect("finite numbers")).expect("ids of their own");
        }
        book
    }

    /// A bad freehand sketch: turned by 15°, stretched 0.85 and 1.15, each point 1.5 m off.
    #[must_use]
    pub fn rough_sketch(&self, seed: u64) -> BTreeMap<PointId, PlanPoint> {
        let mut dice = Dice::new(0x5E7C, seed);
        let turn = std::f64::consts::PI / 12.0;
        let (c, s) = (cos(turn), sin(turn));
        let drawn = |(p, [x, y]): (usize, &Place)| {
            let (x, y) = (0.85 * x, 1.15 * y);
            let at = [c * x - s * y + dice.gauss(1.5), s * x + c * y + dice.gauss(1.5)];
            (id(p), PlanPoint::from_metres(at[0], at[1]))
        };
        self.truth.iter().enumerate().map(drawn).collect()
    }

    /// True places in the frame in which `a` is the origin and `b` lies on x.
    #[must_use]
    pub fn framed(&self, a: usize, b: usize) -> Vec<Place> {
        let ([ax, ay], [bx, by]) = (self.truth[a], self.truth[b]);
        let length = hypot(bx - ax, by - ay);
        let (c, s) = ((bx - ax) / length, (by - ay) / length);
        let turned = |[x, y]: &Place| [c * (x - ax) + s * (y - ay), c * (y - ay) - s * (x - ax)];
        self.truth.iter().map(turned).collect()
    }

    fn add(&mut self, at: Place) -> usize {
        self.truth.push(at);
        self.truth.len() - 1
    }

    fn near(&mut self, x: f64, y: f64, spread: f64) -> usize {
        let at = [x + self.dice.gauss(spread), y + self.dice.gauss(spread)];
        self.add(at)
    }

    fn somewhere(&mut self, x: [f64; 2], y: [f64; 2]) -> usize {
        let at = [self.dice.between(x[0], x[1]), self.dice.between(y[0], y[1])];
        self.add(at)
    }

    fn place(&mut self, lots: &[Lot]) {
        for &lot in lots {
            let (x, y) = corner_of(lot);
            let post = self.near(x, y, 0.4);
            self.posts.insert(lot, post);
        }
        for &lot in lots {
            let (x, y) = corner_of(lot);
            let house = self.build(x, y).map(|at| self.add(at));
            self.corners.insert(lot, house);
            let ([ax, ay], [bx, by]) = (self.truth[house[0]], self.truth[house[1]]);
            let (t, off) = (self.dice.between(0.25, 0.75), self.dice.gauss(ACROSS_RUN));
            let length = hypot(bx - ax, by - ay);
            let (nx, ny) = ((ay - by) / length, (bx - ax) / length);
            let jamb = self.add([ax + t * (bx - ax) + off * nx, ay + t * (by - ay) + off * ny]);
            self.jambs.insert(lot, jamb);
            let front = self.somewhere([x + 4.0, x + 20.0], [y + 2.0, y + 6.0]);
            let back = self.somewhere([x + 4.0, x + 20.0], [y + 25.0, y + 31.0]);
            self.gardens.insert(lot, [front, back]);
        }
    }

    /// An L-shaped house walked from its first corner: each turn is square but for half a degree, the
    /// last two walls are as long as it takes to come back.
    fn build(&mut self, x: f64, y: f64) -> [Place; 6] {
        let dice = &mut self.dice;
        let start = [x + dice.between(6.0, 8.0), y + dice.between(9.0, 12.0)];
        let (w, h) = (dice.between(9.0, 13.0), dice.between(8.0, 12.0));
        let (narrow, low) = (w * dice.between(0.35, 0.6), h * dice.between(0.35, 0.6));
        let quarter = std::f64::consts::FRAC_PI_2;
        let mut heading = dice.gauss(0.06);
        let mut corners = [start; 6];
        let turns = [quarter, quarter, -quarter, quarter, quarter];
        for (k, length) in [w, low, w - narrow, h - low].into_iter().enumerate() {
            let [x, y] = corners[k];
            corners[k + 1] = [x + length * cos(heading), y + length * sin(heading)];
            heading += turns[k] + dice.gauss(SQUARE);
        }
        let last = heading + turns[4] + dice.gauss(SQUARE);
        // corners[4] + s·(heading) meets start − t·(last).
        let [dx, dy] = [start[0] - corners[4][0], start[1] - corners[4][1]];
        let s = (dx * sin(last) - dy * cos(last)) / sin(last - heading);
        corners[5] = [corners[4][0] + s * cos(heading), corners[4][1] + s * sin(heading)];
        corners
    }

    fn extra(&mut self, lot: Lot) {
        let (x, y) = corner_of(lot);
        let p = self.somewhere([x, x + 24.0], [y, y + 6.0]);
        let q = self.corners[&lot];
        self.tie(q[0], p, Some((q[0], q[1])));
        self.tie(q[1], p, None);
        self.tie(self.posts[&lot], p, None);
    }
}

/// The id of a point by number.
#[must_use]
pub fn id(p: usize) -> PointId {
    PointId(format!("P{}", p + 1))
}

/// The number of a point by id.
#[must_use]
pub fn number(id: &PointId) -> usize {
    id.as_str().trim_start_matches('P').parse::<usize>().map_or(0, |n| n.saturating_sub(1))
}

fn lots(count: usize) -> Vec<Lot> {
    let mut wide = 2;
    while wide * wide < count {
        wide += 1;
    }
    (0..count).map(|k| ((k % wide) as i32, (k / wide) as i32)).collect()
}

fn corner_of((x, y): Lot) -> (f64, f64) {
    (26.0 * f64::from(x), 34.0 * f64::from(y))
}
