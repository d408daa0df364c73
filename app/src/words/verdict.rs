//! What the other readings say about an entry.

use super::length;
use swingtie_core::network::{AdjustedReading, Adjustment, Doubt, Finding, Quantity, ReadingRole};
use swingtie_core::record::{EntryId, UnitSystem};
use swingtie_core::units::Length;
use swingtie_core::units::format::fixed;

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
    /// The others agree; the largest difference, where it is a length.
    Agrees(Option<Length>),
    /// The others do not agree: the reading most likely to be wrong; how far it is from what they say.
    Suspect(Option<Length>),
    /// It does not agree either, or might be the wrong one instead.
    Doubtful,
    /// It does not agree, was looked at again and kept.
    Kept,
}

/// Judges an entry.
#[must_use]
pub fn verdict(entry: &EntryId, adjustment: &Adjustment) -> Verdict {
    let readings: Vec<&AdjustedReading> = adjustment.readings.iter().filter(|r| &r.entry == entry).collect();
    if readings.is_empty() {
        return Verdict::NoReading;
    }
    let suspect = adjustment.findings.iter().find_map(|finding| match finding {
        Finding::Suspect { entry: e, doubt, .. } if e == entry => Some(apart(doubt)),
        _ => None,
    });
    if let Some(apart) = suspect {
        return Verdict::Suspect(apart);
    }
    if adjustment.findings.iter().any(|f| matches!(f, Finding::Kept { entry: e, .. } if e == entry)) {
        return Verdict::Kept;
    }
    let instead = |finding: &Finding| matches!(finding, Finding::Suspect { rivals, .. } if rivals.iter().any(|rival| &rival.entry == entry));
    let far = |r: &&AdjustedReading| r.standardised.is_some_and(|w| w.abs() > adjustment.suspect_limit);
    if adjustment.findings.iter().any(instead) || readings.iter().any(far) {
        Verdict::Doubtful
    } else if readings.iter().any(|r| r.adjusted.is_none()) {
        Verdict::Waiting
    } else if !readings.iter().any(|r| r.is_checked()) {
        Verdict::Unchecked
    } else if !readings.iter().all(|r| r.is_checked()) {
        Verdict::PartlyUnchecked
    } else {
        Verdict::Agrees(largest(readings.into_iter()))
    }
}

/// How far a suspect reading is from what the others make of it, where that is a length.
fn apart(doubt: &Doubt) -> Option<Length> {
    match (doubt.observed, doubt.expected) {
        (Quantity::Length(read), Quantity::Length(expected)) => Some((read - expected).abs()),
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
        Verdict::Waiting => ("…", "Waits for more readings".to_owned()),
        Verdict::Unchecked => ("○", "Not checked by another reading".to_owned()),
        Verdict::PartlyUnchecked => ("○", "Not all of it is checked by other readings".to_owned()),
        Verdict::Agrees(None) => ("✓", "Agrees with the others".to_owned()),
        // Less than half the finest mark of a tape reads as nothing.
        Verdict::Agrees(Some(by)) if length(by, units) == length(Length::ZERO, units) => {
            ("✓", "Agrees with the others".to_owned())
        }
        Verdict::Agrees(Some(by)) => ("✓", format!("Agrees within {}", length(by, units))),
        Verdict::Suspect(None) => ("▲", "Does not agree: most likely misread".to_owned()),
        Verdict::Suspect(Some(by)) => {
            ("▲", format!("{} from what the others say: most likely misread", length(by, units)))
        }
        Verdict::Kept => ("▲", "Does not agree; looked at again and kept".to_owned()),
        Verdict::Doubtful => ("▲", "Does not agree, or could be the wrong one instead".to_owned()),
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
        Quantity::Angle(angle) => format!("{}°", fixed(angle.degrees(), 2)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::network::Doubt;

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
            smallest_detectable: None,
        }
    }

    fn judge(readings: Vec<AdjustedReading>, findings: Vec<Finding>) -> Verdict {
        let adjustment = Adjustment { readings, findings, suspect_limit: 4.0, ..Adjustment::default() };
        verdict(&"e".into(), &adjustment)
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
        let entry = EntryId::from("e");
        let finding = Finding::Suspect { entry, part: 0, standardised: 9.0, doubt, rivals: vec![] };
        let suspect = judge(vec![reading(true, true)], vec![finding]);
        assert!(
            matches!(suspect, Verdict::Suspect(Some(by)) if (by.metres() - 0.00635).abs() < 1e-12),
            "{suspect:?}"
        );
        let far = AdjustedReading { standardised: Some(-15.0), ..reading(true, true) };
        assert_eq!(judge(vec![far], vec![]), Verdict::Doubtful);
        let words = verdict_words(Verdict::Agrees(quarter), UnitSystem::FeetInches);
        assert_eq!(words, Some(("✓", "Agrees within 1/4\"".to_owned())));
    }
}
