//! `cargo xtask serve`, `cargo xtask test` and their parts.

use std::{env, process::ExitCode};
use swingtie_xtask::{
    bench,
    dist::{self, Optimise},
    lighthouse, reference,
    run::{Failure, Outcome},
    server::Server,
    size, steps,
};

const HELP: &str = "\
cargo xtask COMMAND

  serve [PORT]   build what is needed and serve it on this machine (port 8080)
  test           every check: formatting, lints, licences, tests, release build, transfer size, browser
  build          the folder dist/, ready for any static host, and its transfer size
  lighthouse     how the first visit to what is in dist/ fares
  reference      answers of scipy, PROJ and pvlib, which tests compare with
  bench          how long the solver takes, native and in Chromium; a report, not a check
  bench speed [PART...]
                 how fast the built app is on a large site: core, start, save, taps, move, long, visit
  bench PART...  how well the adjustment does on invented yards: first, loose, ellipses, gross, misreads, kernel ...
";

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match perform(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("\nerror: {failure}");
            ExitCode::FAILURE
        }
    }
}

fn perform(words: &[&str]) -> Outcome {
    match words {
        ["serve"] => serve(8080),
        ["serve", port] => serve(port.parse().map_err(|_| format!("`{port}` is not a port number"))?),
        ["test"] => steps::test(),
        ["build"] => {
            dist::build(Optimise::Must)?;
            size::check()
        }
        ["lighthouse"] => lighthouse::check(),
        ["reference"] => reference::solve(),
        ["bench"] => bench::bench(),
        ["bench", "speed", parts @ ..] => bench::speed(parts),
        ["bench", parts @ ..] => bench::adjustment(parts),
        _ => {
            print!("{HELP}");
            if matches!(words, [] | ["help" | "--help" | "-h"]) { Ok(()) } else { Err(unknown(words)) }
        }
    }
}

fn serve(port: u16) -> Outcome {
    dist::build(Optimise::IfPossible)?;
    let server = Server::start(&dist::folder(), port)?;
    println!("\nSwingtie is at {}   (stop with Ctrl-C)", server.url());
    server.forever();
    Ok(())
}

fn unknown(words: &[&str]) -> Failure {
    Failure(format!("`{}` is not one of them", words.join(" ")))
}
