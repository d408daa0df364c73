//! What a fuzzer found, and thousands of texts spoilt by chance, the same in every run: nothing panics, and no file holds
//! what is no number. What must hold stands in `swingtie_tests::fuzzed`; `tests/fuzz` looks for more, by hand.

use swingtie_tests::dice::Dice;
use swingtie_tests::{fuzzed, texts};

/// The purpose of these tests' dice.
const FUZZED: u64 = 0x6675_7A7A;

/// The seeds of a target, by name.
fn seeds(target: &str) -> Vec<(String, String)> {
    let all = texts(&format!("fuzz/seeds/{target}"));
    assert!(all.len() > 1 && all.iter().all(|(_, text)| !text.is_empty()), "{target} lacks seeds");
    all
}

/// What numbers and signs a careless hand or a broken file puts in.
const PIECES: [&str; 24] = [
    "0",
    "-1",
    "1e308",
    "-1e308",
    "1e-308",
    "9007199254740993",
    "NaN",
    "null",
    "1/0",
    "''",
    "\"",
    "½",
    "′",
    "°",
    ",",
    "\n",
    "{}",
    "[]",
    "\u{0}",
    "\u{202e}",
    "true",
    "A",
    "1e999",
    "--",
];

/// Spoils a text at some places: a piece in place of a few characters, or of a whole number.
fn spoil(text: &str, dice: &mut Dice) -> String {
    let mut spoilt: Vec<char> = text.chars().collect();
    for _ in 0..=dice.below(4) {
        if spoilt.is_empty() {
            break;
        }
        let mut from = dice.below(spoilt.len());
        let mut to = (from + dice.below(6)).min(spoilt.len());
        if dice.below(2) == 0 {
            let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | 'e');
            while from > 0 && number(spoilt[from - 1]) {
                from -= 1;
            }
            while to < spoilt.len() && number(spoilt[to]) {
                to += 1;
            }
        }
        let piece = PIECES[dice.below(PIECES.len())];
        spoilt.splice(from..to, piece.chars());
    }
    spoilt.into_iter().collect()
}

/// Tries the seeds as they are and spoilt so many times each.
fn tried(target: &str, times: u64, holds: fn(&str)) {
    let mut changed = 0;
    for (name, text) in seeds(target) {
        println!("{target} {name}");
        holds(&text);
        for seed in 0..times {
            let spoilt = spoil(&text, &mut Dice::new(FUZZED, seed));
            changed += u64::from(spoilt != text);
            println!("spoilt {seed}");
            holds(&spoilt);
        }
    }
    assert!(changed > times, "hardly anything was spoilt");
}

#[test]
fn readings_of_any_kind_are_read_as_they_are_written_or_refused() {
    tried("units", 2000, fuzzed::units);
}

#[test]
fn books_of_any_kind_make_files_of_numbers() {
    tried("book", 40, fuzzed::book);
}

#[test]
fn tables_of_any_kind_are_books_or_refused() {
    tried("table", 60, fuzzed::table);
}
