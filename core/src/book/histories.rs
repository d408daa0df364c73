//! What merging promises, over random histories of three authors who hand each other parts of their books.
//!
//! What counts is worked out a second time, by the rules as they are written (DEVELOPERS.md, [`Standing`]), not by the
//! fold's way through the book.

use super::*;
use crate::record::{Point, Statement};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

const HISTORIES: u32 = 10_000;
const AUTHORS: [&str; 3] = ["a", "b", "c"];

/// What an author does next. A number picks one of the entries in the author's book.
#[derive(Clone, Debug)]
enum Act {
    Write,
    Newer,
    Strike(usize),
    Correct(usize),
    Keep(usize),
    /// Hands the entries whose bits are set to another author.
    Send(usize, u64),
}

fn act() -> impl Strategy<Value = Act> {
    // The first entries more often, so that authors meet there.
    let pick = || prop_oneof![2 => 0..3_usize, 1 => any::<usize>()];
    prop_oneof![
        4 => Just(Act::Write),
        1 => Just(Act::Newer),
        5 => pick().prop_map(Act::Strike),
        5 => pick().prop_map(Act::Correct),
        2 => pick().prop_map(Act::Keep),
        6 => (1..AUTHORS.len(), any::<u64>(), any::<u64>()).prop_map(|(to, a, b)| Act::Send(to, a | b)),
    ]
}

fn history() -> impl Strategy<Value = (Vec<(usize, Act)>, u64)> {
    (prop::collection::vec((0..AUTHORS.len(), act()), 1..40), any::<u64>())
}

fn point(id: &EntryId, label: usize) -> Statement {
    Statement::Point(Point { id: id.as_str().into(), label: format!("P{label}"), note: String::new() })
}

/// The three books at the end, and everything that was ever written.
fn played(steps: &[(usize, Act)]) -> ([Book; 3], Vec<Entry>) {
    let (mut books, mut written) = ([Book::new(), Book::new(), Book::new()], Vec::new());
    for (n, (author, act)) in steps.iter().enumerate() {
        let own = &books[*author];
        let any = |pick: &usize| own.entries().nth(pick % own.len().max(1)).map(|entry| entry.id.clone());
        // Ids in another order than time.
        let (id, clock) = (EntryId(format!("{}{n}", (n * 7) % 10)), own.next_clock());
        let said = match act {
            Act::Send(on, which) => {
                let mut part = Book::new();
                for (bit, entry) in own.entries().enumerate() {
                    if which >> (bit % 64) & 1 == 1 {
                        part.add(entry.clone()).unwrap();
                    }
                }
                let other = &mut books[(author + on) % AUTHORS.len()];
                let before: Vec<Entry> = other.entries().cloned().collect();
                let (new, clashes) = other.merge(&part);
                assert_eq!((other.len(), clashes), (before.len() + new, vec![]));
                assert!(before.iter().chain(part.entries()).all(|entry| other.get(&entry.id) == Some(entry)));
                continue;
            }
            Act::Newer => {
                let line = format!(
                    r#"{{"id":"{id}","clock":{clock},"at_ms":0,"author":"{}","say":{{"smell":{n}}}}}"#,
                    AUTHORS[*author]
                );
                Err(Entry::from_line(&line).unwrap())
            }
            Act::Strike(pick) => Ok(any(pick).map(|entry| Statement::Strike { entry, why: String::new() })),
            Act::Correct(pick) => {
                let anew = |entry: EntryId| {
                    let now = Box::new(point(&entry, n));
                    Statement::Correct { entry, now }
                };
                Ok(any(pick).map(anew))
            }
            Act::Keep(pick) => {
                Ok(any(pick).map(|entry| Statement::Keep { entry, part: n % 2, why: String::new() }))
            }
            Act::Write => Ok(None),
        };
        let entry = said.map_or_else(
            |newer| newer,
            |said| {
                let said = said.unwrap_or_else(|| point(&id, n));
                Entry::new(id.clone(), clock, 0, AUTHORS[*author].into(), said).unwrap()
            },
        );
        written.push(entry.clone());
        books[*author].add(entry).unwrap();
    }
    (books, written)
}

fn merged(first: &Book, second: &Book) -> Book {
    let mut both = first.clone();
    let (_, clashes) = both.merge(second);
    assert_eq!(clashes, vec![]);
    both
}

