//! What is in the hand, and what is measured to: both follow from what was said before.

use super::draft::{InHand, Meant};
use super::naming::order;
use swingtie_core::record::{AngleHow, CATALOGUE, Geometry, How, Measurement, Record, kind};

/// How the last length and the last angle were taken: the tape in the hand is still the same, though it
/// lies elsewhere.
#[must_use]
pub fn last_hand(record: &Record) -> InHand {
    let latest = || record.measurements.iter().rev().map(|m| &m.what);
    let how = latest().find_map(how_of).map(|how| How { slope: None, ..how.clone() });
    let sight = latest().find_map(sight_of).copied();
    InHand { how: how.unwrap_or_default(), sight: sight.unwrap_or_default() }
}

/// How this measurement was taken.
#[must_use]
pub fn hand_of(what: &Measurement) -> InHand {
    let (how, sight) = (how_of(what).cloned(), sight_of(what).copied());
    InHand { how: how.unwrap_or_default(), sight: sight.unwrap_or_default() }
}

fn sight_of(what: &Measurement) -> Option<&AngleHow> {
    match what {
        Measurement::Angle { how, .. } | Measurement::Bearing { how, .. } => Some(how),
        _ => None,
    }
}

fn how_of(what: &Measurement) -> Option<&How> {
    match what {
        Measurement::Tie { how, .. }
        | Measurement::Run { how, .. }
        | Measurement::Offsets { how, .. }
        | Measurement::Walk { how, .. }
        | Measurement::Girth { how, .. } => Some(how),
        _ => None,
    }
}

/// Whether this is a round thing, such as a trunk or a post, which a tape reaches at its near side, its
/// middle or its far side: by its girth or diameter, by what stands there, by its label's letters, or
/// because a side of it was taped to before.
#[must_use]
pub fn is_round(record: &Record, meant: Option<&Meant>) -> bool {
    let round = |kind: &swingtie_core::record::Kind| {
        kind.geometry == Geometry::Circle || matches!(kind.key, "post" | "pole")
    };
    let Some(meant) = meant else { return false };
    let (letters, ..) = order(meant.label(record));
    let lettered = CATALOGUE.iter().any(|kind| round(kind) && kind.prefix.eq_ignore_ascii_case(&letters));
    let Some(id) = meant.known().filter(|_| !lettered) else { return lettered };
    let stands =
        |f: &swingtie_core::record::Feature| kind(&f.kind).is_some_and(round) && f.points.first() == Some(id);
    let sided = |what: &Measurement| match what {
        Measurement::Tie { to, taped_to, .. } => to == id && !taped_to.is_middle(),
        _ => false,
    };
    record.diameters().contains_key(id)
        || record.features.iter().any(|f| stands(&f.what))
        || record.measurements.iter().any(|m| sided(&m.what))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{
        AngleInstrument, AngleReading, Feature, Instrument, NorthKind, Point, Reading, Recorded, Slope,
        UnitSystem,
    };
    use swingtie_core::units::{BareUnit, Length};

    fn recorded<T>(what: T) -> Recorded<T> {
        Recorded { entry: "e".into(), author: "me".into(), at_ms: 0, what }
    }

    fn girth(how: How) -> Measurement {
        let reading = Reading::read("4'", BareUnit::from(UnitSystem::FeetInches)).unwrap();
        Measurement::Girth { point: "k".into(), reading, how }
    }

    #[test]
    fn the_tape_stays_in_the_hand_and_its_slope_does_not() {
        let slope = Some(Slope::RiseMetres(Length::from_feet(2.0)));
        let how = How { instrument: Instrument::FibreglassTape, slope, ..How::default() };
        let sight = AngleHow { instrument: AngleInstrument::Phone, sd: None };
        let bearing = Measurement::Bearing {
            from: "h".into(),
            to: "k".into(),
            reading: AngleReading::bearing("120").unwrap(),
            north: NorthKind::Magnetic,
            how: sight,
        };
        let measurements = vec![recorded(bearing), recorded(girth(how.clone()))];
        let hand = last_hand(&Record { measurements, ..Record::default() });
        assert_eq!(hand, InHand { how: How { slope: None, ..how }, sight });
        assert_eq!(last_hand(&Record::default()), InHand::default());
    }

    #[test]
    fn trunks_and_posts_are_round_and_corners_are_not() {
        let point = |id: &str, label: &str| Point { id: id.into(), label: label.into(), note: String::new() };
        let points = vec![point("t", "T1"), point("h", "H1"), point("k", "K1"), point("x", "X1")];
        let mut record = Record { points, ..Record::default() };
        let known = |id: &str| Meant::Known(id.into());
        let round = |record: &Record, id: &str| is_round(record, Some(&known(id)));
        assert!(round(&record, "t") && !round(&record, "h") && !round(&record, "k"));
        assert!(is_round(&record, Some(&Meant::New { label: "P3".into(), at: None })));
        record.measurements.push(recorded(girth(How::default())));
        assert!(round(&record, "k"), "its girth was taped");
        record.features.push(recorded(Feature {
            kind: "stump".into(),
            points: vec!["x".into()],
            name: String::new(),
            fate: None,
            attributes: <_>::default(),
            curved: false,
            told: false,
            note: String::new(),
        }));
        assert!(round(&record, "x"), "a stump stands there");
    }
}
