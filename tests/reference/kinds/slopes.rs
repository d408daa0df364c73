//! Tapes that lay on a slope: what is used is level, what stands in the book is as read.

use super::*;
use swingtie_core::levels::lay;
use swingtie_core::record::{LevelReading, LevelWith, Recorded, Slope};

#[test]
fn a_sloping_tape_is_used_level() {
    let Measurement::Tie { from, to, reading, side, taped_to, .. } = tie("A", "B", 5.0) else { return };
    let how = How { slope: Some(Slope::RiseMetres(Length::from_metres(3.0))), ..How::default() };
    let sloping = Measurement::Tie { from, to, reading, side, taped_to, how };
    let result = adjust(&record(vec![sloping]));
    // The 3-4-5 triangle.
    stands(&result, "B", (4.0, 0.0), 1e-12);
    assert!((number(result.readings[0].observed) - 4.0).abs() < 1e-12);
}

/// Levelled ends say how a tape lay: the same triangle, whichever end is higher, and as read while a height is missing.
#[test]
fn a_tape_between_levelled_ends_is_used_level() {
    let sloping = |m: Measurement| match m {
        Measurement::Tie { from, to, reading, side, taped_to, .. } => {
            let how = How { slope: Some(Slope::Heights), ..How::default() };
            Measurement::Tie { from, to, reading, side, taped_to, how }
        }
        other => other,
    };
    let rod = |point: &str, read: f64, first: bool| {
        let what = LevelReading {
            setup: (!first).then(|| "A rod".into()),
            point: point.into(),
            reading: metres(read),
            overhead: false,
            stood: None,
            with: LevelWith::BuildersLevel,
            sd: None,
        };
        Recorded { entry: format!("{point} rod").as_str().into(), author: "a".into(), at_ms: 0, what }
    };
    for (rods, expected) in
        [(vec![("A", 3.5), ("B", 0.5)], 4.0), (vec![("A", 0.5), ("B", 3.5)], 4.0), (vec![("A", 1.0)], 5.0)]
    {
        let mut record = record(vec![sloping(tie("A", "B", 5.0))]);
        record.levels = rods.iter().map(|(point, read)| rod(point, *read, *point == "A")).collect();
        lay(&mut record);
        stands(&adjust(&record), "B", (expected, 0.0), 1e-12);
        assert_eq!(record.unlaid().count(), usize::from(rods.len() < 2));
    }
}
