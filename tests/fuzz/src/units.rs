//! What is typed as a reading.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| swingtie_tests::fuzzed::units(text));
