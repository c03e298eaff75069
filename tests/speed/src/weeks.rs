//! Times the search for the best week on prescriptions that the outside checker poses as well.

use layfigure::catalog::Catalog;
use layfigure::measure::Date;
use layfigure::prescription;
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, assemble};
use layfigure::week::model::{Limit, Problem};
use layfigure::week::problem;
use layfigure::week::solve::solve;
use serde_json::Value;

/// Prescriptions of 12 and of 24 exercises: with time without end, with enough, and with little.
const WEEKS: [(&str, &str); 5] = [
    ("12 exercises, no minutes given", include_str!("../../outside/weeks/twelve-free.txt")),
    ("12 exercises, enough minutes", include_str!("../../outside/weeks/twelve-knee.txt")),
    ("12 exercises, too few minutes", include_str!("../../outside/weeks/twelve-mixed.txt")),
    ("24 exercises, no minutes given", include_str!("../../outside/weeks/twenty-four-free.txt")),
    ("24 exercises, tight minutes", include_str!("../../outside/weeks/twenty-four-class.txt")),
];

/// Solved so often for one measurement: a browser's clock counts in tenths of a millisecond.
const TIMES: u32 = 10;

/// The name of each, and its time; the name says so where the search was cut off.
pub fn run(now: &dyn Fn() -> f64) -> Vec<(String, Value)> {
    let mut times = Vec::new();
    for (name, text) in WEEKS {
        let posed = pose(text);
        let is_proved = solve(&posed, Limit::USUAL).is_ok_and(|week| week.proved);
        let told = if is_proved { "" } else { ", NOT PROVED" };
        let mut took: Vec<f64> = (0..10)
            .map(|_| {
                let start = now();
                for _ in 0..TIMES {
                    std::hint::black_box(solve(&posed, Limit::USUAL)).ok();
                }
                (now() - start) / f64::from(TIMES)
            })
            .collect();
        took.sort_by(f64::total_cmp);
        times.push((format!("best week of {name}{told}"), crate::spread(took)));
    }
    times
}

fn pose(text: &str) -> Problem {
    let ask = Ask::today(Date::new(2026, 11, 30));
    let (read, _) = prescription::read(text);
    problem(&assemble::at(&read, Catalog::embedded(), &ask, &mut Cache::default()))
}
