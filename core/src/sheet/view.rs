//! From the plan's frame to the paper.

use super::geometry::{Frame, Spot, spot};
use super::paper::Scale;
use crate::plan::{Outline, PlacedPhoto, Plan, Shape};
use crate::units::{Angle, Length, PlanPoint, float};

/// Turns, scales and moves the plan onto the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// Millimetres on paper for a metre on the ground.
    pub per_metre: f64,
    sin: f64,
    cos: f64,
    /// What lies in the middle of the window, turned plan metres.
    middle: (f64, f64),
    /// The middle of the window.
    window: Spot,
}

impl View {
    pub fn new(scale: Scale, turn: Angle, extent: Option<&Extent>, window: Spot) -> Self {
        let middle = extent.map_or((0.0, 0.0), |e| e.0.centre().into());
        Self {
            per_metre: scale.on_sheet(Length::from_metres(1.0)).millimetres(),
            sin: float::sin(turn.radians()),
            cos: float::cos(turn.radians()),
            middle,
            window,
        }
    }
    /// Where a place of the plan lies on the sheet.
    pub fn place(&self, at: PlanPoint) -> Spot {
        self.place_turned(turned(at, self.sin, self.cos))
    }
    /// Where a place lies on the sheet that is given in the turned metres of an [`Extent`].
    pub fn place_turned(&self, (x, y): (f64, f64)) -> Spot {
        spot(
            self.window.x + (x - self.middle.0) * self.per_metre,
            self.window.y - (y - self.middle.1) * self.per_metre,
        )
    }
    /// A length on the sheet, mm.
    pub fn length(&self, length: Length) -> f64 {
        length.metres() * self.per_metre
    }
    /// Unit vector on the sheet of a direction in the plan.
    pub fn direction(&self, angle: Angle) -> (f64, f64) {
        let (s, c) = (float::sin(angle.radians()), float::cos(angle.radians()));
        (c * self.cos - s * self.sin, -(c * self.sin + s * self.cos))
    }
}

impl From<Spot> for (f64, f64) {
    fn from(at: Spot) -> Self {
        (at.x, at.y)
    }
}

fn turned(at: PlanPoint, sin: f64, cos: f64) -> (f64, f64) {
    let (x, y) = at.metres();
    (x * cos - y * sin, x * sin + y * cos)
}

/// The box around everything drawn, in turned plan metres (y up).
#[derive(Clone, Copy, Debug)]
pub(super) struct Extent(Frame);

impl Extent {
    /// None when nothing has a place.
    pub fn of(plan: &Plan, photos: &[PlacedPhoto], turn: Angle) -> Option<Self> {
        let mut frame: Option<Frame> = None;
        for own in Self::things(plan, photos, turn) {
            let all = frame.get_or_insert(own);
            own.corners().into_iter().for_each(|corner| all.extend(corner));
        }
        frame.map(Self)
    }

    /// The box around each thing that is drawn.
    pub fn things(plan: &Plan, photos: &[PlacedPhoto], turn: Angle) -> Vec<Frame> {
        let single = plan.points.iter().map(|p| Some(p.at)).chain(plan.problems.iter().map(|p| p.at));
        let single = single.chain(photos.iter().map(|photo| photo.at)).flatten().filter(|at| at.is_finite());
        let mut things: Vec<Frame> = single.map(|at| Self::of_point(at, turn)).collect();
        things.extend(plan.shapes.iter().filter_map(|shape| Self::of_shape(shape, turn)));
        things
    }

    /// The box around one place.
    pub fn of_point(at: PlanPoint, turn: Angle) -> Frame {
        Self::around(&at, 0.0, turn)
    }

    /// The box around one shape; none where it has no finite place.
    pub fn of_shape(shape: &Shape, turn: Angle) -> Option<Frame> {
        match &shape.outline {
            Outline::Spot(at) => at.is_finite().then(|| Self::around(at, 0.0, turn)),
            Outline::Line(all) | Outline::Area(all) => {
                let boxes = all.iter().filter(|at| at.is_finite()).map(|at| Self::around(at, 0.0, turn));
                boxes.reduce(|mut whole, own| {
                    own.corners().into_iter().for_each(|corner| whole.extend(corner));
                    whole
                })
            }
            Outline::Circle { centre, inner, outer } => {
                let reach = outer.or(*inner).map_or(0.0, |r| r.abs().metres());
                (centre.is_finite() && reach.is_finite()).then(|| Self::around(centre, reach, turn))
            }
        }
    }

    fn around(at: &PlanPoint, reach: f64, turn: Angle) -> Frame {
        let (x, y) = turned(*at, float::sin(turn.radians()), float::cos(turn.radians()));
        Frame::around(spot(x, y), reach, reach)
    }

    /// Width and height in metres.
    pub fn size(&self) -> (f64, f64) {
        (self.0.width(), self.0.height())
    }
    /// One of the equal parts it is cut into, all together as far over its edges on every side: counted from
    /// the left and from the top, each so many metres wide and high.
    pub fn part(
        &self,
        (column, row): (f64, f64),
        (columns, rows): (f64, f64),
        (wide, high): (f64, f64),
    ) -> Self {
        let middle = self.0.centre();
        let x0 = middle.x + (column - columns / 2.0) * wide;
        // y goes up here, rows go down.
        let y1 = middle.y - (row - rows / 2.0) * high;
        Self(Frame::new(x0, y1 - high, x0 + wide, y1))
    }
    /// Its corners: left, right, lower, upper edge.
    pub fn edges(&self) -> Frame {
        self.0
    }
}
