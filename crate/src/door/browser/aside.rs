//! Work that is done aside, in a worker that is thrown away after it (`www/aside.js`): locking takes 64 MB
//! and a second or more, and wasm memory never shrinks; a link of many weeks takes seconds.

use crate::link::work;
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};

#[wasm_bindgen]
extern "C" {
    /// Calls `done` with the answer, or with undefined if the worker failed. Gives what stops it: then `done` is
    /// never called.
    #[wasm_bindgen(catch)]
    fn run_aside(input: &str, done: &JsValue) -> Result<js_sys::Function, JsValue>;
}

/// What the worker does with what it is given, see [`work::work`].
#[wasm_bindgen]
pub fn work_aside(input: &str) -> String {
    super::fault::watch_aside();
    work::work(input)
}

/// What is being done aside.
pub struct Job(js_sys::Function);

impl Job {
    /// It is not wanted any more.
    pub fn stop(&self) {
        let _ = self.0.call0(&JsValue::NULL);
    }
}

/// Has [`work::work`] done aside. Where the browser has no worker for it, it is done here, the page waits, and there
/// is nothing to be stopped.
pub fn run(input: String, done: impl FnOnce(String) + 'static) -> Option<Job> {
    let again = input.clone();
    let mut done = Some(done);
    let answered = Closure::once_into_js(move |answer: JsValue| {
        if let Some(done) = done.take() {
            done(answer.as_string().unwrap_or_else(|| work::work(&again)));
        }
    });
    if let Ok(stop) = run_aside(&input, &answered) {
        return Some(Job(stop));
    }
    if let Some(window) = web_sys::window() {
        // Later, as a worker's answer would come: the caller still holds the page.
        let _ = window.set_timeout_with_callback(answered.unchecked_ref());
    }
    None
}
