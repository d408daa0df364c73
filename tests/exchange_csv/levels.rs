//! Level readings through a table and back.

use super::measurements::{a_point, free, reading};
use super::record;
use proptest::prelude::*;
use serde_json::{Value, json};
use swingtie_core::levels::setups;
use swingtie_core::record::*;
use swingtie_core::units::Length;

/// Set-ups of one to three rods each.
pub fn levels() -> impl Strategy<Value = (Vec<Recorded<LevelReading>>, Option<BenchMark>)> {
    let with = prop::sample::select(vec![
        LevelWith::BuildersLevel,
        LevelWith::HandLevel,
        LevelWith::StringLevel,
        LevelWith::WaterLevel,
        LevelWith::Tape,
    ]);
    let stood = prop::option::of(prop::sample::select(vec![Stood::Ground, Stood::Above]));
    let rod = (a_point(), reading(), any::<bool>(), stood, with, prop::option::of(0.001..0.1_f64));
    let all = prop::collection::vec(prop::collection::vec(rod, 1..4), 0..4).prop_map(|setups| {
        let mut all = Vec::new();
        for (s, rods) in setups.into_iter().enumerate() {
            for (r, (point, reading, overhead, stood, with, sd)) in rods.into_iter().enumerate() {
                let id = |r: usize| EntryId(format!("level-{s}-{r}"));
                let sd = sd.map(Length::from_metres);
                let setup = (r > 0).then(|| id(0));
                let what = LevelReading { setup, point, reading, overhead, stood, with, sd };
                all.push(Recorded { entry: id(r), author: "a".into(), at_ms: 0, what });
            }
        }
        all
    });
    let mark = (a_point(), -100.0..100.0_f64, free());
    let mark = mark.prop_map(|(point, height, source)| BenchMark {
        point,
        height: Length::from_metres(height),
        source,
    });
    (all, prop::option::of(mark))
}

/// The readings by the order of their set-ups: entries are called otherwise in another book.
pub fn compared(record: &Record) -> Value {
    let mut order: Vec<&EntryId> = Vec::new();
    let one = |r: &Recorded<LevelReading>| (r.what.setup.clone().unwrap_or(r.entry.clone()), r.what.clone());
    let all: Vec<(EntryId, LevelReading)> = record.levels.iter().map(one).collect();
    let mut rows = Vec::new();
    for (setup, what) in &all {
        if !order.contains(&setup) {
            order.push(setup);
        }
        let number = order.iter().position(|known| *known == setup);
        rows.push(json!([number, LevelReading { setup: None, ..what.clone() }]));
    }
    json!([rows, record.bench_mark])
}

/// As somebody would type them up from a level book.
#[test]
fn a_level_book_is_read_set_up_by_set_up() {
    let text = "kind,group,points,reading,how,more,note\n\
        bench_mark,,D1,100 ft,,,threshold as assumed\n\
        level,1,D1,4' 1\",hand level,,\n\
        level,1,H1,5' 5 1/4\",hand level,,\n\
        level,2,H1,4.95 ft,,,\n\
        level,2,SO,1' 2\",,overhead=yes; stood=above,\n";
    let record = record(text);
    let id = |label: &str| record.by_label(label).unwrap().id.clone();
    let setups = setups(&record);
    let sizes: Vec<_> = setups.iter().map(|s| (s.with, s.rods.len())).collect();
    assert_eq!(sizes, [(LevelWith::HandLevel, 2), (LevelWith::BuildersLevel, 2)]);
    let [_, second] = setups.as_slice() else { panic!("{setups:?}") };
    assert!((second.rods[1].below_line.inches() + 14.0).abs() < 1e-9, "overhead is above the line");
    let stood: Vec<_> = record.levels.iter().map(|r| r.what.stood).collect();
    assert_eq!(stood, [None, None, None, Some(Stood::Above)]);
    let mark = record.bench_mark.as_ref().unwrap();
    assert_eq!((&mark.point, mark.source.as_str()), (&id("D1"), "threshold as assumed"));
    assert!((mark.height.feet() - 100.0).abs() < 1e-9);
}

#[test]
fn what_a_level_row_lacks_is_named() {
    let found = super::errors(
        "kind,group,points,reading,how\nlevel,,D1,4,\nlevel,1,,4,\nlevel,1,D1,,\nlevel,1,D1,4,eye\n",
    );
    let expected = [
        ("column group", "without moving"),
        ("column points", "rod stood"),
        ("column reading", "showed"),
        ("column how", "builders_level"),
    ];
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for (error, (place, words)) in found.iter().zip(expected) {
        assert!(error.contains(place) && error.contains(words), "{error}");
    }
}
