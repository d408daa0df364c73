//! What can be found out in a yard at all, whatever the program: from the equations at the true places.

use swingtie_core::network::kernel::{Shape, Statistics};
use swingtie_tests::yard::{Slot, Spot, Yard};

/// How well a reading is checked by the others.
#[derive(Clone, Copy, Debug)]
pub struct Checked {
    /// Redundancy number.
    pub redundancy: f64,
    /// Smallest error that shows at the limit used (80 % power).
    pub detectable: f64,
}

/// The statistics of a clean yard.
pub struct Theory {
    numbers: Vec<(Slot, usize)>,
    statistics: Statistics,
}

impl Theory {
    /// With the first house's front wall held.
    pub fn new(yard: &Yard) -> Self {
        let first_house = yard.truth.len() / 10;
        let (network, truth) = yard.network(first_house, first_house + 1);
        Self { numbers: numbered(yard), statistics: network.statistics(&truth) }
    }

    /// None where nothing checks the reading.
    pub fn checked(&self, slot: Slot) -> Option<Checked> {
        let number = self.numbers.iter().find(|(s, _)| *s == slot)?.1;
        let own = self.statistics.readings[number];
        let detectable = own.detectable?;
        Some(Checked { redundancy: own.redundancy, detectable })
    }
}

/// Every reading with the number of its equation: station and offset follow each other, a run's reading is
/// followed by its straightness, a wall by its turn.
fn numbered(yard: &Yard) -> Vec<(Slot, usize)> {
    let equations = yard.equations();
    let mut next = 0;
    let mut out = Vec::new();
    for slot in yard.slots() {
        out.push((slot, next));
        next += 1;
        let follows = equations.get(next).map(|e| e.shape);
        let turn = slot.spot == Spot::Wall && matches!(follows, Some(Shape::Square { .. }));
        next += usize::from(turn || slot.spot == Spot::Run);
    }
    assert_eq!(next, equations.len(), "every equation belongs to a reading");
    out
}
