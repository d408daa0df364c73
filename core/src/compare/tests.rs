//! By hand-built books, whose differences are worked out by hand, and by random ones.

use super::*;
use crate::network::PointState;
use crate::record::{
    Asks, At, Feature, How, Leg, Measurement, Note, Point, Reading, Side, SideOf, Site, Statement, TapedTo,
    Turn,
};
use crate::units::{Length, UnitSystem};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// A book being written.
#[derive(Clone, Default)]
struct Writing(Book);

impl Writing {
    fn say(&mut self, id: &str, said: Statement) -> &mut Self {
        let entry = Entry::new(id.into(), self.0.next_clock(), 0, "a".into(), said).unwrap();
        self.0.add(entry).unwrap();
        self
    }

    fn point(&mut self, id: &str, label: &str) -> &mut Self {
        let point = Point { id: label.into(), label: label.to_owned(), note: String::new() };
        self.say(id, Statement::Point(point))
    }

    fn strike(&mut self, id: &str, entry: &str) -> &mut Self {
        self.say(id, Statement::Strike { entry: entry.into(), why: String::new() })
    }

    fn correct(&mut self, id: &str, entry: &str, now: Statement) -> &mut Self {
        self.say(id, Statement::Correct { entry: entry.into(), now: Box::new(now) })
    }

    /// A house of 40 by 30 feet, walked round, and a tree on two ties; 31' 3" from H1 by 3-4-5.
    fn yard() -> Self {
        let mut yard = Self::default();
        for label in ["H1", "H2", "H3", "H4", "T1"] {
            yard.point(&format!("p{label}"), label);
        }
        let leg = |(turn, to, length): (Option<Turn>, &str, &str)| Leg {
            turn,
            to: to.into(),
            length: Some(read(length)),
        };
        let left = Some(Turn::Left);
        let legs = [(None, "H2", "40'"), (left, "H3", "30'"), (left, "H4", "40'"), (left, "H1", "30'")];
        let walk =
            Measurement::Walk { start: "H1".into(), legs: legs.map(leg).to_vec(), how: How::default() };
        yard.say("walk", Statement::Measure(walk));
        yard.say("t1", tie("H1", "T1", "25'")).say("t2", tie("H2", "T1", "25'"));
        yard
    }

    fn state(&self) -> Worked {
        Worked::of(self.0.clone())
    }
}

fn read(text: &str) -> Reading {
    Reading::read(text, UnitSystem::FeetInches.into()).unwrap()
}

/// T1 lies in front of the house, to the right of the line from H1 to H2.
fn tie(from: &str, to: &str, text: &str) -> Statement {
    let side = (to == "T1").then(|| SideOf { from: "H1".into(), to: "H2".into(), side: Side::Right });
    let (taped_to, how) = (TapedTo::default(), How::default());
    Statement::Measure(Measurement::Tie {
        from: from.into(),
        to: to.into(),
        reading: read(text),
        side,
        taped_to,
        how,
    })
}

fn thing(name: &str) -> Statement {
    Statement::Feature(Feature {
        kind: "tree".to_owned(),
        points: vec!["T1".into()],
        name: name.to_owned(),
        fate: None,
        attributes: <_>::default(),
        curved: false,
        told: false,
        note: String::new(),
    })
}

fn note(text: &str, asks: bool) -> Statement {
    let asks = asks.then(|| Asks { kind: "words".to_owned(), of: None });
    Statement::Note(Note { text: text.to_owned(), at: At::Site, asks, ..Note::default() }.into())
}

fn told(before: &Writing, now: &Writing) -> Changes {
    compare(before.state().state(), now.state().state())
}

fn deeds(changes: &Changes) -> Vec<(&str, &Deed, bool)> {
    changes.entries.iter().map(|told| (told.entry.as_str(), &told.deed, told.struck)).collect()
}

#[test]
fn the_same_book_twice_has_no_differences() {
    let yard = Writing::yard();
    assert!(told(&yard, &yard).is_empty());
    let mut more = yard.clone();
    more.say("n", note("gate sticks", false));
    assert!(!told(&yard, &more).is_empty());
}

