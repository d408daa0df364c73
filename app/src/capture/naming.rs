//! Labels for new points: the next free one of a kind.

use swingtie_core::record::{Kind, Record};

/// Kinds whose points come in pairs on a wall, one each side of the opening: D1a, D1b.
const PAIRED: [&str; 3] = ["door", "window", "gate"];

/// The next free label of this kind: H1, H2 …; D1a, D1b, D2a … for openings. `taken` holds labels
/// already promised to points not yet saved.
#[must_use]
pub fn next_label(record: &Record, kind: &Kind, taken: &[String]) -> String {
    let ends: &[&str] = if PAIRED.contains(&kind.key) { &["a", "b"] } else { &[""] };
    let label = |at: usize| {
        let end = ends.get(at % ends.len()).copied().unwrap_or_default();
        format!("{}{}{end}", kind.prefix, at / ends.len() + 1)
    };
    // Which label of the series one is, if it is one.
    let place = |used: &str| {
        let (head, tail) = used.split_at_checked(kind.prefix.len())?;
        let digits = tail.bytes().take_while(u8::is_ascii_digit).count();
        let number = tail.get(..digits)?.parse::<usize>().ok()?.checked_sub(1)?;
        let end =
            ends.iter().position(|end| tail.get(digits..).is_some_and(|t| t.eq_ignore_ascii_case(end)))?;
        let at = number.checked_mul(ends.len())?.checked_add(end)?;
        (head.eq_ignore_ascii_case(kind.prefix) && !tail.starts_with('0')).then_some(at)
    };
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
    let (mut number, mut tail) = (number, tail);
    for _ in 0..10_000 {
        (number, tail) = match tail.as_str() {
            "a" => (number, "b".to_owned()),
            "b" => (number.saturating_add(1), "a".to_owned()),
            _ => (number.saturating_add(1), String::new()),
        };
        let next = format!("{letters}{number}{tail}");
        if record.by_label(&next).is_none() {
            return next;
        }
    }
    label.to_owned()
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
