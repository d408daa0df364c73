//! What the app tells about wrong readings, in the order told.

use super::solve;
use swingtie_core::network::{Adjustment, Doubt, Finding, Quantity, ReadingRole, discern};
use swingtie_tests::yard::{Slot, Spot, Yard};

/// A reading accused, alone or with others that could as well be the wrong one.
pub struct Told {
    /// The suspect first, then its rivals: entry, row, what the others say.
    pub readings: Vec<(String, usize, Doubt)>,
}

impl Told {
    /// Whether the suspect itself is this reading (or the other number of the same row).
    pub fn first(&self, slot: Slot) -> bool {
        self.is(0, slot)
    }

    /// Whether the one of this number is.
    pub fn is(&self, index: usize, slot: Slot) -> bool {
        self.readings.get(index).is_some_and(|one| is(one, slot))
    }

    /// Whether the suspect or one of its rivals is.
    pub fn holds(&self, slot: Slot) -> bool {
        self.doubt(slot).is_some()
    }

    /// What is said about this reading.
    pub fn doubt(&self, slot: Slot) -> Option<&Doubt> {
        self.readings.iter().find(|one| is(one, slot)).map(|(_, _, doubt)| doubt)
    }

    /// The walk and leg of a turn accused of not being square.
    pub fn turn(&self) -> Option<(usize, usize)> {
        let (entry, part, doubt) = self.readings.first()?;
        let measurement = entry.trim_start_matches('M').parse().ok()?;
        (doubt.role == ReadingRole::Square).then_some((measurement, *part))
    }

    /// For the list of what went wrong: `M12/0 or M13/0`.
    pub fn words(&self) -> String {
        let names: Vec<String> = self
            .readings
            .iter()
            .map(|(entry, part, doubt)| format!("{entry}/{part} {:?}", doubt.role))
            .collect();
        names.join(" or ")
    }
}

/// A wall and the turn before it share a row: only the wall was read.
fn is((entry, part, doubt): &(String, usize, Doubt), slot: Slot) -> bool {
    doubt.role != ReadingRole::Square && *entry == format!("M{}", slot.measurement) && *part == slot.part
}

/// Every suspect.
pub fn told(adjustment: &Adjustment) -> Vec<Told> {
    let one = |f: &Finding| match f {
        Finding::Suspect { entry, part, doubt, rivals, .. } => {
            let mut readings = vec![(entry.as_str().to_owned(), *part, doubt.clone())];
            readings.extend(rivals.iter().map(|r| (r.entry.as_str().to_owned(), r.part, r.doubt.clone())));
            Some(Told { readings })
        }
        _ => None,
    };
    adjustment.findings.iter().filter_map(one).collect()
}

/// The smallest error in a reading that the app says would be told from one in another reading (metres).
pub fn nameable(yard: &Yard, slot: Slot) -> f64 {
    let (record, adjustment) = solve(yard);
    let number = adjustment.readings.iter().position(|r| {
        let axis = (r.role == ReadingRole::Offset) == (slot.spot == Spot::Offset);
        axis && r.role != ReadingRole::Square
            && r.role != ReadingRole::OnRun
            && r.entry.as_str() == format!("M{}", slot.measurement)
            && r.part == slot.part
    });
    match number.and_then(|n| discern(&record, &adjustment, &[n]).remove(0)).and_then(|d| d.smallest) {
        Some(Quantity::Length(size)) => size.metres(),
        _ => f64::INFINITY,
    }
}