/// The rules, read off the entries one by one.
struct Rules<'a>(&'a [&'a Entry]);

impl<'a> Rules<'a> {
    /// Strikes of an entry that are not struck themselves, in book order.
    fn strikes(&self, of: &EntryId) -> Vec<&'a Entry> {
        let strikes =
            |e: &&Entry| matches!(e.statement(), Some(Statement::Strike { entry, .. }) if entry == of);
        self.standing(strikes)
    }

    fn standing(&self, such: impl Fn(&&Entry) -> bool) -> Vec<&'a Entry> {
        self.0.iter().copied().filter(such).filter(|e| self.strikes(&e.id).is_empty()).collect()
    }

    /// Corrections of a point that are not struck, in book order.
    fn corrections(&self, of: &EntryId) -> Vec<&'a Entry> {
        let point = self.0.iter().any(|e| e.id == *of && matches!(e.statement(), Some(Statement::Point(_))));
        let corrects =
            |e: &&Entry| matches!(e.statement(), Some(Statement::Correct { entry, .. }) if entry == of);
        if point { self.standing(corrects) } else { Vec::new() }
    }

    /// What is said of an entry, that which counts last.
    fn claims(&self, of: &EntryId) -> Vec<&'a Entry> {
        self.corrections(of).into_iter().chain(self.strikes(of)).collect()
    }

    fn stands(&self, entry: &Entry) -> Standing {
        match (self.strikes(&entry.id).last(), self.corrections(&entry.id).last(), entry.statement()) {
            (Some(by), ..) => Standing::Struck { by: by.id.clone() },
            (.., None) => Standing::NotUnderstood,
            (_, Some(by), _) => Standing::Corrected { by: by.id.clone() },
            _ => Standing::Stands,
        }
    }

    fn labels(&self) -> Vec<String> {
        let label = |said: &Statement| match said {
            Statement::Point(point) => Some(point.label.clone()),
            _ => None,
        };
        let now = |entry: &&Entry| match self.corrections(&entry.id).last().and_then(|e| e.statement()) {
            _ if !self.strikes(&entry.id).is_empty() => None,
            Some(Statement::Correct { now, .. }) => label(now),
            _ => entry.statement().and_then(label),
        };
        self.0.iter().filter_map(now).collect()
    }

    fn kept(&self) -> BTreeSet<(EntryId, usize)> {
        let kept = |keep: &&'a Entry| match keep.statement() {
            Some(Statement::Keep { entry, part, .. }) => {
                let place = |e: &Entry| self.0.iter().position(|other| other.id == e.id);
                let later = self.corrections(entry).into_iter().any(|c| place(c) > place(keep));
                (self.strikes(&keep.id).is_empty() && !later).then(|| (entry.clone(), *part))
            }
            _ => None,
        };
        self.0.iter().filter_map(kept).collect()
    }

    fn rivals(&self) -> BTreeSet<(EntryId, EntryId)> {
        let mut rivals = BTreeSet::new();
        for target in self.0 {
            let claims = self.claims(&target.id);
            let others =
                claims.iter().filter(|claim| claims.last().is_some_and(|l| l.author != claim.author));
            rivals.extend(others.map(|claim| (claim.id.clone(), target.id.clone())));
        }
        rivals
    }

    /// Corrections of what is no point.
    fn of_another_sort(&self) -> BTreeSet<(EntryId, EntryId)> {
        let pair = |e: &'a Entry| match e.statement() {
            Some(Statement::Correct { entry, .. }) => Some((e.id.clone(), entry.clone())),
            _ => None,
        };
        let standing = self.standing(|_| true).into_iter().filter_map(pair);
        standing.filter(|(id, of)| self.corrections(of).iter().all(|c| c.id != *id)).collect()
    }
}

/// How often something came about in all histories, so that none is looked for in vain.
#[derive(Debug, Default)]
struct Seen {
    strike_by_strike: usize,
    strike_by_correction: usize,
    correction_by_correction: usize,
    strikes_struck: usize,
    kept: usize,
    another_sort: usize,
    waiting: usize,
}

fn merging(books: &[Book; 3], written: &[Entry]) -> Book {
    let [a, b, c] = books;
    let all = merged(&merged(a, b), c);
    assert_eq!(merged(a, b), merged(b, a));
    assert_eq!(merged(a, &merged(b, c)), all);
    assert_eq!(merged(c, &merged(b, a)), all);
    assert_eq!(merged(&all, &all), all);
    assert_eq!(merged(&all, b), all);
    assert!(all.entries().is_sorted_by_key(|e| (e.clock, e.author.clone(), e.id.clone())));
    assert_eq!(all.len(), written.len());
    assert!(written.iter().all(|entry| all.get(&entry.id).map(Entry::line) == Some(entry.line())));
    all
}

