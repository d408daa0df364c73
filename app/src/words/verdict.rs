//! What the other readings say about an entry.

use super::length;
use swingtie_core::network::{AdjustedReading, Adjustment, Doubt, Finding, Quantity, ReadingRole};
use swingtie_core::record::{EntryId, UnitSystem};
use swingtie_core::units::format::format_number;
use swingtie_core::units::{Length, sort_by};

/// How an entry's readings stand among the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// It holds no reading.
    NoReading,
    /// A point of it is loose, so nothing can be said yet.
    Waiting,
    /// Needed, and proved by nothing.
    Unchecked,
    /// Of its numbers some are proved by nothing.
    PartlyUnchecked,
    /// The others agree, but only a misread larger than this would show, and it is large enough to matter.
    Hardly(Length),
    /// The others agree; the largest difference, where it is a length.
    Agrees(Option<Length>),
    /// As [`Agrees`](Self::Agrees); a misread smaller than this would not show, though it is far more than tapes are off.
    AgreesFrom(Option<Length>, Length),
    /// The others do not agree: the reading most likely to be wrong; how far it is from what they say.
    Suspect(Option<Length>),
    /// One of so many readings is wrong, this or another.
    OneOf(usize),
    /// It does not agree while the reading in doubt pulls its points aside.
    Strained,
    /// It does not agree, and no reading was found that explains it.
    Doubtful,
    /// It does not agree, was looked at again and kept.
    Kept,
}

/// A misread smaller than this moves no checked point by more (`PointState::Checked`): 1 ft.
const MATTERS: Length = Length::from_metres(0.3048);
/// What agrees though a misread larger than this would not show says so: common practice, no source.
const TOLD: Length = Length::from_millimetres(75.0);

impl Verdict {
    /// Whether it should be looked at: it contradicts, or might be what is wrong.
    #[must_use]
    pub fn in_doubt(self) -> bool {
        matches!(self, Self::Suspect(_) | Self::OneOf(_) | Self::Strained | Self::Doubtful | Self::Kept)
    }

    /// Whether nothing proves it, or next to nothing.
    #[must_use]
    pub fn unchecked(self) -> bool {
        matches!(self, Self::Waiting | Self::Unchecked | Self::PartlyUnchecked | Self::Hardly(_))
    }
}

/// Judges entries of an adjustment, whose readings it has by entry: a book asks for thousands.
pub struct Judge<'a> {
    adjustment: &'a Adjustment,
    /// Those of one entry in their order, next to each other.
    readings: Vec<&'a AdjustedReading>,
}

impl<'a> Judge<'a> {
    /// Of this adjustment.
    #[must_use]
    pub fn of(adjustment: &'a Adjustment) -> Self {
        let mut readings: Vec<&AdjustedReading> = adjustment.readings.iter().collect();
        sort_by(&mut readings, |a, b| a.entry.cmp(&b.entry));
        Self { adjustment, readings }
    }

    /// Judges an entry.
    #[must_use]
    pub fn verdict(&self, entry: &EntryId) -> Verdict {
        let start = self.readings.partition_point(|r| r.entry < *entry);
        let readings = self.readings.iter().skip(start).take_while(|r| r.entry == *entry);
        let readings: Vec<&AdjustedReading> = readings.copied().collect();
        if readings.is_empty() { Verdict::NoReading } else { judged(entry, &readings, self.adjustment) }
    }
}

/// Judges an entry by its readings.
fn judged(entry: &EntryId, readings: &[&AdjustedReading], adjustment: &Adjustment) -> Verdict {
    // The same words for the suspect and for what may be wrong in its place.
    let accused = adjustment.findings.iter().find_map(|finding| match finding {
        Finding::Suspect { entry: e, doubt, rivals, .. } if e == entry && rivals.is_empty() => {
            Some(Verdict::Suspect(apart(doubt)))
        }
        Finding::Suspect { entry: e, rivals, .. }
            if e == entry || rivals.iter().any(|r| &r.entry == entry) =>
        {
            Some(Verdict::OneOf(rivals.len() + 1))
        }
        _ => None,
    });
    if let Some(accused) = accused {
        return accused;
    }
    if adjustment.findings.iter().any(|f| matches!(f, Finding::Kept { entry: e, .. } if e == entry)) {
        return Verdict::Kept;
    }
    let blamed = |f: &Finding| matches!(f, Finding::Suspect { .. } | Finding::Kept { .. });
    let far = |r: &&AdjustedReading| r.standardised.is_some_and(|w| w.abs() > adjustment.suspect_limit);
    if readings.iter().any(far) {
        if adjustment.findings.iter().any(blamed) { Verdict::Strained } else { Verdict::Doubtful }
    } else if readings.iter().any(|r| r.adjusted.is_none()) {
        Verdict::Waiting
    } else if !readings.iter().any(|r| r.is_checked()) {
        Verdict::Unchecked
    } else if !readings.iter().all(|r| r.is_checked()) {
        Verdict::PartlyUnchecked
    } else if let Some(shows) = readings.iter().filter_map(shows).find(|shows| *shows > MATTERS) {
        Verdict::Hardly(shows)
    } else {
        let by = largest(readings.iter().copied());
        let shows = readings.iter().filter_map(shows).fold(Length::ZERO, |a, b| if b > a { b } else { a });
        if shows > TOLD { Verdict::AgreesFrom(by, shows) } else { Verdict::Agrees(by) }
    }
}

