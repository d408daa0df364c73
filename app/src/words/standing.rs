//! Where the survey stands, in one line.

use super::count;
use swingtie_core::network::{Adjustment, PointState};
use swingtie_core::record::Record;

/// How many points there are and how well they are known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// All points.
    pub points: usize,
    /// Not determined.
    pub loose: usize,
    /// Determined, but a misread would pass unseen.
    pub unchecked: usize,
    /// Contradicted.
    pub disputed: usize,
    /// Of which nobody said on which side they stand.
    pub sides: usize,
}

impl Standing {
    /// Counts them. A point the adjustment does not know counts as loose.
    #[must_use]
    pub fn of(record: &Record, adjustment: &Adjustment) -> Self {
        let sides = adjustment.questions.len();
        let mut standing = Self { points: record.points.len(), sides, ..Self::default() };
        for point in &record.points {
            match adjustment.points.get(&point.id).map_or(PointState::Loose, |fix| fix.state) {
                PointState::Loose => standing.loose += 1,
                PointState::Fixed => standing.unchecked += 1,
                PointState::Disputed => standing.disputed += 1,
                PointState::Checked => {}
            }
        }
        standing
    }

    /// `31 points, 2 loose, 5 unchecked`.
    #[must_use]
    pub fn words(self) -> String {
        if self.points == 0 {
            return "No points yet".to_owned();
        }
        let mut words = count(self.points, "point", "points");
        for (number, name) in
            [(self.loose, "loose"), (self.disputed, "in dispute"), (self.unchecked, "unchecked")]
        {
            if number > 0 {
                words = format!("{words}, {number} {name}");
            }
        }
        if self.sides > 0 {
            words = format!("{words}, {}", count(self.sides, "side not said", "sides not said"));
        } else if self.loose + self.disputed + self.unchecked == 0 {
            words.push_str(", all checked");
        }
        words
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strip_says_only_what_there_is() {
        assert_eq!(Standing::default().words(), "No points yet");
        let some = Standing { points: 31, loose: 2, unchecked: 5, disputed: 0, sides: 0 };
        assert_eq!(some.words(), "31 points, 2 loose, 5 unchecked");
        assert_eq!(Standing { points: 1, ..Standing::default() }.words(), "1 point, all checked");
        let open = Standing { points: 4, sides: 1, ..Standing::default() };
        assert_eq!(open.words(), "4 points, 1 side not said");
    }
}
