//! What the invented yards' readings show that is worth a look. Their files say what is wrong with them: the first has a
//! hollow at LP1 that a downspout feeds, the second a stump on a buried line.

use swingtie_core::book::{Book, fold};
use swingtie_core::checks::{Concern, Topic, Weight, concerns, lines};
use swingtie_core::network::adjust;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{EntryId, Record};
use swingtie_tests::scenario::{Options, Scenario, Sketch, scenario};

fn book(yard: &Scenario) -> Book {
    yard.levelled(&Options { sketch: Sketch::Recorded, ..Options::default() })
}

fn seen(record: &Record) -> Vec<Concern> {
    let plan = Plan::build(record, &adjust(record));
    concerns(record, &plan, &Ground::of(record, &plan))
}

fn says<'a>(found: &'a [Concern], words: &str) -> &'a Concern {
    let all: Vec<&str> = found.iter().map(|c| c.what.as_str()).collect();
    found.iter().find(|c| c.what.contains(words)).unwrap_or_else(|| panic!("{words}: {all:#?}"))
}

/// "Standing water 2 days after rain; downspout DS3 empties toward it", says the file. Its true heights put the bottom
/// at 97.341 ft and the lowest way over its rim some five inches higher.
#[test]
fn the_first_yards_wet_spot_lies_in_a_hollow_that_a_downspout_feeds() {
    let record = fold(&book(&scenario(1))).record;
    let found = seen(&record);
    let hollow = says(&found, "in a hollow round LP1");
    assert!(hollow.what.contains("problem 1") && hollow.what.contains("DS3"), "{}", hollow.what);
    assert!(
        hollow.about.contains(&EntryId::from("problem-1"))
            && hollow.about.contains(&EntryId::from("feature-DS3"))
    );
    let plan = Plan::build(&record, &adjust(&record));
    // By the file's true heights 97.341 at the bottom and 97.77 at FR3; a hand level reads to a quarter of an inch.
    let low = Ground::of(&record, &plan).low;
    assert_eq!(low.len(), 1);
    assert!(hollow.what.contains("up to about 5\" could stand"), "0.429 ft are 5.1 in: {}", hollow.what);
    assert!((low[0].depth().feet() - (97.77 - 97.341)).abs() < 0.06, "{low:?}");
    let list = lines(&record, &adjust(&record), &plan);
    let line = list.iter().find(|line| line.what == hollow.what).unwrap();
    assert_eq!(line.weight, Weight::Note);
}

/// The file puts the stump, 24 in across, at (-8, 69.5) and the orange marks at (-30, 71) and (15, 72.5): by hand 1.23 ft
/// of ground are between them, where the zone is 2 ft.
#[test]
fn the_second_yards_stump_stands_on_a_buried_line() {
    let found = seen(&fold(&book(&scenario(2))).record);
    let stump = says(&found, "stump ST1");
    assert_eq!(stump.topic, Topic::Digging);
    assert!(stump.how.starts_with("Have buried lines marked"));
    assert_eq!(
        stump.numbers[0],
        ("distance", "1' 1 3/4\"".to_owned()),
        "readings are rounded: within 2 in of 1' 2 3/4\""
    );
}

/// No words of a check may sound as if something were judged safe.
#[test]
fn no_concern_says_that_something_is_safe() {
    let all: Vec<Concern> =
        [1, 2].into_iter().flat_map(|n| seen(&fold(&book(&scenario(n))).record)).collect();
    assert!(all.len() > 12, "{}", all.len());
    for c in all {
        let words = format!("{} {} {} {}", c.what, c.how, c.caution, c.source).to_lowercase();
        for word in ["safe", "passes", "approved", "compliant", "meets code", "guarantee"] {
            assert!(!words.contains(word), "{word}: {words}");
        }
        assert!(
            !c.caution.is_empty() && !c.source.is_empty() && !c.key.is_empty() && !c.about.is_empty(),
            "{c:?}"
        );
        assert!(!c.used.is_empty() || !c.missing.is_empty(), "{c:?}");
        assert!(!c.what.ends_with('.') && c.how.ends_with('.') && c.caution.ends_with('.'), "{c:?}");
    }
}
