//! The pages in real browsers: every check in every engine that can, one browser an engine, each engine beside
//! the others. A harness of our own, since a browser for each of a hundred checks would take most of an hour.
//!
//! `cargo test -p browser --test pages -- firefox privacy` runs the checks in whose line all the
//! words occur.

mod accessible;
mod desk;
mod forget;
mod home;
mod moving;
mod offline;
mod page;
mod paper;
mod patient;
mod print;
mod privacy;
mod robust;
mod shelf;
mod show;
mod tools;

use browser::driver::Browser;
use browser::engine::Engine;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;
use std::sync::Mutex;
use std::time::Instant;

/// One thing that must hold, shown in a browser that has no page open yet.
pub struct Check {
    name: &'static str,
    run: fn(&Browser),
    needs: Needs,
}

/// What a check needs that not every engine has.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    Nothing,
    /// Rules of the core alone, whose wasm gives the same everywhere: one engine shows that they reach the page.
    Once,
    /// A driver that prints to a PDF.
    Print,
    /// Chromium's own protocol, for what WebDriver has no command for.
    Devtools,
}

impl Needs {
    /// Why it is not shown in this engine, if it isn't.
    fn lacks(self, engine: Engine) -> Option<&'static str> {
        match self {
            Needs::Print if !engine.prints() => Some("its driver can't print"),
            Needs::Devtools if engine != Engine::Chromium => Some("its driver has no command for it"),
            Needs::Once if engine != Engine::Chromium => Some("rules of the core, shown in Chromium"),
            Needs::Nothing | Needs::Once | Needs::Print | Needs::Devtools => None,
        }
    }
}

/// The checks of a file by name, after what they need. One that is left out is unused, which the lint refuses.
#[macro_export]
macro_rules! checks {
    ($($needs:ident: $($name:ident)*;)*) => {
        pub const CHECKS: &[$crate::Check] =
            &[$($($crate::Check::new(concat!(module_path!(), "::", stringify!($name)), $name, $crate::Needs::$needs),)*)*];
    };
}

impl Check {
    pub const fn new(name: &'static str, run: fn(&Browser), needs: Needs) -> Check {
        Check { name, run, needs }
    }

    /// Its line without what went before.
    fn line(&self, engine: Engine) -> String {
        format!("{} {}", engine.name(), self.name.trim_start_matches("pages::"))
    }
}

const FILES: &[&[Check]] = &[
    desk::CHECKS,
    home::CHECKS,
    forget::CHECKS,
    offline::CHECKS,
    moving::CHECKS,
    accessible::CHECKS,
    print::CHECKS,
    paper::CHECKS,
    patient::CHECKS,
    privacy::CHECKS,
    robust::CHECKS,
    shelf::CHECKS,
    show::CHECKS,
    tools::CHECKS,
];

#[derive(Default)]
struct Told {
    passed: usize,
    cannot: usize,
    failed: Vec<String>,
}

fn main() -> ExitCode {
    // Flags are libtest's; words choose.
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let start = Instant::now();
    let told = Mutex::new(Told::default());
    std::panic::set_hook(Box::new(|fault| {
        let words = format!("{fault}");
        FAULT.with(|kept| kept.replace(words));
    }));
    std::thread::scope(|scope| {
        for engine in Engine::ALL {
            let (words, told) = (&words, &told);
            scope.spawn(move || run(engine, words, told));
        }
    });
    let told = told.into_inner().unwrap_or_else(|poisoned| poisoned.into_inner());
    if !told.failed.is_empty() {
        println!("\nfailures:\n\n{}", told.failed.join("\n\n"));
    }
    let good = told.failed.is_empty() && 0 < told.passed;
    println!(
        "\ntest result: {}. {} passed; {} failed; {} ignored; finished in {:.2}s\n",
        if good { "ok" } else { "FAILED" },
        told.passed,
        told.failed.len(),
        told.cannot,
        start.elapsed().as_secs_f64()
    );
    if good { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

thread_local! {
    /// What the last panic of this thread said.
    static FAULT: std::cell::RefCell<String> = const { std::cell::RefCell::new(String::new()) };
}

/// Every check that is chosen, in one engine, one after another in the same browser.
fn run(engine: Engine, words: &[String], told: &Mutex<Told>) {
    let chosen: Vec<&Check> = FILES
        .iter()
        .flat_map(|checks| checks.iter())
        .filter(|check| words.iter().all(|word| check.line(engine).contains(word.as_str())))
        .collect();
    let mut browser: Option<Browser> = None;
    let start = Instant::now();
    for check in chosen {
        let line = check.line(engine);
        if let Some(why) = check.needs.lacks(engine) {
            println!("test {line} ... ignored, {why}");
            told.lock().expect("no check holds it").cannot += 1;
            continue;
        }
        let begun = Instant::now();
        let outcome = match browser.take().map_or_else(|| Browser::start(engine), Ok) {
            Err(words) => Err(words),
            Ok(held) => match catch_unwind(AssertUnwindSafe(|| (check.run)(&held))) {
                Err(_) => Err(FAULT.with(|kept| kept.take())),
                Ok(()) => match held.forget() {
                    Ok(()) => {
                        browser = Some(held);
                        Ok(())
                    }
                    Err(words) => Err(format!("afterwards: {words}")),
                },
            },
        };
        let took = begun.elapsed().as_secs_f64();
        let mut told = told.lock().expect("no check holds it");
        match outcome {
            Ok(()) => {
                println!("test {line} ... ok ({took:.1} s)");
                told.passed += 1;
            }
            Err(words) => {
                println!("test {line} ... FAILED ({took:.1} s)");
                told.failed.push(format!("---- {line} ----\n{words}"));
            }
        }
    }
    // Heard by `scripts test`, which keeps the times.
    println!("took {:.1} s: {}", start.elapsed().as_secs_f64(), engine.name());
}