fn folding(all: &Book, seen: &mut Seen) {
    let found = fold(all);
    let entries: Vec<&Entry> = all.entries().collect();
    let rules = Rules(&entries);
    for entry in &entries {
        assert_eq!(found.standing.get(&entry.id), Some(&rules.stands(entry)), "{}", entry.line());
    }
    assert_eq!(found.record.points.iter().map(|p| p.label.clone()).collect::<Vec<_>>(), rules.labels());
    assert_eq!(
        found.record.kept.iter().map(|(kept, ())| kept.clone()).collect::<BTreeSet<_>>(),
        rules.kept()
    );
    let (mut rivals, mut sorts, mut unknown) = (Vec::new(), Vec::new(), 0);
    for objection in found.objections {
        match objection {
            Objection::Rival { entry, target } => rivals.push((entry, target)),
            Objection::OtherSort { entry, target } => sorts.push((entry, target)),
            Objection::NotUnderstood { .. } => unknown += 1,
            Objection::Missing { .. } => panic!("everything is here: {objection}"),
        }
    }
    let listed = |list: &[(EntryId, EntryId)]| list.iter().cloned().collect::<BTreeSet<_>>();
    assert_eq!((listed(&rivals), listed(&sorts)), (rules.rivals(), rules.of_another_sort()));
    assert_eq!(
        (rivals.len(), sorts.len()),
        (rules.rivals().len(), rules.of_another_sort().len()),
        "once each"
    );
    assert_eq!(unknown, found.standing.values().filter(|s| **s == Standing::NotUnderstood).count());

    let strikes =
        |id: &EntryId| matches!(all.get(id).and_then(Entry::statement), Some(Statement::Strike { .. }));
    for (entry, target) in &rivals {
        match (strikes(entry), rules.strikes(target).is_empty()) {
            (true, _) => seen.strike_by_strike += 1,
            (false, false) => seen.strike_by_correction += 1,
            (false, true) => seen.correction_by_correction += 1,
        }
    }
    seen.strikes_struck +=
        entries.iter().filter(|e| strikes(&e.id) && !rules.strikes(&e.id).is_empty()).count();
    seen.kept += rules.kept().len();
    seen.another_sort += sorts.len();
}

/// The same entries in another order, by a seed: each takes the place of one drawn from those before it.
fn shuffled(written: &[Entry], mut seed: u64) -> Book {
    let mut order: Vec<&Entry> = Vec::new();
    for entry in written {
        // Numbers of Knuth's MMIX (The Art of Computer Programming, volume 2, 3.3.4).
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let place = usize::try_from(seed >> 33).unwrap() % (order.len() + 1);
        order.insert(place, entry);
    }
    let mut book = Book::new();
    for entry in order {
        book.add(entry.clone()).unwrap();
    }
    book
}

#[test]
fn however_books_are_joined_nothing_is_lost_and_the_same_counts() {
    let mut runner = TestRunner::new(ProptestConfig {
        cases: HISTORIES,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let seen = std::cell::RefCell::new(Seen::default());
    let outcome = runner.run(&history(), |(steps, seed)| {
        let (books, written) = played(&steps);
        let all = merging(&books, &written);
        let other = shuffled(&written, seed);
        let (one, two) = (fold(&all), fold(&other));
        assert_eq!(other, all);
        assert_eq!((one.record, one.standing, one.objections), (two.record, two.standing, two.objections));
        folding(&all, &mut seen.borrow_mut());
        // A part of a book folds too; what it waits for is named.
        let waits = |o: &&Objection| matches!(o, Objection::Missing { .. });
        let waiting = books.iter().map(|book| fold(book).objections.iter().filter(waits).count());
        seen.borrow_mut().waiting += waiting.sum::<usize>();
        Ok(())
    });
    outcome.unwrap_or_else(|failed| panic!("{failed}"));
    let seen = seen.into_inner();
    println!("{seen:?}");
    let Seen {
        strike_by_strike, strike_by_correction, correction_by_correction, strikes_struck, kept, ..
    } = seen;
    let least = [strike_by_strike, strike_by_correction, correction_by_correction, strikes_struck, kept];
    let least = least.into_iter().chain([seen.another_sort, seen.waiting]).min();
    assert!(least > Some(500), "{seen:?}");
}
