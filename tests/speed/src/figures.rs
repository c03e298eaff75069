//! Times the figures of the catalog, step by step: settling, drawing, words; and counts their bytes.

use layfigure::body::Body;
use layfigure::body::names::Side;
use layfigure::body::range::Limits;
use layfigure::catalog::{Catalog, Exercise};
use layfigure::figure::{Look, still, told};
use layfigure::pose::movement::Movement;
use layfigure::pose::settle;
use serde_json::{Value, json};

/// Runs of each step. The quickest counts: whatever else the machine does only adds.
const RUNS: usize = 5;

/// One object for each step, in the order in which they are done; times in milliseconds.
pub fn run(now: &dyn Fn() -> f64) -> Vec<(&'static str, Value)> {
    let (body, limits, look) = (Body::usual(), Limits::none(), Look::default());
    let drawn: Vec<&Exercise> =
        Catalog::embedded().exercises().iter().filter(|exercise| !exercise.poses.is_empty()).collect();
    let settled = |exercise: &Exercise| settle::exercise(&body, &exercise.poses, Side::Right, &limits);
    let mut steps: [Vec<(f64, &str)>; 4] = Default::default();
    for exercise in drawn {
        // The run before the timed ones pays for cold caches.
        let movement: Movement = settled(exercise);
        let figure = still(&body, &movement, &look);
        let words = timed(now, || told(&body, &movement, &look));
        // Drawing also words the picture's title.
        let draw = timed(now, || still(&body, &movement, &look)) - words;
        let measured = [timed(now, || settled(exercise)), draw, words, figure.svg.len() as f64];
        for (step, measured) in steps.iter_mut().zip(measured) {
            step.push((measured, &exercise.id));
        }
    }
    ["settle", "draw", "words", "bytes"].into_iter().zip(steps.map(spread)).collect()
}

fn timed<T>(now: &dyn Fn() -> f64, work: impl Fn() -> T) -> f64 {
    let run = || {
        let start = now();
        std::hint::black_box(work());
        now() - start
    };
    (0..RUNS).map(|_| run()).fold(f64::INFINITY, f64::min)
}

fn spread(mut all: Vec<(f64, &str)>) -> Value {
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let at = |i: usize| all.get(i).copied().unwrap_or((f64::NAN, ""));
    let most = at(all.len().saturating_sub(1));
    json!({"count": all.len(), "least": at(0).0, "median": at(all.len() / 2).0, "most": most.0, "which": most.1})
}
