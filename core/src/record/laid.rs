//! Tapes that lay on a slope known by the heights of its ends.

use super::{Measurement, PointId, Record, Recorded, Slope};
use crate::units::Length;
use crate::units::tape::level_by_rise;
use std::borrow::Cow;

impl Record {
    /// Whether the slope of any tape is known by heights.
    #[must_use]
    pub fn slopes_by_heights(&self) -> bool {
        self.measurements.iter().any(|m| by_heights(&m.what))
    }

    /// The measurement as places follow from it: where its slope is known by heights, with the rise between the ends of
    /// its longest reading. Where a height is missing, or no tape of that length could span the rise, it counts as
    /// level ([`Record::unlaid`] says so).
    #[must_use]
    pub fn laid<'a>(&self, m: &'a Recorded<Measurement>) -> Cow<'a, Recorded<Measurement>> {
        if !by_heights(&m.what) {
            return Cow::Borrowed(m);
        }
        let rise = self.rise(&m.what);
        let mut laid = m.clone();
        if let Measurement::Tie { how, .. } | Measurement::Run { how, .. } = &mut laid.what {
            how.slope = rise.map(Slope::RiseMetres);
        }
        Cow::Owned(laid)
    }

    /// Measurements whose slope should be known by heights and is not.
    pub fn unlaid(&self) -> impl Iterator<Item = &Recorded<Measurement>> {
        self.measurements.iter().filter(|m| by_heights(&m.what) && self.rise(&m.what).is_none())
    }

    fn rise(&self, m: &Measurement) -> Option<Length> {
        let (from, to, length): (&PointId, &PointId, Length) = match m {
            Measurement::Tie { from, to, reading, .. } => (from, to, reading.value),
            Measurement::Run { zero, readings, zero_unknown: false, .. } => {
                let longer = |a: Length, b: Length| a.metres().total_cmp(&b.metres());
                let far =
                    readings.iter().max_by(|a, b| longer(a.reading.value.abs(), b.reading.value.abs()))?;
                (zero, &far.point, far.reading.value.abs())
            }
            _ => return None,
        };
        let rise = *self.heights.get(to)? - *self.heights.get(from)?;
        level_by_rise(length, rise).map(|_| rise)
    }
}

fn by_heights(m: &Measurement) -> bool {
    match m {
        Measurement::Tie { how, .. } | Measurement::Run { how, .. } => how.slope == Some(Slope::Heights),
        // A walk or a baseline has no one slope.
        _ => false,
    }
}
