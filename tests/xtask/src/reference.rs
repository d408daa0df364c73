//! Solutions by another program that the adjustment is compared with.

use crate::{
    run::{Outcome, command, run, workspace},
    tools,
};
use std::fs;

/// Solves the reference yards with scipy, and levels and surfaces, for the tests `network_scipy` and
/// `levels_scipy` to read.
///
/// # Errors
/// When scipy cannot be had or the script fails.
pub fn solve() -> Outcome {
    let python = tools::ensure_scipy()?;
    let folder = workspace().join("target/reference");
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    // -B: no bytecode beside the sources.
    for (script, answers) in [("solutions", "scipy"), ("levels", "levels")] {
        let (script, answers) =
            (format!("tests/reference/scipy/{script}.py"), format!("target/reference/{answers}.json"));
        run(&mut command(&python, &["-B", &script, &answers]))?;
    }
    Ok(())
}
