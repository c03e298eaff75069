//! Runs every part of the test suite, says what it runs, and how long each part took.
//! A part that can't run fails; none is ever skipped.
//!
//! Two lanes run beside each other: one waits for the page and then for browsers, the other computes. A lane that is
//! done takes the next part that waits. They build in folders of their own, so that neither waits for the other's
//! lock for long. What a part needs beside Rust is set up meanwhile (`scripts/test`), and waited for.

use crate::times::{self, Step, Steps, Took};
use crate::{cargo, page};
use std::cell::{Cell, RefCell};
use std::io::{BufRead, BufReader, Read};
use std::path::PathBuf;
use std::process::{Command, ExitCode, Stdio};
use std::sync::{Arc, Condvar, Mutex};
use std::time::{Duration, Instant, SystemTime};

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
    /// What it may take, seconds, from nothing on two cores beside the other lane.
    budget: u64,
    /// Whether it needs more than Rust: a browser, Python, Java.
    needs_more: bool,
    run: fn() -> Count,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Lane {
    /// One after another, since each needs what the one before has made.
    Page,
    /// By whoever has nothing else to do, in this order.
    Any,
}

#[rustfmt::skip]
const PARTS: &[Part] = &[
    Part { name: "format", says: "every Rust file is formatted", lane: Lane::Any, budget: 5, needs_more: false, run: format },
    Part { name: "native", says: "unit tests, laws, vectors, inputs nobody would type, floors, documentation", lane: Lane::Any, budget: 420, needs_more: false, run: native },
    Part { name: "lint", says: "clippy has no warning, native", lane: Lane::Any, budget: 90, needs_more: false, run: lint },
    Part { name: "lint-wasm", says: "clippy has no warning, wasm", lane: Lane::Any, budget: 40, needs_more: false, run: lint_wasm },
    Part { name: "outside", says: "checks against things outside the project (Python)", lane: Lane::Any, budget: 300, needs_more: true, run: outside },
    Part { name: "raster", says: "figures as dots, by two engines", lane: Lane::Any, budget: 120, needs_more: true, run: raster },
    Part { name: "tool", says: "the workspace tool's own tests", lane: Lane::Any, budget: 45, needs_more: false, run: tool },
    Part { name: "page", says: "the pages are built and gated", lane: Lane::Page, budget: 150, needs_more: false, run: build },
    Part { name: "browser", says: "the pages in Chromium, Firefox and WebKit", lane: Lane::Page, budget: 700, needs_more: true, run: browser_tests },
    Part { name: "wasm", says: "the same vectors in wasm, byte for byte, in Chromium", lane: Lane::Page, budget: 90, needs_more: true, run: wasm },
];

/// What the caller has to say: when it began, and whether it sets up more meanwhile and tells of it on our input.
#[derive(Default)]
struct Caller {
    began: Option<Duration>,
    sets_up: bool,
    took: Vec<Step>,
}

