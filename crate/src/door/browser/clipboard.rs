//! The clipboard, which a browser may refuse.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::Closure;
use web_sys::Document;

/// Copies words; then does one of the two, later.
pub fn write(words: &str, well: impl FnOnce() + 'static, ill: impl FnOnce() + 'static) {
    let clipboard = web_sys::window().map(|w| w.navigator().clipboard());
    // Missing where the page is not served safely.
    let Some(clipboard) = clipboard.filter(|c| !c.is_undefined()) else { return ill() };
    let promise = clipboard.write_text(words);
    let well = Closure::once(move |_: JsValue| well());
    let ill = Closure::once(move |_: JsValue| ill());
    let _ = promise.then2(&well, &ill);
    // The browser calls one of them once, long after this.
    well.forget();
    ill.forget();
}

/// One sentence on what came of it, once the page may be at other work.
pub fn say(document: &Document, words: &str) {
    if let Some(said) = document.get_element_by_id("said") {
        said.set_text_content(Some(words));
    }
}