#[test]
fn a_correction_is_told_with_the_words_before_and_after() {
    let (before, mut now) = (Writing::yard(), Writing::yard());
    now.correct("c1", "t1", tie("H1", "T1", "24'")).correct("c2", "t1", tie("H1", "T1", "26'"));
    let changes = told(&before, &now);
    let corrects = Deed::Corrects { entry: "t1".into() };
    assert_eq!(deeds(&changes), [("c1", &corrects, false), ("c2", &corrects, false)]);
    let became = Became::Corrected { before: Box::new(tie("H1", "T1", "25'")), now: tie("H1", "T1", "26'") };
    assert_eq!(changes.said, [Difference { entry: "t1".into(), sort: Sort::Reading, became }]);
    // Corrected back to what it was is no difference, though two entries are new.
    now.correct("c3", "t1", tie("H1", "T1", "25'"));
    let changes = told(&before, &now);
    assert_eq!((changes.entries.len(), changes.said.len(), changes.points.moved.len()), (3, 0, 0));
}

#[test]
fn struck_brought_back_and_written_in_between() {
    let (mut before, mut now) = (Writing::yard(), Writing::yard());
    for book in [&mut before, &mut now] {
        book.say("thing", thing("maple")).say("other", thing("oak")).strike("s1", "other");
    }
    // One is struck, one brought back, one written and struck since.
    now.strike("s2", "thing").strike("s3", "s1").say("n1", note("never mind", false)).strike("s4", "n1");
    let changes = told(&before, &now);
    let (strikes, back) =
        (Deed::Strikes { first: "thing".into() }, Deed::BringsBack { first: "other".into() });
    let mind = Deed::Strikes { first: "n1".into() };
    let all =
        [("s2", &strikes, false), ("s3", &back, false), ("n1", &Deed::Says, true), ("s4", &mind, false)];
    assert_eq!(deeds(&changes), all);
    let said: Vec<_> = changes.said.iter().map(|said| (said.sort, said.became.clone())).collect();
    let became = [Became::Struck(thing("maple")), Became::BroughtBack(thing("oak"))];
    assert_eq!(said, became.map(|became| (Sort::Thing, became)));
}

#[test]
fn each_sort_is_told_as_what_it_is() {
    let (before, mut now) = (Writing::yard(), Writing::yard());
    now.say("a", thing("maple")).say("b", note("wet here", false)).say("c", note("what is behind?", true));
    now.say("k", Statement::Keep { entry: "t1".into(), part: 0, why: String::new() });
    let changes = told(&before, &now);
    let sorts: Vec<_> = changes.said.iter().map(|said| said.sort).collect();
    assert_eq!(sorts, [Sort::Thing, Sort::Note, Sort::Question]);
    assert_eq!(changes.kept, [Kept { entry: "t1".into(), part: 0, is_kept: true }]);
    let line = r#"{"id":"x","clock":99,"at_ms":0,"author":"b","say":{"smell":3}}"#;
    now.0.add(Entry::from_line(line).unwrap()).unwrap();
    let changes = told(&before, &now);
    assert_eq!(deeds(&changes).last(), Some(&("x", &Deed::NotUnderstood, false)));
}

#[test]
fn points_come_go_and_are_called_otherwise() {
    let (mut before, mut now) = (Writing::yard(), Writing::yard());
    before.point("pX", "X");
    now.point("pX", "X").strike("s", "pX").point("pN", "N");
    now.say("r", Statement::Point(Point { id: "T1".into(), label: "Maple".to_owned(), note: String::new() }));
    let points = told(&before, &now).points;
    let labels = |points: &[Point]| points.iter().map(|point| point.label.clone()).collect::<Vec<_>>();
    assert_eq!((labels(&points.new), labels(&points.gone)), (vec!["N".to_owned()], vec!["X".to_owned()]));
    let renamed: Vec<_> =
        points.renamed.iter().map(|point| (point.before.label.as_str(), point.now.label.as_str())).collect();
    assert_eq!(renamed, [("T1", "Maple")]);
}

