//! Runs every part of the test suite, says what it runs, and how long each part took.
//! A part that can't run fails; none is ever skipped.
//!
//! Two lanes run beside each other: the native parts, and those that wait for the page. Much of the second is
//! one core's work (the page is linked as a whole) or waiting for a browser, which the first fills. They build
//! in folders of their own, so that neither waits for the other's lock for long.

use crate::{cargo, page};
use std::cell::Cell;
use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Read};
use std::path::PathBuf;
use std::process::{Command, ExitCode, Stdio};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// How many checks of a part went well and how many did not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Count {
    passed: usize,
    failed: usize,
}

struct Part {
    name: &'static str,
    says: &'static str,
    lane: Lane,
    run: fn() -> Count,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Lane {
    Native,
    Page,
    /// After both lanes, alone: its solver has a limit of time, which should not be spent on waiting.
    Last,
}

#[rustfmt::skip]
const PARTS: &[Part] = &[
    Part { name: "format", says: "every Rust file is formatted", lane: Lane::Native, run: format },
    Part { name: "lint", says: "clippy has no warning, native", lane: Lane::Native, run: lint },
    Part { name: "lint-wasm", says: "clippy has no warning, wasm", lane: Lane::Native, run: lint_wasm },
    Part { name: "native", says: "unit tests, laws, vectors, inputs nobody would type, floors, documentation", lane: Lane::Native, run: native },
    Part { name: "raster", says: "figures as dots, by two engines", lane: Lane::Native, run: raster },
    Part { name: "tool", says: "the workspace tool's own tests", lane: Lane::Native, run: tool },
    Part { name: "page", says: "the pages are built and gated", lane: Lane::Page, run: build },
    Part { name: "browser", says: "the pages in Chromium, Firefox and WebKit", lane: Lane::Page, run: browser_tests },
    Part { name: "wasm", says: "the same vectors in wasm, byte for byte, in Chromium", lane: Lane::Page, run: wasm },
    Part { name: "outside", says: "checks against things outside the project (Python)", lane: Lane::Last, run: outside },
];

pub fn run(wanted: &[String]) -> ExitCode {
    if let Some(unknown) = wanted.iter().find(|name| PARTS.iter().all(|part| part.name != **name)) {
        let names: Vec<&str> = PARTS.iter().map(|part| part.name).collect();
        eprintln!("There is no part {unknown}; the parts are {}.", names.join(", "));
        return ExitCode::from(2);
    }
    let chosen: Vec<&Part> = PARTS
        .iter()
        .filter(|part| wanted.is_empty() || wanted.iter().any(|name| name == part.name))
        .collect();
    let start = Instant::now();
    let done: Mutex<Vec<(&'static str, Count, Duration)>> = Mutex::default();
    let lane = |lane: Lane| {
        for part in chosen.iter().filter(|part| part.lane == lane) {
            let (count, time) = part.carried_out();
            if let Ok(mut done) = done.lock() {
                done.push((part.name, count, time));
            }
        }
    };
    std::thread::scope(|scope| {
        scope.spawn(|| lane(Lane::Page));
        lane(Lane::Native);
    });
    lane(Lane::Last);
    let done = done.into_inner().unwrap_or_default();
    let mut table = String::new();
    let mut all = Count::default();
    // A part that came to no end is a failure too.
    for part in &chosen {
        let found = done.iter().find(|(name, ..)| *name == part.name);
        let (_, count, time) = found.copied().unwrap_or((part.name, one(false), Duration::ZERO));
        let _ = writeln!(table, "{}", row(part.name, count, time));
        all = Count { passed: all.passed + count.passed, failed: all.failed + count.failed };
    }
    println!("\npart        passed  failed   seconds\n{table}{}", row("all", all, start.elapsed()));
    println!("\n{} passed, {} failed", all.passed, all.failed);
    if all.failed == 0 && 0 < all.passed { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

thread_local! {
    /// The part that this thread runs, written before each line that it prints.
    static PART: Cell<&'static str> = const { Cell::new("") };
}

impl Part {
    fn carried_out(&self) -> (Count, Duration) {
        PART.set(self.name);
        println!("=== {}: {}", self.name, self.says);
        let begun = Instant::now();
        let count = (self.run)();
        let time = begun.elapsed();
        let (passed, failed) = (count.passed, count.failed);
        println!("=== {}: {passed} passed, {failed} failed, {:.1} s", self.name, time.as_secs_f64());
        (count, time)
    }
}

fn row(name: &str, count: Count, time: Duration) -> String {
    format!("{name:<10} {:>7} {:>7} {:>9.1}", count.passed, count.failed, time.as_secs_f64())
}

/// For a part that is one check.
fn one(good: bool) -> Count {
    Count { passed: usize::from(good), failed: usize::from(!good) }
}

fn format() -> Count {
    one(streamed(cargo::cargo().args(["fmt", "--all", "--check"])).0)
}

fn lint() -> Count {
    one(streamed(cargo::cargo().args([
        "clippy",
        "--locked",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ]))
    .0)
}

fn lint_wasm() -> Count {
    let arguments =
        ["clippy", "--locked", "-p", "layfigure", "--lib", "--target", cargo::WASM, "--", "-D", "warnings"];
    one(streamed(cargo::cargo().args(arguments)).0)
}

fn native() -> Count {
    tests(cargo::cargo().args(["test", "--locked", "-p", "layfigure", "-p", "fuzz", "--no-fail-fast"]))
}

fn raster() -> Count {
    tests(cargo::cargo().args(["test", "--locked", "-p", "raster", "--no-fail-fast"]))
}

fn tool() -> Count {
    tests(cargo::cargo().args([
        "test",
        "--locked",
        "--profile",
        "tool",
        "-p",
        "scripts",
        "-p",
        "browser",
        "--lib",
        "--bins",
    ]))
}

fn build() -> Count {
    match page::build() {
        Ok(told) => {
            println!("{told}");
            one(true)
        }
        Err(words) => {
            eprintln!("{words}");
            one(false)
        }
    }
}

/// The vectors with the flags that the page is built with, so it is that code that is compared. The listing
/// that they are compared with is written by the native run; it is written anew here, so that a stale one
/// can't pass.
fn wasm() -> Count {
    let listing = tests(cargo::cargo().args(["test", "--locked", "-p", "layfigure", "--test", "vectors"]));
    if listing.failed != 0 {
        return listing;
    }
    let Ok(own) = std::env::current_exe() else {
        eprintln!("The tool does not know where it is itself.");
        return one(false);
    };
    let driver = std::env::var("CHROMEDRIVER").unwrap_or_else(|_| "/usr/bin/chromedriver".into());
    tests(
        cargo::cargo()
            .args(["test", "--locked", "-p", "layfigure", "--profile", "web", "--target", cargo::WASM])
            .args(["--test", "vectors"])
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", format!("{} wasm-test-runner", own.display()))
            .env("CHROMEDRIVER", driver)
            .env("WASM_BINDGEN_TEST_TIMEOUT", "300"),
    )
}

fn browser_tests() -> Count {
    tests(cargo::cargo().args([
        "test",
        "--locked",
        "--profile",
        "tool",
        "-p",
        "browser",
        "--no-fail-fast",
        "--tests",
    ]))
}

/// Every Python program in `tests/outside`. One whose last line is `N passed, N failed` is counted so;
/// otherwise it is one check. It fails if its exit code says so, whatever it prints.
fn outside() -> Count {
    let folder = browser::root().join("tests/outside");
    let mut programs: Vec<PathBuf> = std::fs::read_dir(&folder)
        .map(|entries| entries.flatten().map(|entry| entry.path()).collect())
        .unwrap_or_default();
    programs.retain(|path| path.extension().is_some_and(|end| end == "py"));
    programs.sort();
    let python = browser::root().join(".venv/bin/python");
    // The program that the native tests were compiled for: compiling an optimised one takes longer than it saves.
    let built = streamed(cargo::cargo().args(["build", "--locked", "-p", "layfigure", "--bin", "layfigure"]));
    if !built.0 {
        return one(false);
    }
    let mut all = Count::default();
    for program in &programs {
        println!("--- {}", program.file_name().unwrap_or_default().to_string_lossy());
        let (good, said) = streamed(
            Command::new(&python)
                .arg(program)
                .current_dir(browser::root())
                .env("LAYFIGURE", browser::root().join("target/debug/layfigure")),
        );
        let stated = said.lines().rev().find(|line| !line.trim().is_empty()).and_then(closing);
        let count = match stated {
            Some(count) if good || 0 < count.failed => count,
            Some(count) => Count { failed: 1, ..count },
            None => one(good),
        };
        all = Count { passed: all.passed + count.passed, failed: all.failed + count.failed };
    }
    if programs.is_empty() {
        eprintln!("There is no checker in tests/outside.");
        return one(false);
    }
    all
}

/// A cargo test run, counted by its `test result:` lines. A run that fails without saying so (it did not
/// compile, the browser did not come) counts as one failure.
fn tests(command: &mut Command) -> Count {
    let (good, said) = streamed(command);
    let mut count = counted(&said);
    if !good && count.failed == 0 {
        count.failed = 1;
    }
    count
}

fn counted(said: &str) -> Count {
    let results = said.lines().filter_map(|line| line.split_once("test result: ")).map(|(_, rest)| rest);
    let number = |rest: &str, word: &str| {
        let before = rest.split(word).next()?.trim_end();
        before.rsplit(|c: char| !c.is_ascii_digit()).next()?.parse::<usize>().ok()
    };
    results.fold(Count::default(), |sum, rest| Count {
        passed: sum.passed + number(rest, " passed").unwrap_or(0),
        failed: sum.failed + number(rest, " failed").unwrap_or(0),
    })
}

/// `N passed, N failed`, as the last line of an outside checker.
fn closing(line: &str) -> Option<Count> {
    let (passed, failed) = line.trim().strip_suffix(" failed")?.split_once(" passed, ")?;
    Some(Count { passed: passed.parse().ok()?, failed: failed.parse().ok()? })
}

/// Runs a command with its output shown as it comes, and gives back whether it went well and what it
/// printed.
fn streamed(command: &mut Command) -> (bool, String) {
    let shown: Vec<String> = std::iter::once(command.get_program())
        .chain(command.get_args())
        .map(|word| word.to_string_lossy().into_owned())
        .collect();
    let part = PART.get();
    println!("{part} | $ {}", shown.join(" "));
    let mut child = match command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn() {
        Ok(child) => child,
        Err(e) => {
            eprintln!("{part} | {}: {e}", shown.first().map(String::as_str).unwrap_or_default());
            return (false, String::new());
        }
    };
    let complaints = child.stderr.take();
    let aside = std::thread::spawn(move || lines(complaints, |line| eprint!("{part} | {line}")));
    let mut said = String::new();
    lines(child.stdout.take(), |line| {
        print!("{part} | {line}");
        said.push_str(line);
    });
    let _ = aside.join();
    let good = match child.wait() {
        Ok(status) if status.success() => true,
        Ok(status) => {
            println!("{part} | That ended with {status}.");
            false
        }
        Err(e) => {
            println!("{part} | How that ended is not known: {e}");
            false
        }
    };
    (good, said)
}

/// Every line as it comes, with its end.
fn lines(from: Option<impl Read>, mut each: impl FnMut(&str)) {
    let Some(from) = from else { return };
    let mut reader = BufReader::new(from);
    let mut line = Vec::new();
    while reader.read_until(b'\n', &mut line).is_ok_and(|n| 0 < n) {
        each(&String::from_utf8_lossy(&line));
        line.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_are_summed() {
        let said = "test result: ok. 12 passed; 0 failed; 0 ignored\nnoise\n\
                    test result: FAILED. 3 passed; 2 failed; 0 ignored\n";
        assert_eq!(counted(said), Count { passed: 15, failed: 2 });
        assert_eq!(counted(""), Count::default());
    }

    #[test]
    fn a_checkers_closing_line_is_read() {
        assert_eq!(closing("41 passed, 1 failed"), Some(Count { passed: 41, failed: 1 }));
        assert_eq!(closing("all is well"), None);
    }
}