pub fn run(arguments: &[String]) -> ExitCode {
    let (caller, wanted) = match asked(arguments) {
        Ok(asked) => asked,
        Err(words) => {
            eprintln!("{words}");
            return ExitCode::from(2);
        }
    };
    let chosen: Vec<&Part> =
        PARTS.iter().filter(|part| wanted.is_empty() || wanted.contains(&part.name)).collect();
    let start = Instant::now();
    let done: Mutex<Vec<Took>> = Mutex::default();
    let set_up = SetUp::default();
    let own = chosen.iter().filter(|part| part.lane == Lane::Page);
    let any = Mutex::new(chosen.iter().filter(|part| part.lane == Lane::Any));
    let rest = || {
        while let Some(part) = any.lock().ok().and_then(|mut waiting| waiting.next()) {
            keep(&done, part.carried_out(&set_up));
        }
    };
    std::thread::scope(|scope| {
        scope.spawn(|| set_up.carried_out(&caller).into_iter().for_each(|took| keep(&done, took)));
        scope.spawn(|| {
            own.for_each(|part| keep(&done, part.carried_out(&set_up)));
            rest();
        });
        rest();
    });
    let mut done = done.into_inner().unwrap_or_default();
    // A part that came to no end is a failure too.
    for part in &chosen {
        if done.iter().all(|took| took.name != part.name) {
            done.push(part.took(one(false), Duration::ZERO, Vec::new()));
        }
    }
    let order = |name: &str| chosen.iter().position(|part| part.name == name).map_or(0, |at| at + 1);
    done.sort_by_key(|took| order(took.name));
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap_or_default();
    let whole = caller.began.and_then(|began| since.checked_sub(began)).unwrap_or(start.elapsed());
    let work = times::work();
    println!("\n{}", times::table(&done, whole, work));
    if wanted.is_empty()
        && let Err(words) = page::write("times.json", &format!("{:#}\n", times::json(&done, whole, work)))
    {
        eprintln!("{words}");
    }
    let (passed, failed) = done.iter().fold((0, 0), |sum, took| (sum.0 + took.passed, sum.1 + took.failed));
    println!("{passed} passed, {failed} failed");
    if failed == 0 && 0 < passed { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn keep(done: &Mutex<Vec<Took>>, took: Took) {
    if let Ok(mut done) = done.lock() {
        done.push(took);
    }
}

/// The parts that are wanted, and what the caller says of itself: `--began SECONDS` since 1970, `--took NAME=SECONDS`
/// of what it has set up, and `--sets-up` where it goes on doing so and tells of it on our input.
fn asked(arguments: &[String]) -> Result<(Caller, Vec<&'static str>), String> {
    let (mut caller, mut wanted) = (Caller::default(), Vec::new());
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        let mut value = || words.next().ok_or_else(|| format!("{word} needs a value."));
        let seconds = |text: &str| {
            let seconds = text.parse().ok().and_then(|s| Duration::try_from_secs_f64(s).ok());
            seconds.ok_or_else(|| format!("{word} needs a number of seconds, not {text}."))
        };
        match word.as_str() {
            "--sets-up" => caller.sets_up = true,
            "--began" => caller.began = Some(seconds(value()?)?),
            "--took" => {
                let (name, time) = value()?.split_once('=').ok_or("--took needs NAME=SECONDS.")?;
                caller.took.push(Step { name: name.to_string(), time: seconds(time)? });
            }
            name => match PARTS.iter().find(|part| part.name == name) {
                Some(part) => wanted.push(part.name),
                None => {
                    let names: Vec<&str> = PARTS.iter().map(|part| part.name).collect();
                    return Err(format!("There is no part {name}; the parts are {}.", names.join(", ")));
                }
            },
        }
    }
    Ok((caller, wanted))
}

/// What is set up beside us, and whether it is there.
#[derive(Default)]
struct SetUp {
    good: Mutex<Option<bool>>,
    changed: Condvar,
}

impl SetUp {
    /// Reads what the caller tells of it: `took 12.3 s: NAME` of each step, and `ready` at the end. An end without it is
    /// a failure.
    fn carried_out(&self, caller: &Caller) -> Option<Took> {
        let begun = Instant::now();
        let steps = Steps::default();
        let mut good = !caller.sets_up;
        if caller.sets_up {
            lines(Some(std::io::stdin()), |line| {
                print!("set-up | {line}");
                steps.hear(line);
                good = good || line.trim() == "ready";
            });
        }
        if let Ok(mut kept) = self.good.lock() {
            *kept = Some(good);
        }
        self.changed.notify_all();
        let all: Vec<Step> = caller.took.iter().cloned().chain(steps.all()).collect();
        let time = caller.took.iter().map(|step| step.time).sum::<Duration>() + begun.elapsed();
        println!(
            "=== set-up: {}, {:.1} s",
            if good { "all is there" } else { "it failed" },
            time.as_secs_f64()
        );
        let count = Count { passed: 0, failed: usize::from(!good) };
        caller.sets_up.then(|| Took { name: "set-up", budget: SET_UP, ..took(count, time, all) })
    }

    /// Waits for its end, and says whether it went well.
    fn is_there(&self) -> bool {
        let Ok(kept) = self.good.lock() else { return false };
        let ended = self.changed.wait_while(kept, |good| good.is_none());
        ended.is_ok_and(|good| *good == Some(true))
    }
}

/// What setting up may take, seconds, from nothing.
const SET_UP: u64 = 200;

fn took(count: Count, time: Duration, steps: Vec<Step>) -> Took {
    Took { name: "", budget: 0, passed: count.passed, failed: count.failed, time, steps }
}

thread_local! {
    /// The part that this thread runs, written before each line that it prints.
    static PART: Cell<&'static str> = const { Cell::new("") };
    /// The steps of that part.
    static STEPS: RefCell<Arc<Steps>> = RefCell::default();
}

impl Part {
    fn took(&self, count: Count, time: Duration, steps: Vec<Step>) -> Took {
        Took { name: self.name, budget: self.budget, ..took(count, time, steps) }
    }

    fn carried_out(&self, set_up: &SetUp) -> Took {
        PART.set(self.name);
        let steps = STEPS.with(|kept| {
            kept.replace(Arc::default());
            kept.borrow().clone()
        });
        println!("=== {}: {}", self.name, self.says);
        let there = !self.needs_more || set_up.is_there();
        let begun = Instant::now();
        let count = if there {
            (self.run)()
        } else {
            println!("{} | What it needs is not there: setting up failed.", self.name);
            one(false)
        };
        let time = begun.elapsed();
        let (passed, failed) = (count.passed, count.failed);
        println!("=== {}: {passed} passed, {failed} failed, {:.1} s", self.name, time.as_secs_f64());
        self.took(count, time, steps.all())
    }
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
    tests(cargo::cargo().args(["test", "--locked", "-p", "browser", "--test", "pages"]))
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
        let name = program.file_stem().unwrap_or_default().to_string_lossy();
        println!("--- {name}");
        STEPS.with(|steps| steps.borrow().begin(&name));
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
    let (part, steps) = (PART.get(), STEPS.with(|kept| kept.borrow().clone()));
    println!("{part} | $ {}", shown.join(" "));
    let mut child = match command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn() {
        Ok(child) => child,
        Err(e) => {
            eprintln!("{part} | {}: {e}", shown.first().map(String::as_str).unwrap_or_default());
            return (false, String::new());
        }
    };
    let complaints = child.stderr.take();
    let heard = Arc::clone(&steps);
    let aside = std::thread::spawn(move || {
        lines(complaints, |line| {
            heard.hear(line);
            eprint!("{part} | {line}");
        });
    });
    let mut said = String::new();
    lines(child.stdout.take(), |line| {
        steps.hear(line);
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
