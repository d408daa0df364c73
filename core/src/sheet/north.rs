//! What a drawing says of north: which, whence, how good, and how far a compass points beside it.

use crate::language::tr;
use crate::place::declination;
use crate::plan::{NorthArrow, Plan};
use crate::record::{NorthKind, Record};
use crate::units::format::format_number;
use crate::units::{Angle, SURE, day};

/// What a compass in the hand is good to (common practice, no source).
const HAND: &str = "A hand compass is good to about ±2° at best, worse beside metal or a house";

/// A heading, and lines below it: whence north comes with what it is good to, and the declination, where it is stated or
/// place and day are known. Where a compass gave north, its own doubt stands beside the model's.
pub(crate) fn said(record: &Record, plan: &Plan) -> (&'static str, Vec<String>) {
    let Some(north) = &plan.north else {
        return ("North not recorded", vec![say!("up is not north")]);
    };
    let title = match north.kind {
        NorthKind::True => "True north",
        NorthKind::Magnetic => "Magnetic north",
    };
    let mut lines = vec![whence(north)];
    lines.extend(beside(record, north.kind));
    // A true bearing that was reckoned from a compass's says so in its source.
    if north.kind == NorthKind::Magnetic || north.source.starts_with("compass") {
        lines.push(tr(HAND).to_owned());
    }
    (title, lines)
}

/// Whence north comes, cut where somebody wrote a story.
fn whence(north: &NorthArrow) -> String {
    const LETTERS: usize = 120;
    let source = north.source.trim();
    let mut source = tr(if source.is_empty() { "source not said" } else { source }).to_owned();
    if let Some((end, _)) = source.char_indices().nth(LETTERS) {
        source.truncate(end);
        source.push('…');
    }
    match north.sd.map(|sd| SURE * sd.degrees()).filter(|reach| reach.is_finite()) {
        Some(reach) => say!("{source}, ±{}° (95 %)", format_number(reach.max(0.1), 1)),
        None => source,
    }
}

/// How far apart true and magnetic north are. The model's own doubt is told only where north hangs on it.
fn beside(record: &Record, kind: NorthKind) -> Option<String> {
    let (anchor, date) = (record.anchor.as_ref(), &record.site.date);
    let model = anchor.and_then(|at| declination(at.latitude, at.longitude, date).ok());
    let stated = record.north_that_counts().and_then(|north| north.declination);
    let (east, of) = match (stated.filter(|east| east.radians().is_finite()), model) {
        (Some(east), _) => (east, say!("as stated")),
        (None, Some(model)) => {
            let reach = match kind {
                NorthKind::True => String::new(),
                NorthKind::Magnetic => format!(" ±{}°", format_number(SURE * model.sd.degrees(), 1)),
            };
            (model.east, say!("World Magnetic Model{reach}, {}", day(date)))
        }
        (None, None) => return None,
    };
    let way = |east_of: bool| if east_of { "east" } else { "west" };
    let size = format_number(Angle::degrees(east).abs(), 1);
    let is_east = east.radians() >= 0.0;
    Some(match kind {
        NorthKind::True => say!("A compass points {size}° {} of it ({of})", way(is_east)),
        NorthKind::Magnetic => say!("True north lies {size}° {} of it ({of})", way(!is_east)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{Anchor, North};

    fn site(kind: NorthKind, sd: Option<f64>) -> (Record, Plan) {
        let (direction, sd) = (Angle::RIGHT, sd.map(Angle::from_degrees));
        let arrow = NorthArrow { direction, kind, source: "two known points".to_owned(), sd };
        (Record::default(), Plan { north: Some(arrow), ..Plan::default() })
    }

    /// Denver in the middle of 2026: 7.517° east ± 0.367° (pygeomag 1.1.0, another implementation of the model).
    #[test]
    fn north_is_said_with_its_source_and_its_doubt_and_the_declination_with_its_day() {
        let (mut record, plan) = site(NorthKind::True, Some(1.2));
        let line = "two known points, ±2.4° (95 %)".to_owned();
        assert_eq!(said(&record, &plan), ("True north", vec![line.clone()]));
        let (latitude, longitude) = (39.739_2, -104.990_3);
        let anchor = Anchor { point: "A".into(), latitude, longitude, source: String::new(), accuracy: None };
        record.anchor = Some(anchor);
        assert_eq!(said(&record, &plan).1.len(), 1, "no day");
        record.site.date = "2026-07-02".to_owned();
        let compass = "A compass points 7.5° east of it (World Magnetic Model, 2 July 2026)".to_owned();
        assert_eq!(said(&record, &plan), ("True north", vec![line, compass]));
        let (_, plan) = site(NorthKind::Magnetic, None);
        let lines = |record: &Record| said(record, &plan).1;
        assert_eq!(
            lines(&record),
            [
                "two known points",
                "True north lies 7.5° west of it (World Magnetic Model ±0.7°, 2 July 2026)",
                HAND
            ]
        );
        // A compass's bearing with its declination is true north, and no better than the compass.
        let (_, mut turned) = site(NorthKind::True, None);
        if let Some(north) = &mut turned.north {
            north.source = format!("compass 85.0°, declination 5.0° east{}", "!".repeat(500));
        }
        let turned = said(&record, &turned).1;
        assert_eq!(turned.last().map(String::as_str), Some(HAND));
        assert!(turned[0].chars().count() < 150, "{turned:?}");
        // Stated in the book it counts for more.
        let declination = Some(Angle::from_degrees(-9.0));
        let (from, to, source) = ("A".into(), "B".into(), String::new());
        let kind = NorthKind::Magnetic;
        record.north = Some(North { from, to, bearing: Angle::ZERO, kind, declination, source, sd: None });
        assert_eq!(lines(&record)[1], "True north lies 9.0° east of it (as stated)");
    }
}
