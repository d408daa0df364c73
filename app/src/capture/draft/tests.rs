use super::*;
use crate::keypad::Key;
use swingtie_core::record::UnitSystem;

fn known(id: &str) -> Meant {
    Meant::Known(PointId::from(id))
}

fn typed(feet: u8) -> Typed {
    let mut typed = Typed::new(UnitSystem::FeetInches);
    typed.press(Key::Digit(feet)).unwrap();
    typed.press(Key::Feet).unwrap();
    typed
}

#[test]
fn a_tie_asks_two_points_then_the_number() {
    let mut draft = Draft::new(Kind::Tie);
    assert_eq!(draft.focus, Slot::First);
    draft.put_point(known("h3"));
    assert_eq!(draft.focus, Slot::Target);
    draft.put_point(known("t1"));
    assert_eq!((draft.focus, draft.wanting()), (Slot::Length, Some(Slot::Length)));
    draft.set_typed(Slot::Length, typed(3));
    assert_eq!((draft.focus, draft.wanting()), (Slot::Length, None));
    draft.next_row(Some(PointId::from("t1")));
    assert_eq!(draft.focus, Slot::First, "the next tape to the same point asks from where");
    assert_eq!(draft.known(Slot::Target), Some(&PointId::from("t1")));
}

#[test]
fn a_tap_on_the_drawing_while_the_number_is_asked_changes_the_point() {
    let mut draft = Draft::new(Kind::Tie);
    draft.put_point(known("h3"));
    draft.put_point(known("t1"));
    draft.put_point(known("t2"));
    assert_eq!(draft.known(Slot::Target), Some(&PointId::from("t2")));
    assert_eq!(draft.focus, Slot::Length);
}

#[test]
fn a_run_keeps_its_zero_and_direction() {
    let mut draft = Draft::new(Kind::Run);
    for id in ["h1", "h2", "w1"] {
        draft.put_point(known(id));
    }
    draft.set_typed(Slot::Length, typed(4));
    assert_eq!(draft.wanting(), None);
    draft.next_row(None);
    assert_eq!(draft.focus, Slot::Target);
    assert_eq!(draft.known(Slot::Second), Some(&PointId::from("h2")));
    draft.put_point(known("h2"));
    assert!(!draft.same_twice(), "the far corner is read on the same tape");
}

#[test]
fn a_walk_asks_the_turn_from_the_second_wall_on_and_lets_a_length_out() {
    let mut draft = Draft::new(Kind::Walk);
    draft.put_point(known("h1"));
    draft.put_point(known("h2"));
    assert_eq!(draft.wanting(), None, "the length may come from a run");
    draft.next_row(None);
    assert_eq!(draft.focus, Slot::Turn);
    draft.put(Choice::Turn(Turn::Left));
    assert_eq!(draft.focus, Slot::Target);
}

#[test]
fn ordinates_ask_interval_and_side_once() {
    let mut draft = Draft::new(Kind::Ordinates);
    draft.put_point(known("a"));
    draft.put_point(known("b"));
    assert_eq!(draft.focus, Slot::Interval);
    draft.set_typed(Slot::Interval, typed(3));
    draft.advance();
    assert_eq!(draft.focus, Slot::Side);
    draft.put_side(Side::Right);
    draft.put_point(Meant::New { label: "B1".into(), at: None });
    draft.set_typed(Slot::Length, typed(2));
    assert_eq!(draft.wanting(), None);
    draft.next_row(None);
    assert_eq!((draft.focus, draft.ordinate, draft.side), (Slot::Target, 2, Some(Side::Right)));
}

#[test]
fn in_line_needs_three_and_a_second_tap_takes_a_point_out() {
    let mut draft = Draft::new(Kind::InLine);
    for id in ["a", "b", "c", "b"] {
        draft.put_point(known(id));
    }
    assert_eq!(draft.many.len(), 2);
    assert_eq!(draft.wanting(), Some(Slot::Many));
}

#[test]
fn a_tape_from_a_point_to_itself_is_noticed() {
    let mut draft = Draft::new(Kind::Tie);
    draft.put_point(known("a"));
    draft.put_point(known("a"));
    assert!(draft.same_twice());
}
