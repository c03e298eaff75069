//! How long each part of the suite took, and each step of it, beside what it may take: printed, and kept in
//! `out/times.json`. Speed is never a test: what is over its budget is said, and nothing fails by it.

use serde_json::{Value, json};
use std::fmt::Write as _;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// The whole, from nothing on two cores that have nothing else to do, seconds: common practice, no source. One waits so
/// long for an answer without beginning something else.
pub const BUDGET: u64 = 20 * 60;

/// A piece of a part that has a name: a test program, a checker, an engine, something set up.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub name: String,
    pub time: Duration,
}

/// The steps of the part at hand. Its two streams are read by a thread each.
#[derive(Default)]
pub struct Steps(Mutex<Kept>);

#[derive(Default)]
struct Kept {
    done: Vec<Step>,
    open: Option<(String, Instant)>,
}

impl Steps {
    /// What follows belongs to this step, until the next begins.
    pub fn begin(&self, name: &str) {
        if let Ok(mut kept) = self.0.lock() {
            kept.close();
            kept.open = Some((name.to_string(), Instant::now()));
        }
    }

    /// The step at hand is over.
    pub fn end(&self) {
        if let Ok(mut kept) = self.0.lock() {
            kept.close();
        }
    }

    /// Takes from a line of output what it says of steps: cargo's own words before a test program runs, and
    /// `took 12.3 s: NAME` of a program that has steps of its own.
    pub fn hear(&self, line: &str) {
        if let Some(name) = program(line) {
            self.begin(&name);
        } else if let (Some(step), Ok(mut kept)) = (told(line), self.0.lock()) {
            kept.done.push(step);
        }
    }

    pub fn all(&self) -> Vec<Step> {
        self.end();
        self.0.lock().map(|kept| kept.done.clone()).unwrap_or_default()
    }
}

impl Kept {
    fn close(&mut self) {
        if let Some((name, begun)) = self.open.take() {
            self.done.push(Step { name, time: begun.elapsed() });
        }
    }
}

/// `Running unittests src/lib.rs (target/debug/deps/NAME-0123456789abcdef)` or `Doc-tests NAME`.
fn program(line: &str) -> Option<String> {
    let line = line.trim();
    if let Some(name) = line.strip_prefix("Doc-tests ") {
        return Some(format!("documentation of {name}"));
    }
    let path = line.strip_prefix("Running ")?.rsplit_once('(')?.1.strip_suffix(')')?;
    let file = path.rsplit(['/', '\\']).next()?;
    let file = file.trim_end_matches(".wasm").trim_end_matches(".exe");
    Some(file.rsplit_once('-').map_or(file, |(name, _)| name).to_string())
}

/// `took 12.3 s: NAME`.
pub fn told(line: &str) -> Option<Step> {
    let (seconds, name) = line.trim().strip_prefix("took ")?.split_once(" s: ")?;
    let time = Duration::try_from_secs_f64(seconds.parse().ok()?).ok()?;
    Some(Step { name: name.to_string(), time })
}

/// A part that was carried out.
pub struct Took {
    pub name: &'static str,
    /// Seconds on two cores that have nothing else to do but the suite.
    pub budget: u64,
    pub passed: usize,
    pub failed: usize,
    pub time: Duration,
    pub steps: Vec<Step>,
}

/// The table of all parts with their steps, and what is to be said of budgets below it.
pub fn table(parts: &[Took], whole: Duration, work: Option<Duration>) -> String {
    let mut out = String::from("part                            passed  failed   seconds   budget\n");
    for part in parts {
        let _ = writeln!(out, "{}", row(part.name, Some((part.passed, part.failed)), part.time, part.budget));
        for step in part.steps.iter().filter(|step| Duration::from_millis(500) <= step.time) {
            let _ = writeln!(out, "{}", row(&format!("  {}", step.name), None, step.time, 0));
        }
    }
    let sum = |count: fn(&Took) -> usize| parts.iter().map(count).sum();
    let _ = writeln!(out, "{}", row("all", Some((sum(|p| p.passed), sum(|p| p.failed))), whole, BUDGET));
    if let Some(work) = work {
        let share = work.as_secs_f64() / whole.as_secs_f64().max(0.1);
        let _ = writeln!(out, "\n{:.0} s of work, {share:.1} cores at a time", work.as_secs_f64());
    }
    let over = parts.iter().map(|p| (p.name, p.time, p.budget)).chain([("all", whole, BUDGET)]);
    for (name, time, budget) in over.filter(|(_, time, budget)| *budget < time.as_secs()) {
        let _ = writeln!(out, "{name} took {:.0} s: over its budget of {budget} s", time.as_secs_f64());
    }
    out
}

