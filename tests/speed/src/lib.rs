//! Times pieces of the crate's work. The clock is given, so the same code runs natively and in wasm.

use serde_json::{Value, json};

/// A prescription with as many exercises as a full sheet has.
pub const TWELVE: &str = include_str!("../twelve.txt");

/// Times every piece of work; `now` gives milliseconds. The answer is a JSON object of medians, in
/// milliseconds.
pub fn run(now: &dyn Fn() -> f64) -> String {
    let mut figures = serde_json::Map::new();
    let mut put = |name: &str, value: Value| {
        figures.insert(name.to_string(), value);
    };
    let noise = noise();
    put("read 1 MB of noise", median(now, 5, || layfigure::prescription::read(&noise)));
    let plain = TWELVE.repeat(1_000_000 / TWELVE.len());
    put("read 1 MB of prescription", median(now, 5, || layfigure::prescription::read(&plain)));
    put("read 12 exercises", median(now, 50, || layfigure::prescription::read(TWELVE)));
    Value::Object(figures).to_string()
}

/// The median time of `times` runs, and the slowest.
fn median<T>(now: &dyn Fn() -> f64, times: usize, mut work: impl FnMut() -> T) -> Value {
    let mut taken: Vec<f64> = (0..times)
        .map(|_| {
            let start = now();
            std::hint::black_box(work());
            now() - start
        })
        .collect();
    taken.sort_by(f64::total_cmp);
    json!({"median": taken[times / 2], "slowest": taken[times - 1]})
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
