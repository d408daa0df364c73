//! What can be found out in a yard at all, whatever the program: from the equations at the true places.

use swingtie_core::network::kernel::{Shape, Statistics};
use swingtie_core::units::float::sqrt;
use swingtie_tests::yard::{Slot, Spot, Yard};

/// How well a reading is checked by the others.
#[derive(Clone, Copy, Debug)]
pub struct Checked {
    /// Redundancy number.
    pub redundancy: f64,
    /// Smallest error that shows at the limit used (80 % power).
    pub detectable: f64,
    /// Smallest error that can be told from an error in any other reading with the same power: the detectable
    /// one over √(1 − ρ²), ρ the largest correlation of its standardised residual with another's (after
    /// W. Förstner, Reliability and discernability of extended Gauss-Markov models, 1983; from memory).
    pub separable: f64,
}

/// The statistics of a clean yard.
pub struct Theory {
    yard: Yard,
    numbers: Vec<(Slot, usize)>,
    statistics: Statistics,
    held: (usize, usize),
}

impl Theory {
    /// With the first house's front wall held.
    pub fn new(yard: &Yard) -> Self {
        let held = (yard.truth.len() / 10, yard.truth.len() / 10 + 1);
        let (network, truth) = yard.network(held.0, held.1);
        let statistics = network.statistics(&truth);
        Self { yard: yard.clone(), numbers: numbered(yard), statistics, held }
    }

    /// None where nothing checks the reading.
    pub fn checked(&self, slot: Slot) -> Option<Checked> {
        let (network, x) = self.yard.network(self.held.0, self.held.1);
        let number = self.numbers.iter().find(|(s, _)| *s == slot)?.1;
        let own = self.statistics.readings[number];
        let detectable = own.detectable?;
        // What an error of this size here does to every standardised residual: in shares of its own, ρ.
        let moved = self.statistics.displacements(&network, &x, number, detectable);
        let effect = |k: usize| {
            let (e, s) = (&network.equations[k], self.statistics.readings[k]);
            s.detectable.map(|_| {
                let gradient = e.at(&x).gradient;
                let change: f64 = e
                    .points()
                    .into_iter()
                    .take(e.count())
                    .zip(gradient)
                    .map(|(p, g)| g[0] * moved[p as usize][0] + g[1] * moved[p as usize][1])
                    .sum();
                let change = if k == number { change - detectable } else { change };
                change / (e.sd * sqrt(s.redundancy))
            })
        };
        let mine = effect(number)?;
        let others = self.numbers.iter().filter(|(s, _)| *s != slot);
        let rho = others.filter_map(|(_, k)| effect(*k)).fold(0.0, |most: f64, w| most.max((w / mine).abs()));
        let separable = detectable / sqrt((1.0 - rho * rho).max(1e-12));
        Some(Checked { redundancy: own.redundancy, detectable, separable })
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
