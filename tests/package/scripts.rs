//! Python, run as the other reference checks run it.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;
use swingtie_xtask::tools;

/// A fresh folder of a test's own.
pub fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("package").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Runs a script of `tests/reference/package`; gives the JSON it prints.
pub fn python(script: &str, arguments: &[&Path]) -> Value {
    let script =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/package").join(script).with_extension("py");
    let python = tools::ensure_python().expect("Python");
    let done = Command::new(python).arg("-B").arg(script).args(arguments).output().expect("Python runs");
    assert!(done.status.success() && done.stderr.is_empty(), "{}", String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout).expect("what the script writes")
}
