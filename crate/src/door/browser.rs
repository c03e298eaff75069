//! The browser's door: starts the page, hears its events, puts slots in place.

use wasm_bindgen::prelude::wasm_bindgen;

/// Called once by the boot script.
#[wasm_bindgen]
pub fn open_desk() {
    std::panic::set_hook(Box::new(|fault| web_sys::console::error_1(&fault.to_string().into())));
}
