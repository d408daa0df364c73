use super::*;
use swingtie_core::levels::{Closing, Levelled, Slope, Sums, heights};
use swingtie_core::record::{LevelReading, LevelWith, Reading, Recorded};
use swingtie_core::units::Length;

const FEET: UnitSystem = UnitSystem::FeetInches;

/// By hand: 12 in are a foot, 0.001 ft is the finest a level rod in feet is estimated to.
#[test]
fn the_level_book_writes_thousandths_and_rounds_half_up() {
    assert_eq!(figure(Length::from_feet(4.125), FEET), "4.125");
    assert_eq!(figure(Length::from_inches(31.5), FEET), "2.625");
    assert_eq!(height(Length::from_feet(104.125), FEET), "104.13 ft");
    assert_eq!(height(Length::from_metres(30.0125), UnitSystem::Metres), "30.013 m");
}

#[test]
fn a_height_in_doubt_has_no_spread() {
    let sd = Length::from_feet(0.01);
    let mut one = Height { above: Length::from_feet(98.45), sd, checked: true, in_doubt: true };
    assert_eq!(height_told(&one, FEET), "98.45 ft, in doubt");
    one.in_doubt = false;
    assert_eq!(height_told(&one, FEET), "98.45 ft ± 0.02");
}

#[test]
fn sums_that_agree_prove_no_reading_and_closings_are_named_with_their_limit() {
    assert!(
        sums(&Sums::default(), FEET).ends_with("The arithmetic agrees; this does not check the readings.")
    );
    let feet = Length::from_feet;
    let mut back =
        Closing { point: "A1".into(), entry: "e".into(), by: feet(-0.03), allowed: feet(0.04), setups: 2 };
    let mut record = Record::default();
    record.points.push(swingtie_core::record::Point {
        id: "A1".into(),
        label: "A1".into(),
        note: String::new(),
    });
    assert_eq!(closing_error(&back, &record), "Closing error −0.030 ft on A1, limit 0.040 ft.");
    back.by = Length::from_inches(0.375);
    back.allowed = Length::from_inches(0.5);
    assert_eq!(back_on(&back, &record), "Back on A1: 3/8\" off (up to 1/2\" is fine)");
}

/// A point read twice in one set-up, 1 1/8 in apart.
fn twice() -> Record {
    let mut record = Record::default();
    for (n, (point, text)) in
        [("A1", "4'"), ("A2", "5' 9 3/8\""), ("A2", "5' 8 1/4\"")].into_iter().enumerate()
    {
        let what = LevelReading {
            setup: (n > 0).then(|| "0".into()),
            point: point.into(),
            reading: Reading::read(text, FEET.into()).unwrap(),
            overhead: false,
            stood: None,
            with: LevelWith::BuildersLevel,
            sd: None,
        };
        record.levels.push(Recorded {
            entry: n.to_string().as_str().into(),
            author: "a".into(),
            at_ms: 0,
            what,
        });
    }
    for id in ["A1", "A2"] {
        let point = swingtie_core::record::Point { id: id.into(), label: id.to_owned(), note: String::new() };
        record.points.push(point);
    }
    record
}

#[test]
fn of_two_readings_neither_is_blamed() {
    let record = twice();
    let levels = heights(&record);
    let said: Vec<String> = levels.findings.iter().map(|f| finding(f, &record)).collect();
    let third = "Two readings of A2 differ by 1 1/8\": one of them is wrong. Read it a third time.";
    assert!(said.iter().any(|said| said == third), "{said:?}");
    for entry in ["1", "2"] {
        let (sign, words) = verdict(&entry.into(), &levels, &record).unwrap();
        assert_eq!(sign, "▲");
        assert!(words.contains("in doubt") && words.ends_with("this or another reading is wrong"), "{words}");
    }
}

#[test]
fn a_reading_beyond_its_own_limit_does_not_agree() {
    let record = twice();
    let mut levels = heights(&record);
    levels.doubted.clear();
    levels.findings.clear();
    assert!(levels.readings.iter().filter(|r| r.point == "A2".into()).all(Levelled::strays));
    assert_eq!(verdict(&"1".into(), &levels, &record).unwrap().0, "…");
}

/// By hand: 5.25 ft are 5 ft 3 in.
#[test]
fn the_number_typed_is_the_example() {
    let asked = other_units("5.25 ft", Length::from_feet(5.25), FEET);
    assert_eq!(asked, "5.25 ft is feet and tenths, that is 5' 3\". Is this rod in tenths?");
}

/// By hand: a fall of 1.2 in in 100 ft is 0.1 %; spreads of 0.12 in and of 0.6 in at 95 %.
#[test]
fn figures_of_a_slope_are_as_fine_as_they_are_sure() {
    let (rise, run) = (Length::from_inches(-1.2), Length::from_feet(100.03));
    let told = |rise_sd, run_sd, doubt| {
        let (rise_sd, run_sd) = (Length::from_inches(rise_sd), Length::from_inches(run_sd));
        slope_figures(Slope::of(rise, run).unwrap(), [rise, rise_sd], [run, run_sd], doubt, FEET)
    };
    let sure = told(0.06, 0.3, false);
    assert_eq!(sure[0].0, "Falls by");
    assert!(sure[1].1.starts_with("100' 0 1/2\" ±"), "{sure:?}");
    assert!(sure[2].1.starts_with("0.100 ± 0.010"), "{sure:?}");
    let unsure = told(1.0, 3.0, false);
    assert!(unsure[1].1.starts_with("100' 0\" ±") && unsure[2].1.starts_with("0.10 ± 0.16"), "{unsure:?}");
    assert_eq!(told(0.06, 0.3, true)[2].1, "0.100, in doubt");
}
