//! Reads a site package out of any bytes, unpacks every picture, and goes on with the book.
//!
//! The zip file's own sums keep a fuzzer out of what is behind them. So bytes that begin with `T` are taken for texts,
//! and packed as they should be: what the package says of itself, a line `---`, and the book.

#![no_main]

use libfuzzer_sys::fuzz_target;
use swingtie_core::book::{Book, fold};
use swingtie_core::package::{BOOK, ABOUT, Writer};
use swingtie_tests::package::take_in_bytes;

fuzz_target!(|bytes: &[u8]| {
    let packed;
    let file = match bytes.strip_prefix(b"T") {
        Some(texts) => {
            packed = pack(texts);
            &packed
        }
        None => bytes,
    };
    let Ok((book, ..)) = take_in_bytes(file) else { return };
    let (again, errors) = Book::from_json_lines(&book.to_json_lines());
    assert_eq!((&again, errors.len()), (&book, 0));
    let _ = fold(&book);
});

fn pack(texts: &[u8]) -> Vec<u8> {
    let parted = texts.windows(5).position(|five| five == b"\n---\n");
    let (about, book) = parted.map_or((&b"{}"[..], texts), |at| (&texts[..at], &texts[at + 5..]));
    let mut writer = Writer::new(Vec::new(), 0);
    writer.add(ABOUT, about).unwrap();
    writer.add(BOOK, book).unwrap();
    writer.finish().unwrap()
}
