//! Runs every part of the test suite, says what it runs, and how long each part took.
//! A part that can't run fails; none is ever skipped.
//!
//! Two lanes run beside each other: one waits for the page and then for browsers, the other computes. A lane that is
//! done takes the next part that waits. They build in folders of their own, so that neither waits for the other's
//! lock for long. What a part needs beside Rust is set up meanwhile (`scripts/test`), and waited for.

use crate::commands::{Count, PART, STEPS, closing, heard, lines, one, streamed, tests};
use crate::programs::{self, Program};
use crate::times::{self, Step, Steps, Took};
use crate::{cargo, page};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::sync::{Arc, Condvar, Mutex, OnceLock};
use std::time::{Duration, Instant, SystemTime};

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

/// The longest of those that any lane may do come first, so that neither ends long after the other.
#[rustfmt::skip]
const PARTS: &[Part] = &[
    Part { name: "format", says: "every Rust file is formatted", lane: Lane::Any, budget: 5, needs_more: false, run: format },
    Part { name: "native", says: "unit tests, laws, vectors, inputs nobody would type, floors, documentation", lane: Lane::Any, budget: 360, needs_more: false, run: native },
    Part { name: "outside", says: "checks against things outside the project (Python)", lane: Lane::Any, budget: 300, needs_more: true, run: outside },
    Part { name: "wasm", says: "the same vectors in wasm, byte for byte, in Chromium", lane: Lane::Any, budget: 150, needs_more: true, run: wasm },
    Part { name: "lint", says: "clippy has no warning, native", lane: Lane::Any, budget: 100, needs_more: false, run: lint },
    Part { name: "raster", says: "figures as dots, by two engines", lane: Lane::Any, budget: 120, needs_more: true, run: raster },
    Part { name: "lint-wasm", says: "clippy has no warning, wasm", lane: Lane::Any, budget: 40, needs_more: false, run: lint_wasm },
    Part { name: "tool", says: "the workspace tool's own tests", lane: Lane::Any, budget: 45, needs_more: false, run: tool },
    Part { name: "page", says: "the pages are built and gated", lane: Lane::Page, budget: 200, needs_more: false, run: build },
    Part { name: "browser", says: "the pages in Chromium, Firefox and WebKit", lane: Lane::Page, budget: 600, needs_more: true, run: browser_tests },
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
        if caller.sets_up {
            let said = if good { "all is there" } else { "it failed" };
            println!("=== set-up: {said}, {:.1} s", time.as_secs_f64());
        }
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

/// The native test programs, compiled by whoever needs one first; whoever comes meanwhile waits. `None` if they don't
/// compile.
fn programs() -> Option<&'static [Program]> {
    static PROGRAMS: OnceLock<Option<Vec<Program>>> = OnceLock::new();
    let found = PROGRAMS.get_or_init(|| {
        let steps = STEPS.with(|steps| steps.borrow().clone());
        steps.begin("compiling");
        let root = browser::root();
        let mut found: Vec<Program> = Vec::new();
        // What was compiled is told to us, not to who reads along.
        let good = heard(&mut programs::compile(), |line| match programs::told(line, &root) {
            Some(program) => found.push(program),
            None if line.starts_with('{') => {}
            None => print!("{} | {line}", PART.get()),
        });
        steps.end();
        found.sort_by(|a, b| (&a.folder, &a.name).cmp(&(&b.folder, &b.name)));
        good.then_some(found)
    });
    found.as_deref()
}

/// Runs those test programs that are wanted. None is a failure: something was to be tested.
fn run_programs(wanted: impl Fn(&Program) -> bool) -> Count {
    let chosen: Vec<&Program> = programs().into_iter().flatten().filter(|program| wanted(program)).collect();
    let mut all = Count::default();
    for program in &chosen {
        STEPS.with(|steps| steps.borrow().begin(&program.name));
        all = all.and(tests(&mut program.command()));
    }
    if chosen.is_empty() { one(false) } else { all }
}

fn native() -> Count {
    let own = run_programs(|program| program.folder != Path::new("tests/raster") && program.name != PAGES);
    own.and(tests(&mut programs::documentation()))
}

fn raster() -> Count {
    run_programs(|program| program.folder == Path::new("tests/raster"))
}

/// The test program that needs the pages.
const PAGES: &str = "pages";

fn tool() -> Count {
    tests(cargo::cargo().args(["test", "--locked", "--profile", "tool", "-p", "scripts"]))
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
    let listing = run_programs(|program| program.name == "vectors");
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
    run_programs(|program| program.name == PAGES)
}

/// Every Python program in `tests/outside`. One whose last line is `N passed, N failed` is counted so;
/// otherwise it is one check. It fails if its exit code says so, whatever it prints.
fn outside() -> Count {
    let folder = browser::root().join("tests/outside");
    let mut checkers: Vec<PathBuf> = std::fs::read_dir(&folder)
        .map(|entries| entries.flatten().map(|entry| entry.path()).collect())
        .unwrap_or_default();
    checkers.retain(|path| path.extension().is_some_and(|end| end == "py"));
    checkers.sort();
    let python = browser::root().join(".venv/bin/python");
    // The crate's own program as it was compiled with its tests: compiling an optimised one takes longer than it saves.
    if programs().is_none() {
        return one(false);
    }
    let mut all = Count::default();
    for checker in &checkers {
        let name = checker.file_stem().unwrap_or_default().to_string_lossy();
        println!("--- {name}");
        STEPS.with(|steps| steps.borrow().begin(&name));
        let (good, said) = streamed(
            Command::new(&python)
                .arg(checker)
                .current_dir(browser::root())
                .env("LAYFIGURE", browser::root().join("target/debug/layfigure")),
        );
        let stated = said.lines().rev().find(|line| !line.trim().is_empty()).and_then(closing);
        let count = match stated {
            Some(count) if good || 0 < count.failed => count,
            Some(count) => Count { failed: 1, ..count },
            None => one(good),
        };
        all = all.and(count);
    }
    if checkers.is_empty() {
        eprintln!("There is no checker in tests/outside.");
        return one(false);
    }
    all
}
