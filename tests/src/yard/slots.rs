//! The single readings of a yard, to spoil or to strike them.

use super::Yard;
use crate::dice::Dice;
use swingtie_core::record::{Measurement, Reading, Turn};
use swingtie_core::units::Length;

/// What a reading is within its measurement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// Of a tie.
    Tie,
    /// On a run.
    Run,
    /// A wall of a walk.
    Wall,
    /// A station.
    Station,
    /// An offset.
    Offset,
}

/// One reading of the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slot {
    /// The measurement, from 0; its entry is called `M` and this number.
    pub measurement: usize,
    /// Its row or leg.
    pub part: usize,
    /// What it is.
    pub spot: Spot,
}

impl Yard {
    /// Every reading.
    #[must_use]
    pub fn slots(&self) -> Vec<Slot> {
        let mut slots = Vec::new();
        for (measurement, m) in self.measurements.iter().enumerate() {
            let spots: &[Spot] = match m {
                Measurement::Tie { .. } => &[Spot::Tie],
                Measurement::Run { .. } => &[Spot::Run],
                Measurement::Walk { .. } => &[Spot::Wall],
                Measurement::Offsets { .. } => &[Spot::Station, Spot::Offset],
                _ => &[],
            };
            let parts = match m {
                Measurement::Run { readings, .. } => readings.len(),
                Measurement::Walk { legs, .. } => legs.len(),
                Measurement::Offsets { rows, .. } => rows.len(),
                _ => 1,
            };
            let of = |part| spots.iter().map(move |&spot| Slot { measurement, part, spot });
            slots.extend((0..parts).flat_map(of));
        }
        slots
    }

    /// The reading itself.
    pub fn reading(&mut self, slot: Slot) -> Option<&mut Reading> {
        match self.measurements.get_mut(slot.measurement)? {
            Measurement::Tie { reading, .. } => Some(reading),
            Measurement::Run { readings, .. } => Some(&mut readings.get_mut(slot.part)?.reading),
            Measurement::Walk { legs, .. } => legs.get_mut(slot.part)?.length.as_mut(),
            Measurement::Offsets { rows, .. } => {
                let row = rows.get_mut(slot.part)?;
                Some(if slot.spot == Spot::Offset { &mut row.offset } else { &mut row.station })
            }
            _ => None,
        }
    }

    /// The value of a reading in metres.
    #[must_use]
    pub fn value(&mut self, slot: Slot) -> f64 {
        self.reading(slot).map_or(f64::NAN, |r| r.value.metres())
    }

    /// Makes a reading wrong by so many metres.
    pub fn spoil(&mut self, slot: Slot, by: f64) {
        if let Some(reading) = self.reading(slot) {
            *reading = written(reading.value.metres() + by);
        }
    }

    /// Takes a reading out: no number is no reading, and the rows beside it keep their numbers.
    pub fn strike(&mut self, slot: Slot) {
        if let Some(reading) = self.reading(slot) {
            reading.value = Length::from_metres(f64::NAN);
        }
    }

    /// Withdraws that the turn before a leg is square; its side stays said.
    pub fn not_square(&mut self, measurement: usize, leg: usize) {
        if let Some(Measurement::Walk { legs, .. }) = self.measurements.get_mut(measurement)
            && let Some(leg) = legs.get_mut(leg)
        {
            leg.turn = match leg.turn {
                Some(Turn::Left) => Some(Turn::LeftNotSquare),
                Some(Turn::Right) => Some(Turn::RightNotSquare),
                other => other,
            };
        }
    }

    /// A misread as they are made: a foot too much or too little, or two neighbouring digits of the
    /// centimetres exchanged. How much it is wrong by.
    #[must_use]
    pub fn slip(&mut self, slot: Slot, dice: &mut Dice) -> f64 {
        let value = self.value(slot);
        let digits: Vec<char> = format!("{:.0}", value.abs() * 1000.0).chars().collect();
        let exchanged = |at: usize| {
            let mut digits = digits.clone();
            digits.swap(at, at + 1);
            let read: f64 = digits.into_iter().collect::<String>().parse().unwrap_or(f64::NAN);
            (read / 1000.0 - value.abs()) * value.signum()
        };
        let wrong: Vec<f64> =
            (0..digits.len().saturating_sub(2)).map(exchanged).filter(|by| by.abs() >= 0.09).collect();
        if !wrong.is_empty() && dice.unit() < 0.5 {
            return wrong[dice.below(wrong.len())];
        }
        if dice.unit() < 0.5 && value > 0.5 { -0.3048 } else { 0.3048 }
    }
}

/// A length as a person writes it down.
pub(super) fn written(metres: f64) -> Reading {
    let text = format!("{metres:.3}");
    let value = Length::from_metres(text.parse().unwrap_or(f64::NAN));
    Reading { text: text + " m", value }
}
