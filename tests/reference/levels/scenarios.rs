//! The scenarios' level notes against their true heights. Nothing is computed from those.

use swingtie_core::book::{Book, Entry, fold};
use swingtie_core::levels::{LevelFinding, book_pages, heights, setups};
use swingtie_core::network::adjust;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{AuthorId, EntryId, Record, Stood, UnitSystem};
use swingtie_tests::scenario::{Options, scenario};

fn record(number: u32) -> Record {
    let yard = scenario(number);
    let mut book: Book = yard.book(&Options::default());
    for (id, said) in yard.levels() {
        let entry = Entry::new(EntryId(id), book.next_clock(), 0, AuthorId::from("surveyor"), said).unwrap();
        book.add(entry).unwrap();
    }
    let (back, errors) = Book::from_json_lines(&book.to_json_lines());
    assert_eq!((errors, &back), (vec![], &book));
    fold(&back).record
}

#[test]
fn every_height_is_within_three_standard_deviations_of_the_truth() {
    for (number, spots) in [(1, 30), (2, 35)] {
        let (record, truth) = (record(number), scenario(number).true_heights());
        let levels = heights(&record);
        assert!(levels.points.len() >= spots, "{} heights", levels.points.len());
        for (point, height) in levels.points.iter() {
            let off = (height.above - truth[point]).abs();
            let graduation = swingtie_core::units::Length::from_feet(0.001);
            assert!(
                off <= height.sd * 3.0 + graduation,
                "scenario {number}, {point}: {off:?} against {:?}",
                height.sd
            );
        }
        let suspects = levels.findings.iter().filter(|f| matches!(f, LevelFinding::Suspect { .. }));
        assert_eq!(suspects.count(), 0, "scenario {number}: {:?}", levels.findings);
        assert!(levels.redundancy >= 1);
    }
}

#[test]
fn loops_close_as_the_files_say() {
    for (number, closure) in [(1, 0.0209), (2, -0.09)] {
        let record = record(number);
        let (pages, closings) = book_pages(&setups(&record), record.bench_mark.as_ref());
        assert!(pages.iter().all(|page| page.sums.agree() && page.tied), "scenario {number}");
        let home = closings.iter().find(|c| Some(&c.point) == record.bench_mark.as_ref().map(|m| &m.point));
        let home = home.expect("the loop comes back to the threshold");
        assert!((home.by.feet() - closure).abs() < 1e-4, "scenario {number}: {}", home.by.feet());
        assert!(home.closes(), "{home:?}");
    }
}

#[test]
fn rods_in_decimal_feet_beside_tapes_in_inches_are_said() {
    let mixed = |number| {
        heights(&record(number)).findings.iter().any(|f| {
            let LevelFinding::MixedUnits { rods, tapes } = f else { return false };
            (*rods, *tapes) == (UnitSystem::DecimalFeet, UnitSystem::FeetInches)
        })
    };
    assert_eq!([mixed(1), mixed(2)], [false, true]);
}

/// Scenario 1's problem 1, "standing water", is at LP1: the files say so, and that the true ground is lowest there.
/// Heights come from the hand level's notes alone, places from the tape's.
#[test]
fn standing_water_lies_in_a_hollow_of_the_ground() {
    let record = record(1);
    let plan = Plan::build(&record, &adjust(&record));
    let ground = Ground::of(&record, &plan);
    let named = |label: &str| plan.points.iter().find(|p| p.label == label).expect("a point").at;
    let low = ground.low.iter().find(|low| low.at.distance(named("LP1")).metres() < 0.01);
    let low = low.unwrap_or_else(|| panic!("no hollow at LP1: {:?}", ground.low));
    assert!(low.depth().feet() > 0.1, "{low:?}");
    // Thresholds are no ground.
    let above: Vec<&str> =
        ground.spots.iter().filter(|s| s.stood == Stood::Above).map(|s| s.label.as_str()).collect();
    println!(
        "above {above:?} interval {:?} contours {} low {:?}",
        ground.interval,
        ground.contours.len(),
        ground.low
    );
    assert!(above.contains(&"D1a") && above.contains(&"D2a"), "{above:?}");
}
