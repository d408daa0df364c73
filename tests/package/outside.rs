//! A package is what Info-ZIP's `unzip`, Python's `zipfile`, `hashlib` and `jsonschema` and coreutils' `sha256sum` take
//! it for; and one that `zipfile` packed anew is taken in.

use crate::alone;
use crate::scripts::{folder, python};
use serde_json::Value;
use std::collections::BTreeMap;
use std::io::Error;
use std::path::Path;
use std::process::Command;
use swingtie_core::book::Book;
use swingtie_core::package::{ABOUT, BOOK, CHECKSUMS, README, SCHEMA};
use swingtie_tests::package::{Sample, take_in, take_in_bytes};
use swingtie_tests::scenario::{Options, scenario};
use swingtie_xtask::tools;

const DEMO: &str = include_str!("../../public/demo.jsonl");

/// The demo yard and the first invented one, each with five pictures; one is empty, one larger than what is read at once.
fn samples() -> [(&'static str, Sample); 2] {
    let (demo, errors) = Book::from_json_lines(DEMO);
    assert_eq!(errors, []);
    let lengths = [30_000, 0, 7, 65_536, 2_500_000];
    [
        ("demo", Sample::of(demo, &lengths)),
        ("first", Sample::of(scenario(1).levelled(&Options::default()), &lengths)),
    ]
}

/// What a program said, which must have gone well.
fn said(command: &mut Command) -> String {
    let done = command.output().expect("the program runs");
    let said = String::from_utf8(done.stdout).expect("UTF-8");
    assert!(done.status.success(), "{said}{}", String::from_utf8_lossy(&done.stderr));
    said
}

#[test]
fn other_programs_find_it_whole() {
    let _alone = alone();
    for (name, sample) in samples() {
        let folder = folder(name);
        let (file, unpacked) = (folder.join("site.zip"), folder.join("unpacked"));
        std::fs::write(&file, sample.whole()).unwrap();

        let unzip = tools::ensure_unzip().expect("unzip");
        let tested = said(Command::new(unzip).arg("-t").arg(&file));
        assert!(tested.contains("No errors detected in compressed data"), "{tested}");

        let seen = python("look", &[&file, &unpacked]);
        println!("{name}: {} bytes, {}", sample.whole().len(), seen["versions"]);
        assert_eq!(seen["testzip"], Value::Null);
        assert_eq!(seen["duplicates"], Value::Array(Vec::new()));
        let names: Vec<&str> =
            seen["files"].as_array().unwrap().iter().map(|file| file["name"].as_str().unwrap()).collect();
        for wanted in [ABOUT, BOOK, README, SCHEMA, CHECKSUMS, "plan.svg", "plan.pdf", "report.html"] {
            assert!(names.contains(&wanted), "{wanted} in {names:?}");
        }
        let pictures = sample.photos.len() + sample.thumbnails.len();
        assert_eq!(names.iter().filter(|name| name.contains('/')).count(), pictures);
        for (id, kind) in [("jpg", 5), ("heic", 1)] {
            let of_kind = |name: &&&str| name.starts_with("photos/") && name.ends_with(id);
            assert_eq!(names.iter().filter(of_kind).count(), kind, "{names:?}");
        }
        for file in seen["files"].as_array().unwrap() {
            // The time of the package, as UTC; the zip format knows even seconds only.
            assert_eq!(file["date"], "2026-07-04T09:30:24", "{file}");
            // hashlib's sum is the one beside the name in the list, and a photo's name.
            let name = file["name"].as_str().unwrap();
            if name != CHECKSUMS {
                assert_eq!(file["sha256"], file["listed"], "{file}");
            }
            if let Some(photo) = name.strip_prefix("photos/") {
                assert_eq!(file["sha256"].as_str(), photo.split('.').next(), "{file}");
            }
        }
        assert_eq!(seen["listed"].as_u64().unwrap() as usize, names.len() - 1, "the list names no more");
        // By the schema in the package, after `zipfile` unpacked it.
        let judged = python("../book/schema", &[&unpacked.join(SCHEMA), &unpacked.join(BOOK)]);
        let judged = judged["files"][0].as_array().unwrap();
        assert_eq!(judged.len(), sample.book.len());
        assert_eq!(judged.iter().find(|wrong| !wrong.is_null()), None);

        let sums = said(Command::new("sha256sum").args(["-c", "--strict", CHECKSUMS]).current_dir(&unpacked));
        assert_eq!(sums.lines().filter(|line| line.ends_with(": OK")).count(), names.len() - 1, "{sums}");

        std::fs::write(unpacked.join(BOOK), "\n").unwrap();
        let failing =
            Command::new("sha256sum").args(["-c", CHECKSUMS]).current_dir(&unpacked).output().unwrap();
        assert!(!failing.status.success(), "sha256sum sees nothing");
    }
}

#[test]
fn packed_anew_it_is_the_same() {
    let _alone = alone();
    for (name, sample) in samples() {
        let folder = folder(&format!("{name}-anew"));
        let (file, anew) = (folder.join("site.zip"), folder.join("anew.zip"));
        std::fs::write(&file, sample.whole()).unwrap();
        let packed = python("repack", &[&file, &anew]);
        assert_eq!((packed["junk"].as_u64(), packed["deflated"].as_bool()), (Some(3), Some(true)));
        same(&sample, &anew);
        same(&sample, &file);
        assert_eq!(take_in_bytes(&std::fs::read(&anew).unwrap()).unwrap().0, sample.book);
    }
}

/// The file gives the sample's book and every picture of it, byte for byte.
fn same(sample: &Sample, file: &Path) {
    let bytes = std::fs::read(file).unwrap();
    let mut read = |place: std::ops::Range<u64>| -> Result<Vec<u8>, Error> {
        Ok(bytes[place.start as usize..place.end as usize].to_vec())
    };
    let mut pictures: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut keep = |name: &str, piece: &[u8]| {
        let (folder, file) = name.split_once('/').expect("a folder");
        let key = format!("{folder} {}", file.split('.').next().unwrap_or_default());
        pictures.entry(key).or_default().extend_from_slice(piece);
    };
    let (book, lengths, damaged) = take_in(bytes.len() as u64, &mut read, &mut keep).unwrap();
    assert_eq!((&book, damaged), (&sample.book, Vec::new()));
    assert_eq!(lengths.keys().collect::<Vec<_>>(), sample.photos.keys().collect::<Vec<_>>());
    for (id, (full, small)) in &lengths {
        let thumbnail = sample.thumbnails.get(id).map_or(0, Vec::len);
        assert_eq!((*full, *small), (sample.photos[id].len() as u64, thumbnail as u64));
    }
    for (folder, wanted) in [("photos", &sample.photos), ("thumbnails", &sample.thumbnails)] {
        for (id, bytes) in wanted.iter().filter(|(_, bytes)| !bytes.is_empty()) {
            let key = format!("{folder} {}", id.0);
            assert!(pictures.get(&key) == Some(bytes), "{key}");
        }
    }
}
