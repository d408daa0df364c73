//! Shared parts of the project-wide tests.

pub mod dice;
pub mod fit;
pub mod flat;
pub mod fuzzed;
pub mod hostile;
pub mod large;
pub mod package;
pub mod scenario;
pub mod taped;
pub mod yard;

/// The files of a folder of `tests/`, by name: what each is called, and its text. What is no text is read as nearly as may be.
///
/// # Panics
/// When there is no such folder.
#[must_use]
pub fn texts(folder: &str) -> Vec<(String, String)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = std::fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut all: Vec<(String, String)> = entries
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let text = String::from_utf8_lossy(&std::fs::read(&path).expect("a file")).into_owned();
            (path.file_name().expect("a name").to_string_lossy().into_owned(), text)
        })
        .collect();
    all.sort();
    all
}
