//! Readings looked at again and kept as they were written, known places, and cells that cannot be read.

use super::{errors, plain, record};
use swingtie_core::exchange::csv;
use swingtie_core::record::{Anchor, Record};
use swingtie_core::units::Length;

/// What was kept in a book, and nothing else, comes back kept.
#[test]
fn readings_kept_as_written_are_carried_both_ways() {
    let text = "kind,from,to,points,reading,kept\n\
        tie,A,B,,40,yes\n\
        tie,A,C,,50,\n\
        run,A,B,P,10,\n\
        run,,,Q,20,Yes\n\
        in_line,,,A P Q B,,2\n";
    let record = record(text);
    let entry = |n: usize| record.measurements[n].entry.clone();
    let kept: Vec<_> = record.kept.iter().map(|(key, ())| key.clone()).collect();
    assert_eq!(kept, [(entry(0), 0), (entry(2), 1), (entry(3), 2)]);
    let written = csv::write(&record);
    let rows = |text: &str| text.lines().filter(|l| l.contains(",yes") || l.contains(",2")).count();
    assert!(written.lines().next().unwrap().contains(",kept"), "{written}");
    assert!(rows(&written) >= 3, "{written}");
    let back = super::record(&written);
    assert_eq!(plain(&back), plain(&record), "{written}");
    let told = errors("kind,from,to,reading,kept\ntie,A,B,40,maybe\n");
    assert!(told[0].starts_with("line 2, column kept:"), "{told:?}");
}

/// The anchor, then the second known place: each comes back as what it was.
#[test]
fn a_second_known_place_goes_through_the_table() {
    let table = "kind,points,more,note\nanchor,A,latitude=40.7; longitude=-74; accuracy=5 m,phone\n\
        second_anchor,B,latitude=40.7009; longitude=-73.9988; accuracy=3.5 m,plat\n";
    let first = record(table);
    let second = first.second_anchor().unwrap();
    assert_eq!((second.source.as_str(), second.accuracy), ("plat", Some(Length::from_metres(3.5))));
    let again = record(&csv::write(&first));
    let places = |record: &Record| record.anchor.clone().zip(record.second_anchor().cloned()).unwrap();
    assert_eq!(places(&again).1, Anchor { point: places(&again).1.point, ..second.clone() });
    assert_eq!(places(&again).0.latitude, 40.7);
}

#[test]
fn what_is_no_angle_is_said_with_its_cell() {
    let told = errors(
        "kind,from,to,points,reading,turn,how,more\nangle,B,C,A,95 ft,cw,,\nbearing,A,B,,N 95 E,,steel tape,\n\
         parallel,,,A B C,,,,\ntie,A,B,,3,,,taped_to=top; tape_colour=2\nangle,B,C,A,30,left,,\n",
    );
    let starts = [
        "line 2, column reading",
        "line 3, column reading",
        "line 3, column how",
        "line 4, column points",
        "line 5, column more",
        "line 5, column more",
        "line 6, column turn",
    ];
    assert_eq!(told.len(), starts.len(), "{told:#?}");
    for (told, start) in told.iter().zip(starts) {
        assert!(told.starts_with(start), "{told}, not {start}");
    }
}
