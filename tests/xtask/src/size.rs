//! What a phone downloads before the first screen, as a host would compress it.

use crate::{
    dist,
    run::{Failure, Outcome},
};
use std::{fs, io::Write};

/// The most the first load may transfer, in bytes: wasm, scripts and styles, brotli at its highest quality.
pub const BUDGET: usize = 350_000;

/// Prints each file's size and checks their sum against the budget.
///
/// # Errors
/// When the sum is over the budget or the build is missing.
pub fn check() -> Outcome {
    let folder = dist::folder();
    let entries =
        fs::read_dir(&folder).map_err(|error| format!("no build in {}: {error}", folder.display()))?;
    let mut rows = Vec::new();
    for entry in entries.flatten() {
        let path = entry.path();
        let counted =
            path.extension().is_some_and(|kind| ["wasm", "js", "css"].iter().any(|one| kind == *one));
        if counted {
            let body = fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
            rows.push((entry.file_name().to_string_lossy().into_owned(), body.len(), brotli(&body)?));
        }
    }
    rows.sort();
    println!("{:>10} {:>10}", "bytes", "brotli");
    for (name, raw, packed) in &rows {
        println!("{raw:>10} {packed:>10}  {name}");
    }
    let total: usize = rows.iter().map(|(.., packed)| packed).sum();
    println!("{:>10} {total:>10}  of {BUDGET} allowed", rows.iter().map(|(_, raw, _)| raw).sum::<usize>());
    if !rows.iter().any(|(name, ..)| name.ends_with(".wasm")) {
        return Err(Failure(format!("no wasm in {}", folder.display())));
    }
    if total > BUDGET {
        return Err(Failure(format!("the first load is {total} bytes, over the {BUDGET} allowed")));
    }
    Ok(())
}

fn brotli(body: &[u8]) -> Outcome<usize> {
    let mut packed = Vec::new();
    let mut writer = brotli::CompressorWriter::new(&mut packed, 1 << 16, 11, 22);
    writer.write_all(body).and_then(|()| writer.flush()).map_err(|error| format!("brotli: {error}"))?;
    drop(writer);
    Ok(packed.len())
}
