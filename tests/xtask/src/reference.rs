//! Answers of other programs that ours are compared with.

use crate::{
    run::{Outcome, command, run, workspace},
    tools,
};
use std::fs;

/// The scripts under `tests/reference`, each with the file its answers go into.
const SCRIPTS: [(&str, &str); 4] = [
    ("scipy/solutions", "scipy"),
    ("scipy/levels", "levels"),
    ("earth/place", "place"),
    ("earth/sun", "sun"),
];

/// Solves the reference yards, levels and surfaces with scipy, places with PROJ and the sun's with pvlib, for the
/// tests `network_scipy`, `levels_scipy`, `earth_place` and `earth_sun` to read; and has at hand what `earth_files`,
/// `book_schema` and `package` read files with.
///
/// # Errors
/// When a tool cannot be had or a script fails.
pub fn solve() -> Outcome {
    tools::ensure_geojson_checks()?;
    tools::ensure_unzip()?;
    let python = tools::ensure_python()?;
    let folder = workspace().join("target/reference");
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    // -B: no bytecode beside the sources.
    for (script, answers) in SCRIPTS {
        let (script, answers) =
            (format!("tests/reference/{script}.py"), format!("target/reference/{answers}.json"));
        run(&mut command(&python, &["-B", &script, &answers]))?;
    }
    Ok(())
}
