//! Exact figures of the whole survey, and between two points, for who wants them.

use super::capture::within;
use super::length;
use swingtie_core::network::{Adjustment, Agreement, Relative};
use swingtie_core::record::{Record, UnitSystem};
use swingtie_core::units::format::format_number;

/// How well the readings agree as a whole, as name and value.
#[must_use]
pub fn survey_figures(record: &Record, adjustment: &Adjustment) -> Vec<(&'static str, String)> {
    let mut lines = vec![
        ("Numbers read or stated", adjustment.readings.len().to_string()),
        ("Spare ones (degrees of freedom)", adjustment.redundancy.to_string()),
    ];
    if let (Some(factor), Some([low, high])) = (adjustment.variance_factor, adjustment.variance_interval) {
        lines.push(("Variance factor", format_number(factor, 2)));
        let one = if (low..=high).contains(&1.0) { "1 lies between" } else { "1 lies outside" };
        lines.push((
            "Its bounds, 95 %",
            say!("{} to {}: {one}", format_number(low, 2), format_number(high, 2)),
        ));
    }
    if adjustment.redundancy > 0 {
        lines.push((
            "Suspect beyond a standardised difference of (level 0.2 % for all together)",
            format_number(adjustment.suspect_limit, 2),
        ));
    }
    if let Some((origin, x)) = &adjustment.held {
        lines.push(("Origin; x runs to", say!("{}; {}", record.label(origin), record.label(x))));
    }
    lines
}

/// What the figures come to, in a sentence.
#[must_use]
pub fn survey_told(adjustment: &Adjustment) -> &'static str {
    match adjustment.agreement() {
        None => "No reading is spare yet: nothing checks anything.",
        Some(Agreement::Better) => "The readings agree better than their instruments promise.",
        Some(Agreement::AsStated) => "The readings agree as well as their instruments promise.",
        Some(Agreement::Worse) => {
            "The readings agree less well than their instruments promise: a misread, or rougher taping."
        }
    }
}

/// Two points cannot be compared.
pub const NO_RELATIVE: &str = "That cannot be told: one of the two is loose, or both are the same.";

/// How far apart two points are, and how well that is known.
#[must_use]
pub fn relative_told(relative: &Relative, units: UnitSystem) -> String {
    say!(
        "{} apart, known {} (95 % ellipse of one against the other {} by {}).",
        length(relative.distance, units),
        within(relative.ellipse.semi_major, units),
        length(relative.ellipse.semi_major, units),
        length(relative.ellipse.semi_minor, units)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_survey_without_spare_readings_says_so() {
        assert!(survey_told(&Adjustment::default()).contains("nothing checks"));
        let clean =
            Adjustment { variance_interval: Some([0.7, 1.4]), redundancy: 9, ..Adjustment::default() };
        assert!(survey_told(&clean).contains("as well as"));
        let names: Vec<_> = survey_figures(&Record::default(), &clean).into_iter().map(|(n, _)| n).collect();
        assert_eq!(names.len(), 3, "no factor, no frame: {names:?}");
    }
}