fn row(name: &str, counts: Option<(usize, usize)>, time: Duration, budget: u64) -> String {
    let number = |n: Option<usize>| n.map(|n| n.to_string()).unwrap_or_default();
    let budget = if budget == 0 { String::new() } else { budget.to_string() };
    let (passed, failed) = (number(counts.map(|c| c.0)), number(counts.map(|c| c.1)));
    let line = format!("{name:<30} {passed:>7} {failed:>7} {:>9.1} {budget:>8}", time.as_secs_f64());
    line.trim_end().to_string()
}

/// The same as data.
pub fn json(parts: &[Took], whole: Duration, work: Option<Duration>) -> Value {
    let seconds = |time: Duration| (time.as_secs_f64() * 10.0).round() / 10.0;
    let step = |step: &Step| json!({"name": step.name, "seconds": seconds(step.time)});
    let part = |part: &Took| {
        json!({"name": part.name, "seconds": seconds(part.time), "budget": part.budget, "passed": part.passed,
            "failed": part.failed, "steps": part.steps.iter().map(step).collect::<Vec<_>>()})
    };
    json!({"seconds": seconds(whole), "budget": BUDGET, "work": work.map(seconds),
        "cores": std::thread::available_parallelism().map_or(1, usize::from),
        "parts": parts.iter().map(part).collect::<Vec<_>>()})
}

/// How long processors have worked for everything that this process started and waited for; known on Linux alone
/// (`proc(5)`: times are in hundredths of a second).
pub fn work() -> Option<Duration> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // Behind the name in brackets, which may hold anything, the 14th and 15th words are the children's.
    let words: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks = |at: usize| words.get(at).and_then(|word| word.parse::<u64>().ok());
    Some(Duration::from_millis(10 * (ticks(13)? + ticks(14)?)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds(n: u64) -> Duration {
        Duration::from_secs(n)
    }

    #[test]
    fn steps_are_heard_from_what_programs_print() {
        let steps = Steps::default();
        for line in [
            "   Compiling layfigure v0.1.0 (/src/crate)\n",
            "     Running unittests src/lib.rs (target/debug/deps/layfigure-9fbb3a45f9bda200)\n",
            "test result: ok. 12 passed\n",
            "     Running tests/all/main.rs (target/wasm32-unknown-unknown/web/deps/all-21d25986a00d28b3.wasm)\n",
            "   Doc-tests layfigure\n",
            "took 12.5 s: firefox\n",
            "it took 3 s: long\n",
        ] {
            steps.hear(line);
        }
        let all = steps.all();
        let names: Vec<&str> = all.iter().map(|step| step.name.as_str()).collect();
        assert_eq!(names, ["layfigure", "all", "firefox", "documentation of layfigure"]);
        assert_eq!(all[2].time, Duration::from_millis(12_500));
    }

    #[test]
    fn what_is_over_its_budget_is_said_and_what_is_not_is_not() {
        let part = |name, time, budget| Took {
            name,
            budget,
            passed: 3,
            failed: 0,
            time: seconds(time),
            steps: vec![Step { name: "firefox".into(), time: seconds(7) }],
        };
        let parts = [part("browser", 301, 300), part("native", 300, 300)];
        let said = table(&parts, seconds(BUDGET), None);
        assert!(said.contains("browser took 301 s: over its budget of 300 s"), "{said}");
        assert!(!said.contains("native took") && !said.contains("all took"), "{said}");
        assert!(said.contains("  firefox"), "{said}");
        assert!(
            table(&parts, seconds(BUDGET + 1), None).contains("all took 1201 s: over its budget of 1200 s")
        );
        let kept = json(&parts, seconds(1201), Some(seconds(2000)));
        assert_eq!(kept["parts"][0]["steps"][0]["seconds"], 7.0);
        assert_eq!((kept["budget"].as_u64(), kept["work"].as_f64()), (Some(1200), Some(2000.0)));
    }
}
