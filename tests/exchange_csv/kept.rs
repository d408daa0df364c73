//! Readings looked at again and kept as they were written.

use super::{errors, plain, record};
use swingtie_core::exchange::csv;

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
