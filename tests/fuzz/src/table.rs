//! A table of measurements.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| swingtie_tests::fuzzed::table(text));
