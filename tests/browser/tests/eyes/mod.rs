//! A person who can see the yard.

use swingtie_browser::Outcome;
use swingtie_core::{
    book::fold,
    record::{Record, Side},
    units::PlanPoint,
};
use swingtie_tests::scenario::{Options, Sketch, scenario};

/// Somebody who sees the invented yard, and so knows on which side of a line a thing stands; from the
/// yard's rough sketch, which is no more exact than a glance.
pub struct Eyes(Record);

impl Eyes {
    /// Looks at the first yard.
    pub fn open() -> Self {
        let book = scenario(1).book(&Options { sketch: Sketch::Recorded, ..Options::default() });
        Self(fold(&book).record)
    }

    fn place(&self, label: &str) -> Outcome<PlanPoint> {
        let point = self.0.by_label(label).ok_or("no such point")?;
        Ok(*self.0.sketch.get(&point.id).ok_or("not on the sketch")?)
    }

    /// On which side `label` stands, walking from one point to another.
    pub fn side(&self, label: &str, from: &str, to: &str) -> Outcome<Side> {
        let ((ax, ay), (bx, by)) = (self.place(from)?.metres(), self.place(to)?.metres());
        let (px, py) = self.place(label)?.metres();
        let left = (bx - ax) * (py - ay) - (by - ay) * (px - ax) > 0.0;
        Ok(if left { Side::Left } else { Side::Right })
    }
}
