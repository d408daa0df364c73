//! Where the survey stands, in one line.

use super::capture::NOT_CHECKED;
use super::{count, questioned};
use swingtie_core::language::tr;
use swingtie_core::network::{Adjustment, Finding, PointState};
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
    /// Readings in question.
    pub doubts: usize,
    /// Of the contradicted points those that only wait for a reading elsewhere.
    pub waiting: usize,
    /// Of which nobody said on which side they stand.
    pub sides: usize,
}

impl Standing {
    /// Counts them. A point the adjustment does not know counts as loose.
    #[must_use]
    pub fn of(record: &Record, adjustment: &Adjustment) -> Self {
        let sides = adjustment.questions.len();
        let doubts = adjustment.findings.iter().filter(|f| matches!(f, Finding::Suspect { .. })).count();
        let mut standing = Self { points: record.points.len(), sides, doubts, ..Self::default() };
        let asked = questioned(adjustment);
        for point in &record.points {
            match adjustment.points.get(&point.id).map_or(PointState::Loose, |fix| fix.state) {
                PointState::Loose => standing.loose += 1,
                PointState::Fixed => standing.unchecked += 1,
                PointState::Disputed => {
                    standing.disputed += 1;
                    standing.waiting += usize::from(!asked.contains(&&point.id));
                }
                PointState::Checked => {}
            }
        }
        standing
    }

    /// `31 points, 2 loose, 5 not checked`. Of a contradiction the reading is told, and how many points
    /// wait for it: one misread is one thing to settle, however many points it pulls aside.
    #[must_use]
    pub fn words(self) -> String {
        if self.points == 0 {
            return say!("No points yet");
        }
        let mut words = count(self.points, "point", "points");
        if self.doubts > 0 {
            words = say!("{words}, {} in doubt", count(self.doubts, "reading", "readings"));
        }
        // What a kept reading pulls aside waits for nothing.
        let (waiting, aside) = if self.doubts > 0 { (self.waiting, 0) } else { (0, self.disputed) };
        for (number, name) in [
            (waiting, "waiting for it"),
            (aside, "pulled aside"),
            (self.loose, "loose"),
            (self.unchecked, NOT_CHECKED),
        ] {
            if number > 0 {
                words = say!("{words}, {number} {name}");
            }
        }
        if self.sides > 0 {
            words = say!("{words}, {}", count(self.sides, "side not said", "sides not said"));
        } else if self.loose + self.disputed + self.unchecked == 0 {
            words.push_str(tr(", all checked"));
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
        let some = Standing { points: 31, loose: 2, unchecked: 5, ..Standing::default() };
        assert_eq!(some.words(), "31 points, 2 loose, 5 not checked");
        let doubt = Standing { points: 81, disputed: 13, doubts: 1, waiting: 12, ..Standing::default() };
        assert_eq!(doubt.words(), "81 points, 1 reading in doubt, 12 waiting for it");
        let kept = Standing { points: 81, disputed: 13, ..Standing::default() };
        assert_eq!(kept.words(), "81 points, 13 pulled aside");
        assert_eq!(Standing { points: 1, ..Standing::default() }.words(), "1 point, all checked");
        let open = Standing { points: 4, sides: 1, ..Standing::default() };
        assert_eq!(open.words(), "4 points, 1 side not said");
    }
}