// By hand: T1 stands where two tapes of 25' from H1 and H2, 40' apart, meet: 20' along, √(25² − 20²) = 15' in front. With
// both corrected to 29' it is 20' along and 21' in front: 6' further.
#[test]
fn a_point_moves_as_its_corrected_tapes_say() {
    let (before, mut now) = (Writing::yard(), Writing::yard());
    now.correct("c1", "t1", tie("H1", "T1", "29'")).correct("c2", "t2", tie("H2", "T1", "29'"));
    let points = told(&before, &now).points;
    let [moved] = points.moved.as_slice() else { panic!("{:?}", points.moved) };
    assert_eq!((&moved.point, points.laid), (&"T1".into(), Laid::AsDrawn));
    let near = |length: Length, feet: f64| (length.feet() - feet).abs() < 1e-6;
    assert!(near(moved.by, 6.0) && near(moved.from.y, -15.0) && near(moved.to.y, -21.0), "{moved:?}");
    assert!(moved.is_beyond() && moved.accuracy.feet() > 0.0);
    // The other way round it goes back.
    let back = compare(now.state().state(), before.state().state()).points.moved;
    assert_eq!((back[0].from, back[0].to), (moved.to, moved.from));
}

// By hand: half an inch on one of two tapes moves the point by less than a tape of 25' to a soft edge is good for.
#[test]
fn a_small_move_is_within_what_was_claimed() {
    let (before, mut now) = (Writing::yard(), Writing::yard());
    now.correct("c1", "t1", tie("H1", "T1", "25' 0 1/8\""));
    let points = told(&before, &now).points;
    let [moved] = points.moved.as_slice() else { panic!("{:?}", points.moved) };
    assert!(moved.by >= Length::from_inches(0.0625) && !moved.is_beyond(), "{moved:?}");
}

#[test]
fn a_tie_more_makes_a_point_checked_and_one_struck_loose() {
    let (before, mut now) = (Writing::yard(), Writing::yard());
    // From the far corners, by hand: 20' across, 30' + 15' away.
    let far = "49' 2 15/16\"";
    now.say("t3", tie("H3", "T1", far)).say("t4", tie("H4", "T1", far));
    let states = told(&before, &now).points.states;
    let of = |states: &[StateChange]| states.iter().find(|state| state.point == "T1".into()).cloned();
    let change = of(&states).unwrap();
    assert_eq!((change.before, change.now), (PointState::Fixed, PointState::Checked));
    let mut less = Writing::yard();
    less.strike("s", "t2");
    let points = told(&before, &less).points;
    let change = of(&points.states).unwrap();
    assert_eq!((change.before, change.now), (PointState::Fixed, PointState::Loose));
    assert!(
        points.moved.iter().all(|moved| moved.point != "T1".into()),
        "a loose point has no place to move from"
    );
}

#[test]
fn the_site_is_told_field_by_field() {
    let site = |name: &str, units| Statement::Site(Site { name: name.to_owned(), units, ..Site::default() });
    let (mut before, mut now) = (Writing::yard(), Writing::yard());
    before.say("site", site("Yard", UnitSystem::FeetInches));
    now.say("site", site("Yard", UnitSystem::FeetInches)).say("site2", site("Back yard", UnitSystem::Metres));
    let changes = told(&before, &now).site;
    let (was, is) = ("Yard".to_owned(), "Back yard".to_owned());
    assert_eq!(
        changes,
        [
            SiteChange::Words { what: SiteWords::Name, before: was, now: is },
            SiteChange::Units { before: UnitSystem::FeetInches, now: UnitSystem::Metres },
        ]
    );
}

#[test]
fn an_earlier_book_is_the_entries_it_had() {
    let mut now = Writing::yard();
    now.say("n", note("late", false));
    let before = earlier(&now.0, |entry| entry.id != "n".into());
    assert_eq!(before, Writing::yard().0);
    let changes = compare(Worked::of(before).state(), now.state().state());
    assert_eq!(deeds(&changes), [("n", &Deed::Says, false)]);
}

#[test]
fn a_strike_of_itself_ends() {
    let mut odd = Writing::yard();
    let line = r#"{"id":"z","clock":50,"at_ms":0,"author":"a","say":{"strike":{"entry":"z"}}}"#;
    odd.0.add(Entry::from_line(line).unwrap()).unwrap();
    let changes = told(&Writing::yard(), &odd);
    assert_eq!(changes.entries.len(), 1);
}