/// How far a suspect reading is from what the others make of it, where that is a length.
fn apart(doubt: &Doubt) -> Option<Length> {
    match (doubt.observed, doubt.expected) {
        (Quantity::Length(read), Quantity::Length(expected)) => Some((read - expected).abs()),
        _ => None,
    }
}

/// From which size on a misread would show, where that is a length.
fn shows(reading: &&AdjustedReading) -> Option<Length> {
    match reading.smallest_detectable {
        Some(Quantity::Length(size)) => Some(size),
        _ => None,
    }
}

/// The largest residual that is a length.
fn largest<'a>(readings: impl Iterator<Item = &'a AdjustedReading>) -> Option<Length> {
    let lengths = readings.filter_map(|r| match r.residual {
        Some(Quantity::Length(residual)) => Some(residual.abs()),
        _ => None,
    });
    lengths.fold(None, |most: Option<Length>, one| match most {
        Some(most) if most >= one => Some(most),
        _ => Some(one),
    })
}

/// The verdict's sign and words. The sign repeats the words in a shape; it is never the only carrier.
#[must_use]
pub fn verdict_words(verdict: Verdict, units: UnitSystem) -> Option<(&'static str, String)> {
    Some(match verdict {
        Verdict::NoReading => return None,
        Verdict::Waiting => ("…", say!("Waits for more readings")),
        Verdict::Unchecked => ("○", say!("Not checked by another reading")),
        Verdict::PartlyUnchecked => ("○", say!("Not all of it is checked by other readings")),
        Verdict::Hardly(shows) => {
            ("○", say!("Hardly checked: only a misread of {} or more would show", length(shows, units)))
        }
        Verdict::Agrees(None) => ("✓", say!("Agrees with the others")),
        // Less than half the finest mark of a tape reads as nothing.
        Verdict::Agrees(Some(by)) if length(by, units) == length(Length::ZERO, units) => {
            ("✓", say!("Agrees with the others"))
        }
        Verdict::Agrees(Some(by)) => ("✓", say!("Agrees within {}", length(by, units))),
        Verdict::AgreesFrom(by, shows) => {
            let agrees = verdict_words(Verdict::Agrees(by), units).map(|(_, agrees)| agrees)?;
            ("✓", say!("{agrees}; a misread of less than {} would not show", length(shows, units)))
        }
        Verdict::Suspect(None) => ("▲", say!("Does not agree: most likely misread")),
        Verdict::Suspect(Some(by)) => {
            ("▲", say!("{} from what the others say: most likely misread", length(by, units)))
        }
        Verdict::Kept => ("▲", say!("Does not agree; looked at again and kept")),
        Verdict::OneOf(2) => ("▲", say!("This or the reading it contradicts is wrong")),
        Verdict::OneOf(n) => ("▲", say!("One of {n} readings is wrong, perhaps this")),
        Verdict::Strained => ("…", say!("Pulled aside by the reading in doubt")),
        Verdict::Doubtful => ("▲", say!("Does not agree with the others")),
    })
}

/// What a reading is.
#[must_use]
pub fn role_name(role: ReadingRole) -> &'static str {
    match role {
        ReadingRole::Tie => "Tie",
        ReadingRole::Run => "Along the tape",
        ReadingRole::OnRun => "On the tape's line",
        ReadingRole::Station => "Station along the baseline",
        ReadingRole::Offset => "Offset from the baseline",
        ReadingRole::Wall => "Wall",
        ReadingRole::Square => "Square corner",
        ReadingRole::InLine => "In line",
        ReadingRole::Angle => "Angle",
        ReadingRole::Bearing => "Bearing",
        ReadingRole::Parallel => "Parallel",
        ReadingRole::SameLength => "Same length",
    }
}

