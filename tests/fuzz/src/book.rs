//! The lines of a field book, and every file that is made of them.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| swingtie_tests::fuzzed::book(text));
