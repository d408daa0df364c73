//! Labels for new points: the next free one of a kind.

use swingtie_core::record::{Kind, Record};

/// Kinds whose points come in pairs on a wall, one each side of the opening: D1a, D1b.
const PAIRED: [&str; 3] = ["door", "window", "gate"];
/// What ends their labels.
const PAIR: [&str; 2] = ["a", "b"];

/// The next free label of this kind: H1, H2 …; D1a, D1b, D2a … for openings. `taken` holds labels
/// already promised to points not yet saved.
#[must_use]
pub fn next_label(record: &Record, kind: &Kind, taken: &[String]) -> String {
    let ends: &[&str] = if PAIRED.contains(&kind.key) { &PAIR } else { &[""] };
    let label = |at: usize| {
        let end = ends.get(at % ends.len()).copied().unwrap_or_default();
        format!("{}{}{end}", kind.prefix, at / ends.len() + 1)
    };
    // From the first of the series.
    let place = |used: &str| place(used, kind.prefix, ends)?.checked_sub(ends.len());
    let used = record.points.iter().map(|point| point.label.as_str()).chain(taken.iter().map(String::as_str));
    // One past the highest in use, not the first gap: a struck H3 is not given away again in the same yard. A number
    // far beyond all others is somebody's own.
    let most = (record.points.len() * 2 + 2 * ends.len() + 2 + taken.len()).min(9_999 * ends.len());
    let next = used.filter_map(place).filter(|at| *at < most).max().map_or(0, |last| last + 1);
    if next < most { label(next) } else { kind.prefix.to_owned() }
}

/// The next free label after this one in its series: B2 after B1, W1b after W1a, W2a after W1b.
#[must_use]
pub fn following(record: &Record, label: &str) -> String {
    let (letters, number, tail) = order(label);
    let ends: &[&str] = if PAIR.contains(&tail.as_str()) { &PAIR } else { &[""] };
    // From the first of this number.
    let from = usize::try_from(number).unwrap_or(usize::MAX).saturating_mul(ends.len());
    let place = |used: &str| place(used, &letters, ends)?.checked_sub(from);
    // Marked once: to ask the record for each label in turn took a large yard's number squared.
    let mut used = vec![false; record.points.len() + 3];
    for at in record.points.iter().filter_map(|point| place(&point.label)) {
        if let Some(used) = used.get_mut(at) {
            *used = true;
        }
    }
    let here = ends.iter().position(|end| *end == tail).unwrap_or_default();
    let free = used.iter().skip(here + 1).take_while(|used| **used).count() + here + 1;
    let end = ends.get(free % ends.len()).copied().unwrap_or_default();
    let ahead = u32::try_from(free / ends.len()).unwrap_or_default();
    format!("{letters}{}{end}", number.saturating_add(ahead))
}

/// Which label of the series with these letters and ends one is, counted from those of number 0, which none has; none
/// where it is of another series.
fn place(used: &str, letters: &str, ends: &[&str]) -> Option<usize> {
    let (head, tail) = used.split_at_checked(letters.len())?;
    let (digits, end) = tail.split_at_checked(tail.bytes().take_while(u8::is_ascii_digit).count())?;
    let end = ends.iter().position(|one| end.eq_ignore_ascii_case(one))?;
    let at = digits.parse::<usize>().ok()?.checked_mul(ends.len())?.checked_add(end)?;
    (head.eq_ignore_ascii_case(letters) && !digits.starts_with('0')).then_some(at)
}

/// Why a label cannot be given to a new point, if it cannot.
#[must_use]
pub fn objection(record: &Record, label: &str) -> Option<String> {
    let label = label.trim();
    if label.is_empty() {
        Some(say!("Give the point a short label, such as H1."))
    } else if label.chars().count() > 8 {
        Some(say!("Keep the label short: eight signs at most."))
    } else if record.by_label(label).is_some() {
        Some(say!("There is a point {label} already."))
    } else {
        None
    }
}

/// A label as typed, without blanks around it, its leading letters large: `w1a` is W1a.
#[must_use]
pub fn tidy(label: &str) -> String {
    let label = label.trim();
    let letters = label.chars().take_while(|c| !c.is_ascii_digit()).count();
    label.chars().enumerate().map(|(i, c)| if i < letters { c.to_ascii_uppercase() } else { c }).collect()
}

/// Sorts labels as people count: H2 before H10.
#[must_use]
pub fn order(label: &str) -> (String, u32, String) {
    let letters: String = label.chars().take_while(|c| !c.is_ascii_digit()).collect();
    let rest = label.get(letters.len()..).unwrap_or_default();
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let tail = rest.get(digits.len()..).unwrap_or_default().to_owned();
    (letters.to_ascii_uppercase(), digits.parse().unwrap_or(0), tail)
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{Point, kind};

    fn record(labels: &[&str]) -> Record {
        let points = labels
            .iter()
            .map(|l| Point { id: (*l).into(), label: (*l).to_owned(), note: String::new() })
            .collect();
        Record { points, ..Record::default() }
    }

    #[test]
    fn labels_count_on() {
        let next = |labels: &[&str], key: &str| next_label(&record(labels), kind(key).unwrap(), &[]);
        assert_eq!(next(&[], "house"), "H1");
        assert_eq!(next(&["H1", "H2", "T1"], "house"), "H3");
        assert_eq!(next(&["H1", "H4"], "house"), "H5", "no label is given out twice");
        assert_eq!(next(&[], "window"), "W1a");
        assert_eq!(next(&["W1a"], "window"), "W1b");
        assert_eq!(next(&["W1a", "W1b"], "window"), "W2a");
        assert_eq!(next_label(&record(&["H1"]), kind("house").unwrap(), &["h2".into()]), "H3");
    }

    #[test]
    fn a_series_goes_on_from_what_was_typed() {
        let after = |labels: &[&str], label| following(&record(labels), label);
        assert_eq!(after(&["B1"], "B1"), "B2");
        assert_eq!(after(&["W1a"], "W1a"), "W1b");
        assert_eq!(after(&["W1a", "W1b"], "W1b"), "W2a");
        assert_eq!(after(&["B1", "B2"], "B1"), "B3");
        assert_eq!(after(&["A"], "A"), "A1");
        assert_eq!(after(&["b2", "B3a", "B03"], "B1"), "B3", "only B2 is taken");
        assert_eq!(after(&["W1a", "W1b", "W2a", "w2B"], "W1a"), "W3a");
        let yard: Vec<String> = (1..=300).map(|n| format!("P{n}")).collect();
        assert_eq!(after(&yard.iter().map(String::as_str).collect::<Vec<_>>(), "P12"), "P301");
    }

    #[test]
    fn h2_comes_before_h10() {
        let mut labels = vec!["H10", "T1", "H2", "W1b", "W1a"];
        labels.sort_by_key(|l| order(l));
        assert_eq!(labels, ["H2", "H10", "T1", "W1a", "W1b"]);
    }

    #[test]
    fn leading_letters_are_large() {
        assert_eq!([tidy(" w1a "), tidy("h12"), tidy("A")], ["W1a", "H12", "A"]);
    }

    #[test]
    fn a_label_must_be_free_and_short() {
        assert!(objection(&record(&["H1"]), "h1").is_some());
        assert!(objection(&record(&[]), " ").is_some());
        assert!(objection(&record(&[]), "BACKCORNER").is_some());
        assert!(objection(&record(&[]), "H1").is_none());
    }
}
