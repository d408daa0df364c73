use super::super::steps::tests::{draft, reading, run, tie, yard};
use super::*;

fn typed(draft: &mut Draft, text: &str) {
    let units = UnitSystem::FeetInches;
    draft.set_typed(Slot::Length, Typed::from_reading(&reading(text), units));
}

#[test]
fn along_a_tape_readings_grow() {
    let record = yard(&["h1", "h2", "w1a"], vec![run("h1", "h2", &[("w1a", "8' 10\"")])]);
    let mut along = draft(Kind::Run, &[(Slot::First, "h1"), (Slot::Second, "h2"), (Slot::Target, "h2")]);
    let asked = |draft: &Draft| question(draft, &record, &InHand::default());
    typed(&mut along, "8' 9\"");
    assert!(asked(&along).unwrap().contains("Less than 8' 10\" at W1A"), "{:?}", asked(&along));
    typed(&mut along, "8' 10\"");
    assert!(asked(&along).unwrap().contains("again"));
    typed(&mut along, "8' 11\"");
    assert_eq!(asked(&along), None);
    let other_way = draft(Kind::Run, &[(Slot::First, "h2"), (Slot::Second, "h1")]);
    assert_eq!(asked(&other_way), None, "another tape");
}

#[test]
fn the_same_number_again_is_asked_about_unless_taken_on_purpose() {
    let record = yard(&["h1", "h2", "t1"], vec![tie("h1", "t1", "12' 3\"")]);
    let mut second = draft(Kind::Tie, &[(Slot::First, "h2"), (Slot::Target, "t1")]);
    typed(&mut second, "12' 3\"");
    assert!(question(&second, &record, &InHand::default()).is_some());
    second.deliberate = true;
    assert_eq!(question(&second, &record, &InHand::default()), None);
    assert_eq!(again(&second, &record, UnitSystem::FeetInches).unwrap().text(), "12' 3\"");
}

// Posts every 8 ft: 8, 16, then 24 (by hand).
#[test]
fn on_a_run_the_same_again_is_the_same_spacing() {
    let along = |record: &Record| {
        let draft = draft(Kind::Run, &[(Slot::First, "h1"), (Slot::Second, "h2"), (Slot::Target, "h2")]);
        again(&draft, record, UnitSystem::FeetInches).map(|typed| typed.text())
    };
    let read = |posts: &[(&str, &str)]| yard(&["h1", "h2", "p1", "p2"], vec![run("h1", "h2", posts)]);
    assert_eq!(along(&yard(&["h1", "h2"], Vec::new())), None);
    assert_eq!(along(&read(&[("p1", "8'")])).unwrap(), "16' 0\"");
    assert_eq!(along(&read(&[("p1", "8'"), ("p2", "16'")])).unwrap(), "24' 0\"");
    // The wall is 20 ft long: a third post stands on no wall.
    let posts = run("h1", "h2", &[("p1", "8'"), ("p2", "16'")]);
    let wall = yard(&["h1", "h2", "p1", "p2"], vec![tie("h1", "h2", "20'"), posts]);
    assert_eq!(along(&wall), None);
}

// 38 ft 4 in less 38 ft 3 1/2 in is half an inch.
#[test]
fn the_end_of_a_run_is_held_against_another_reading_of_the_wall() {
    let first = run("h1", "h2", &[("w1a", "8' 10\""), ("h2", "38' 3 1/2\"")]);
    let alone = yard(&["h1", "h2", "w1a"], vec![first.clone()]);
    assert_eq!(overall(&first, &alone).as_deref(), Some(words::OVERALL_ALONE));
    let back = run("h2", "h1", &[("h1", "38' 4\"")]);
    let both = yard(&["h1", "h2", "w1a"], vec![first, back.clone()]);
    let said = overall(&back, &both).unwrap();
    assert!(said.contains("1/2\"") && said.contains("38' 3 1/2\""), "{said}");
    let short = run("h2", "h1", &[("w1a", "29' 6\"")]);
    assert_eq!(overall(&short, &both), None, "not at the end yet");
}

// A foot and more is no matter of care on 38 ft; half an inch is.
#[test]
fn a_length_read_otherwise_before_is_asked_about() {
    let record = yard(&["h1", "h2", "w1a"], vec![run("h2", "h1", &[("w1a", "29' 6\""), ("h1", "38' 4\"")])]);
    let mut back = draft(Kind::Run, &[(Slot::First, "h1"), (Slot::Second, "h2"), (Slot::Target, "h2")]);
    typed(&mut back, "38' 3 1/2\"");
    assert_eq!(question(&back, &record, &InHand::default()), None);
    typed(&mut back, "37' 3 1/2\"");
    assert!(question(&back, &record, &InHand::default()).unwrap().contains("38' 4\""));
}
