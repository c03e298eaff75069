//! How a part's commands are run: their output is shown as it comes, steps are heard from it, checks are counted.

use crate::times::Steps;
use std::cell::{Cell, RefCell};
use std::io::{BufRead, BufReader, Read};
use std::process::{Command, Stdio};
use std::sync::Arc;

/// How many checks of a part went well and how many did not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    pub passed: usize,
    pub failed: usize,
}

impl Count {
    pub fn and(self, other: Count) -> Count {
        Count { passed: self.passed + other.passed, failed: self.failed + other.failed }
    }
}

thread_local! {
    /// The part that this thread runs, written before each line that it prints.
    pub static PART: Cell<&'static str> = const { Cell::new("") };
    /// The steps of that part.
    pub static STEPS: RefCell<Arc<Steps>> = RefCell::default();
}

/// For a part that is one check.
pub fn one(good: bool) -> Count {
    Count { passed: usize::from(good), failed: usize::from(!good) }
}

/// A cargo test run, counted by its `test result:` lines. A run that fails without saying so (it did not
/// compile, the browser did not come) counts as one failure.
pub fn tests(command: &mut Command) -> Count {
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
    results.fold(Count::default(), |sum, rest| {
        let of = |word| number(rest, word).unwrap_or(0);
        sum.and(Count { passed: of(" passed"), failed: of(" failed") })
    })
}

/// `N passed, N failed`, as the last line of an outside checker.
pub fn closing(line: &str) -> Option<Count> {
    let (passed, failed) = line.trim().strip_suffix(" failed")?.split_once(" passed, ")?;
    Some(Count { passed: passed.parse().ok()?, failed: failed.parse().ok()? })
}

/// Runs a command with its output shown as it comes, and gives back whether it went well and what it
/// printed.
pub fn streamed(command: &mut Command) -> (bool, String) {
    let (part, steps) = (PART.get(), STEPS.with(|kept| kept.borrow().clone()));
    let mut said = String::new();
    let good = heard(command, |line| {
        steps.hear(line);
        print!("{part} | {line}");
        said.push_str(line);
    });
    (good, said)
}

/// Runs a command, with its complaints shown as they come and each line that it prints given to `hear`; gives back
/// whether it went well.
pub fn heard(command: &mut Command, hear: impl FnMut(&str)) -> bool {
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
            return false;
        }
    };
    let complaints = child.stderr.take();
    let aside = std::thread::spawn(move || {
        lines(complaints, |line| {
            steps.hear(line);
            eprint!("{part} | {line}");
        });
    });
    lines(child.stdout.take(), hear);
    let _ = aside.join();
    match child.wait() {
        Ok(status) if status.success() => true,
        Ok(status) => {
            println!("{part} | That ended with {status}.");
            false
        }
        Err(e) => {
            println!("{part} | How that ended is not known: {e}");
            false
        }
    }
}

/// Every line as it comes, with its end.
pub fn lines(from: Option<impl Read>, mut each: impl FnMut(&str)) {
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
