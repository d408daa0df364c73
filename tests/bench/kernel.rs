//! How long the least-squares kernel takes on generated networks; more files can be named as arguments.
//! Reported, not judged. The clock covers pattern, ordering and all iterations, not reading the file.

use std::{env, fs, hint::black_box, path::Path, time::Instant};
use swingtie_tests::flat::read;

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("bench/networks");
    let mut files: Vec<_> =
        ["all_20.txt", "all_100.txt", "all_500.txt"].iter().map(|name| folder.join(name)).collect();
    files.extend(env::args().skip(1).filter(|arg| arg.ends_with(".txt")).map(Into::into));
    for file in files {
        let Some((network, start)) = fs::read_to_string(&file).ok().and_then(|text| read(&text)) else {
            println!("{}: not read", file.display());
            continue;
        };
        let mut times = Vec::new();
        let mut last = None;
        for _ in 0..11 {
            let clock = Instant::now();
            last = Some(black_box(network.solve(black_box(&start))));
            times.push(clock.elapsed().as_secs_f64() * 1e3);
        }
        times.sort_by(f64::total_cmp);
        if let (Some(best), Some(solved)) = (times.first(), last) {
            let middle = times.get(times.len() / 2).copied().unwrap_or(f64::NAN);
            println!(
                "{}: best {best:.3} ms, median {middle:.3} ms, {} iterations, chi-square {:.6}",
                file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default(),
                solved.iterations,
                solved.chi_square
            );
        }
    }
}
