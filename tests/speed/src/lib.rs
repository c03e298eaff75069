//! Times pieces of the crate's work. The clock is given, so the same code runs natively and in wasm.

mod figures;
mod weeks;

use layfigure::catalog::Catalog;
use layfigure::desk::choices::Choices;
use layfigure::desk::{Ask, Desk};
use layfigure::link::pack;
use layfigure::link::share::{Named, Wanted, share};
use layfigure::measure::Date;
use layfigure::prescription;
use layfigure::programme::settled::Cache;
use layfigure::week::model::Limit;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// A prescription with as many exercises as a full sheet has.
pub const TWELVE: &str = include_str!("../twelve.txt");

/// Times every piece of work; `now` gives milliseconds. The answer is a JSON object: `work` with medians in
/// milliseconds, `figures` with what [`figures::run`] gives.
pub fn run(now: &dyn Fn() -> f64) -> String {
    let mut work = serde_json::Map::new();
    let mut put = |name: &str, value: Value| {
        work.insert(name.to_string(), value);
    };
    let noise = noise();
    put("read 1 MB of noise", median(now, 5, || prescription::read(&noise)));
    let plain = TWELVE.repeat(1_000_000 / TWELVE.len());
    put("read 1 MB of prescription", median(now, 5, || prescription::read(&plain)));
    put("read 12 exercises", median(now, 50, || prescription::read(TWELVE)));

    let hidden = BTreeSet::new();
    let today = Date::new(2026, 12, 2);
    fn ask<'a>(text: &'a str, today: Option<Date>, hidden: &'a BTreeSet<String>) -> Ask<'a> {
        Ask { today, hidden, caret: Some(text.len()), ..Ask::of(text) }
    }
    put(
        "desk, 12 exercises, nothing settled yet",
        median(now, 3, || Desk::default().answer(&ask(TWELVE, today, &hidden))),
    );
    let mut desk = Desk::default();
    desk.answer(&ask(TWELVE, today, &hidden));
    let longer = TWELVE.replace("Lock the knee.", "Lock the knee first.");
    let mut turn = false;
    put(
        "desk, 12 exercises, one cue changed",
        median(now, 30, || {
            turn = !turn;
            desk.answer(&ask(if turn { &longer } else { TWELVE }, today, &hidden))
        }),
    );
    put("week, 12 exercises", median(now, 10, || desk.week(TWELVE)));
    for (name, time) in weeks::run(now) {
        put(&name, time);
    }
    let eight: String = {
        let mut exercises = 0;
        let lines = TWELVE.lines().filter(|line| {
            exercises += usize::from(line.contains(": ") && line.contains(" x "));
            exercises <= 8
        });
        lines.map(|line| format!("{line}\n")).collect()
    };
    desk.answer(&ask(&eight, today, &hidden));
    let choices = Choices::default();
    put(
        "handout, 8 exercises, settled before",
        median(now, 10, || desk.handout(&ask(&eight, today, &hidden), &choices)),
    );
    let packed = link(&eight, today);
    put("link of 8 exercises opened", median(now, 50, || pack::unpack(&packed, Catalog::embedded())));
    put("bytes of that link", json!({"median": packed.len(), "slowest": packed.len()}));
    let steps: serde_json::Map<String, Value> =
        figures::run(now).into_iter().map(|(step, value)| (step.to_string(), value)).collect();
    json!({"work": work, "figures": steps}).to_string()
}

/// The packed link of a prescription.
fn link(text: &str, today: Option<Date>) -> Vec<u8> {
    let wanted = Wanted { named: Named::Written, emergency: None, today, limit: Limit::USUAL };
    let catalog = Catalog::embedded();
    let (read, _) = prescription::read(text);
    let packed = share(&read, catalog, &wanted, &mut Cache::default()).and_then(|s| pack::pack(&s, catalog));
    packed.expect("an ordinary prescription has a link")
}

/// The median time of `times` runs, and the slowest.
fn median<T>(now: &dyn Fn() -> f64, times: usize, mut work: impl FnMut() -> T) -> Value {
    let taken: Vec<f64> = (0..times)
        .map(|_| {
            let start = now();
            std::hint::black_box(work());
            now() - start
        })
        .collect();
    spread(taken)
}

fn spread(mut taken: Vec<f64>) -> Value {
    taken.sort_by(f64::total_cmp);
    json!({"median": taken.get(taken.len() / 2), "slowest": taken.last()})
}

/// A megabyte of characters of every sort, the same each time.
fn noise() -> String {
    let letters: Vec<char> = "abc xyz:,#/-0123456789\n\t\u{a0}’“×äπ你א🙂<>&\u{202e}".chars().collect();
    let mut state = 1_u32;
    let mut text = String::new();
    while text.len() < 1_000_000 {
        // The constants are those of Numerical Recipes' quick generator.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        text.push(letters[(state >> 16) as usize % letters.len()]);
    }
    text
}

#[cfg(target_arch = "wasm32")]
mod page {
    use wasm_bindgen::prelude::wasm_bindgen;

    /// [`super::run`] by the browser's clock.
    #[wasm_bindgen]
    pub fn speed() -> String {
        let performance = js_sys::Reflect::get(&js_sys::global(), &"performance".into()).unwrap_or_default();
        let now: Option<js_sys::Function> =
            js_sys::Reflect::get(&performance, &"now".into()).ok().and_then(|f| f.try_into().ok());
        super::run(&|| {
            let time = now.as_ref().and_then(|now| now.call0(&performance).ok());
            time.and_then(|time| time.as_f64()).unwrap_or(f64::NAN)
        })
    }
}
