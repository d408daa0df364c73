//! Commands, run loudly: what is run is printed, what fails says so.

use std::{
    fmt,
    io::{BufRead, BufReader, Write},
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

/// Why a step stopped: one sentence for the person at the terminal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Failure(pub String);

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Failure {}

impl From<String> for Failure {
    fn from(text: String) -> Self {
        Self(text)
    }
}

/// The outcome of a step.
pub type Outcome<T = ()> = Result<T, Failure>;

/// The workspace's folder.
#[must_use]
pub fn workspace() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// A command in the workspace's folder, without standard input.
pub fn command(program: impl AsRef<std::ffi::OsStr>, arguments: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(workspace()).stdin(Stdio::null());
    command
}

/// Runs a command and shows its output as it comes.
///
/// # Errors
/// When it cannot be started or does not succeed.
pub fn run(command: &mut Command) -> Outcome {
    println!("$ {}", shown(command));
    let status = command.status().map_err(|error| cannot_start(command, &error))?;
    if status.success() { Ok(()) } else { Err(Failure(format!("`{}` failed ({status})", shown(command)))) }
}

/// Runs a command and hands back what it printed.
///
/// # Errors
/// When it cannot be started or does not succeed.
pub fn output(command: &mut Command) -> Outcome<String> {
    let output = command.output().map_err(|error| cannot_start(command, &error))?;
    if output.status.success() {
        return Ok(String::from_utf8_lossy(&output.stdout).into_owned());
    }
    let said = String::from_utf8_lossy(&output.stderr);
    Err(Failure(format!("`{}` failed ({}): {}", shown(command), output.status, said.trim())))
}

/// How many tests passed and failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    /// Tests that passed.
    pub passed: usize,
    /// Tests that failed.
    pub failed: usize,
}

impl Count {
    /// Adds one of the test runner's closing lines: `test result: ok. 12 passed; 0 failed; …`.
    pub fn read(&mut self, line: &str) {
        let Some(rest) = line.trim().strip_prefix("test result: ") else { return };
        let before = |word: &str| {
            let (head, _) = rest.split_once(word)?;
            head.split_whitespace().next_back()?.parse::<usize>().ok()
        };
        self.passed += before(" passed").unwrap_or(0);
        self.failed += before(" failed").unwrap_or(0);
    }
}

/// Runs `cargo` with these arguments, shows its output as it comes, and counts the tests in it.
///
/// # Errors
/// When it cannot be started or a test failed.
pub fn cargo_test(arguments: &[&str], count: &mut Count) -> Outcome {
    let mut command = command("cargo", arguments);
    println!("$ {}", shown(&command));
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(|error| cannot_start(&command, &error))?;
    if let Some(stdout) = child.stdout.take() {
        let mut terminal = std::io::stdout().lock();
        for line in BufReader::new(stdout).lines() {
            let line = line.map_err(|error| format!("cannot read the tests' output: {error}"))?;
            count.read(&line);
            // A closed terminal is no reason to stop the tests.
            let _ = writeln!(terminal, "{line}");
        }
    }
    let status = child.wait().map_err(|error| format!("cannot wait for the tests: {error}"))?;
    if status.success() { Ok(()) } else { Err(Failure(format!("`{}` failed ({status})", shown(&command)))) }
}

fn shown(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words.map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}

fn cannot_start(command: &Command, error: &std::io::Error) -> Failure {
    Failure(format!("cannot start `{}`: {error}", command.get_program().to_string_lossy()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_runners_closing_lines_are_added_up() {
        let mut count = Count::default();
        count.read("test result: ok. 12 passed; 0 failed; 0 ignored; 0 measured; 3 filtered out");
        count.read("test result: FAILED. 2 passed; 1 failed; 0 ignored; 0 measured; 0 filtered out");
        count.read("test units::reads_feet ... ok");
        assert_eq!(count, Count { passed: 14, failed: 1 });
    }
}
