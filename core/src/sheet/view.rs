//! From the plan's frame to the paper.

use super::geometry::{Frame, Spot, spot};
use super::paper::Scale;
use crate::plan::{Outline, PlacedPhoto, Plan};
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
        let (x, y) = turned(at, self.sin, self.cos);
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
        let (sin, cos) = (float::sin(turn.radians()), float::cos(turn.radians()));
        let mut reach: Vec<(PlanPoint, f64)> = plan.points.iter().map(|p| (p.at, 0.0)).collect();
        reach.extend(plan.problems.iter().filter_map(|p| Some((p.at?, 0.0))));
        reach.extend(photos.iter().filter_map(|photo| Some((photo.at?, 0.0))));
        for shape in &plan.shapes {
            match &shape.outline {
                Outline::Spot(at) => reach.push((*at, 0.0)),
                Outline::Line(all) | Outline::Area(all) => reach.extend(all.iter().map(|at| (*at, 0.0))),
                Outline::Circle { centre, inner, outer } => {
                    reach.push((*centre, outer.or(*inner).map_or(0.0, |r| r.abs().metres())));
                }
            }
        }
        let mut frame: Option<Frame> = None;
        for (at, r) in reach.into_iter().filter(|(at, r)| at.is_finite() && r.is_finite()) {
            let (x, y) = turned(at, sin, cos);
            let own = Frame::around(spot(x, y), r, r);
            let all = frame.get_or_insert(own);
            own.corners().into_iter().for_each(|corner| all.extend(corner));
        }
        frame.map(Self)
    }
    /// Width and height in metres.
    pub fn size(&self) -> (f64, f64) {
        (self.0.width(), self.0.height())
    }
}