/// What is written next; numbers pick points and entries.
#[derive(Clone, Debug)]
enum Act {
    Point(usize),
    Tie(usize, usize, u16),
    Strike(usize),
    Correct(usize, u16),
    Keep(usize),
    Note(u16),
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        2 => (0..5_usize).prop_map(Act::Point),
        5 => (0..5_usize, 0..5_usize, 60..400_u16).prop_map(|(from, to, inches)| Act::Tie(from, to, inches)),
        3 => any::<usize>().prop_map(Act::Strike),
        3 => (any::<usize>(), 60..400_u16).prop_map(|(entry, inches)| Act::Correct(entry, inches)),
        1 => any::<usize>().prop_map(Act::Keep),
        1 => (0..9_u16).prop_map(Act::Note),
    ]
}

fn played(acts: &[Act]) -> Book {
    const LABELS: [&str; 5] = ["A", "B", "C", "D", "E"];
    let mut book = Writing::default();
    for (n, act) in acts.iter().enumerate() {
        let any =
            |pick: usize| book.0.entries().nth(pick % book.0.len().max(1)).map(|entry| entry.id.clone());
        // Ids in another order than time.
        let id = format!("{}{n}", (n * 7) % 10);
        let measured = |from: usize, to: usize, inches: u16| {
            tie(LABELS[from], LABELS[if from == to { (to + 1) % 5 } else { to }], &format!("{inches}\""))
        };
        match act {
            Act::Point(label) => {
                book.point(&id, LABELS[*label]);
            }
            Act::Tie(from, to, inches) => {
                book.say(&id, measured(*from, *to, *inches));
            }
            Act::Note(text) => {
                book.say(&id, note(&text.to_string(), false));
            }
            Act::Strike(pick) => {
                if let Some(entry) = any(*pick) {
                    book.strike(&id, entry.as_str());
                }
            }
            Act::Correct(pick, inches) => {
                if let Some(entry) = any(*pick) {
                    book.correct(&id, entry.as_str(), measured(0, 1, *inches));
                }
            }
            Act::Keep(pick) => {
                if let Some(entry) = any(*pick) {
                    book.say(&id, Statement::Keep { entry, part: 0, why: String::new() });
                }
            }
        }
    }
    book.0
}

/// The same entries, put in from the last to the first.
fn backwards(book: &Book) -> Book {
    let mut other = Book::new();
    for entry in book.entries().rev() {
        other.add(entry.clone()).unwrap();
    }
    other
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn every_new_entry_is_told_once_whatever_was_there(acts in prop::collection::vec(act(), 1..30), had in any::<u64>()) {
        let now = played(&acts);
        let ids: Vec<EntryId> = now.entries().map(|entry| entry.id.clone()).collect();
        let kept: BTreeSet<&EntryId> =
            ids.iter().enumerate().filter(|(n, _)| had >> (n % 64) & 1 == 1).map(|(_, id)| id).collect();
        let before = earlier(&now, |entry| kept.contains(&entry.id));
        let new: Vec<&EntryId> = ids.iter().filter(|id| !kept.contains(id)).collect();
        let (was, is) = (Worked::of(before.clone()), Worked::of(now.clone()));
        let changes = compare(was.state(), is.state());
        let told: Vec<&EntryId> = changes.entries.iter().map(|told| &told.entry).collect();
        prop_assert_eq!(told, new.clone());
        prop_assert!(changes.missing.is_empty());
        // Each thing said is told once at most.
        let said: BTreeSet<&EntryId> = changes.said.iter().map(|said| &said.entry).collect();
        prop_assert_eq!(said.len(), changes.said.len());
        // The order in which entries came in makes no difference.
        let (was_too, is_too) = (Worked::of(backwards(&before)), Worked::of(backwards(&now)));
        prop_assert_eq!(&compare(was_too.state(), is_too.state()), &changes);
        prop_assert!(compare(is.state(), is_too.state()).is_empty());
        // Seen from the later book, the earlier one lacks them.
        let back = compare(is.state(), was.state());
        prop_assert!(back.entries.is_empty());
        prop_assert_eq!(back.missing.iter().collect::<Vec<_>>(), new);
        prop_assert_eq!(back.points.new, changes.points.gone);
        prop_assert_eq!(back.said.len(), changes.said.len());
    }
}
