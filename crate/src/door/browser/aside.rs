//! Work that is done aside, in a worker that is thrown away after it (`www/aside.js`): sealing takes 64 MB
//! and a second or more, and wasm memory never shrinks.

use crate::link::sealed;
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};

#[wasm_bindgen]
extern "C" {
    /// Calls `done` with the answer, or with undefined if the worker failed.
    #[wasm_bindgen(catch)]
    fn run_aside(input: &str, done: &JsValue) -> Result<(), JsValue>;
}

/// What the worker does with what it is given, see [`sealed::work`].
#[wasm_bindgen]
pub fn work_aside(input: &str) -> String {
    super::fault::watch_aside();
    sealed::work(input)
}

/// Has [`sealed::work`] done aside. Where the browser has no worker for it, it is done here, and the
/// page waits.
pub fn run(input: String, done: impl FnOnce(String) + 'static) {
    let again = input.clone();
    let mut done = Some(done);
    let answered = Closure::once_into_js(move |answer: JsValue| {
        if let Some(done) = done.take() {
            done(answer.as_string().unwrap_or_else(|| sealed::work(&again)));
        }
    });
    if run_aside(&input, &answered).is_err()
        && let Some(window) = web_sys::window()
    {
        // Later, as a worker's answer would come: the caller still holds the page.
        let _ = window.set_timeout_with_callback(answered.unchecked_ref());
    }
}