/// A length or an angle as this site writes it.
#[must_use]
pub fn quantity(quantity: Quantity, units: UnitSystem) -> String {
    match quantity {
        Quantity::Length(value) => length(value, units),
        Quantity::Angle(angle) => say!("{}°", format_number(angle.degrees(), 2)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::network::{Doubt, Rival};

    fn reading(adjusted: bool, checked: bool) -> AdjustedReading {
        let quantity = Quantity::Length(Length::from_inches(10.0));
        AdjustedReading {
            entry: "e".into(),
            part: 0,
            role: ReadingRole::Tie,
            points: vec!["a".into(), "b".into()],
            observed: quantity,
            adjusted: adjusted.then_some(quantity),
            residual: adjusted.then_some(Quantity::Length(Length::from_inches(-0.25))),
            sd: quantity,
            redundancy: adjusted.then_some(if checked { 0.4 } else { 0.01 }),
            standardised: adjusted.then_some(0.5),
            smallest_detectable: Some(Quantity::Length(Length::from_inches(2.0))),
        }
    }

    fn judge(readings: Vec<AdjustedReading>, findings: Vec<Finding>) -> Verdict {
        let adjustment = Adjustment { readings, findings, suspect_limit: 4.0, ..Adjustment::default() };
        Judge::of(&adjustment).verdict(&"e".into())
    }

    #[test]
    fn every_verdict_is_reached() {
        assert_eq!(judge(vec![], vec![]), Verdict::NoReading);
        assert_eq!(judge(vec![reading(false, false)], vec![]), Verdict::Waiting);
        assert_eq!(judge(vec![reading(true, false)], vec![]), Verdict::Unchecked);
        let both = vec![reading(true, true), reading(true, false)];
        assert_eq!(judge(both, vec![]), Verdict::PartlyUnchecked);
        let quarter = Some(Length::from_inches(0.25));
        assert_eq!(judge(vec![reading(true, true)], vec![]), Verdict::Agrees(quarter));
        let ten = Quantity::Length(Length::from_inches(10.0));
        let expected = Quantity::Length(Length::from_inches(10.25));
        let doubt =
            Doubt { role: ReadingRole::Tie, observed: ten, expected, expected_sd: ten, causes: vec![] };
        let [four, two_feet] = [4.0, 24.0].map(Length::from_inches);
        let showing = |size| {
            let smallest_detectable = Some(Quantity::Length(size));
            judge(vec![AdjustedReading { smallest_detectable, ..reading(true, true) }], vec![])
        };
        assert_eq!(showing(four), Verdict::AgreesFrom(quarter, four));
        assert_eq!(showing(two_feet), Verdict::Hardly(two_feet));
        let suspect = |entry: &str, rivals| Finding::Suspect {
            entry: entry.into(),
            part: 0,
            standardised: 9.0,
            doubt: doubt.clone(),
            rivals,
        };
        let rival =
            |entry: &str| Rival { entry: entry.into(), part: 0, standardised: 9.0, doubt: doubt.clone() };
        // Of two that contradict each other neither is blamed more.
        let two = [suspect("e", vec![rival("f")]), suspect("f", vec![rival("e")])];
        for finding in two {
            assert_eq!(judge(vec![reading(true, true)], vec![finding]), Verdict::OneOf(2));
        }
        let elsewhere = suspect("g", vec![]);
        let suspect = judge(vec![reading(true, true)], vec![suspect("e", vec![])]);
        assert!(
            matches!(suspect, Verdict::Suspect(Some(by)) if (by.metres() - 0.00635).abs() < 1e-12),
            "{suspect:?}"
        );
        let far = AdjustedReading { standardised: Some(-15.0), ..reading(true, true) };
        assert_eq!(judge(vec![far.clone()], vec![]), Verdict::Doubtful);
        assert_eq!(judge(vec![far], vec![elsewhere]), Verdict::Strained);
        let words = verdict_words(Verdict::Agrees(quarter), UnitSystem::FeetInches);
        assert_eq!(words, Some(("✓", "Agrees within 1/4\"".to_owned())));
        let words = verdict_words(Verdict::AgreesFrom(quarter, four), UnitSystem::FeetInches);
        let told = "Agrees within 1/4\"; a misread of less than 4\" would not show";
        assert_eq!(words, Some(("✓", told.to_owned())));
    }
}
